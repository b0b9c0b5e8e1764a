"""Out of True's engine: a floor job in, its plan and cuts out.

Plain Python that runs alike on a phone (in the browser) and on a desk. It
touches no browser, disk, clock or chance; `engine.entry` is the only door.
Lengths are millimetres and angles degrees counter-clockwise unless a name
says otherwise; the room has x to the right and y up.
"""
