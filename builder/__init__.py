"""The build step: it finds or makes what the project needs, builds ``dist/``, serves it and checks it.

Starts on the bare standard library; everything else is imported only inside
the environment that ``environment`` makes.
"""
