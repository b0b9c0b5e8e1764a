"""Every tolerance of the plane geometry, in millimetres, each with its reason."""

# Overlay works on this grid. It must be far above the noise of a coordinate
# (about 1e-12 mm in a room of 10 m), else boards that only share an edge may
# come back whole (libgeos/geos#1344), and far below what a saw can do even
# where a wall runs almost along a board: there an error grows by 1/angle.
GRID = 1e-6

# A corner nearer to the line through its neighbours than this says nothing:
# noding leaves such corners, half a grid step off. Well below the chord error
# of any sampled curve, so a curve keeps its points.
COLLINEAR = 1e-5

# A leftover thinner than this is where two shapes touch, not a piece of floor.
THINNEST = 1e-3

# Points whose x differ by less than this count as one column when the first
# point of a ring is chosen: else noise in the last digit would choose.
COLUMN = 1e-3

# Arcs are sampled so that the chord stays this near to the true circle.
ARC = 0.002

# In the browser a board is cut with the part of the region this near to its
# bounding box, which saves a third of the time and changes no digit.
# Not a round number: a corner of a room, which often is one, then never lies
# on the edge of that box, where clipping to a box is at its weakest.
LOCAL_MARGIN = 1.7320508

# A point of a piece this near to its board's edge lies on it: well above the rounding of the
# overlay grid, seen through the turn into the board's frame, and well below what can be sawn.
ON_EDGE = 0.002
