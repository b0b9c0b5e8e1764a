"""Every tolerance of the survey, in millimetres unless said, each with its reason."""

# Sampled curves stay this near to the true one. The saw follows half a
# millimetre; a hundredth is out of sight and keeps a wall near 50 points.
CHORD_ERROR = 0.01

# A wall is not an arc beyond this share of its chord: near a half circle the
# offset square to the chord no longer tells one point from its neighbour.
MOST_SAGITTA = 0.45

# A wall shorter than this is two readings of one corner, not a wall.
LEAST_WALL = 5.0

# An offset beyond this share of the wall is a slip: such a wall has a corner more.
MOST_OFFSET_SHARE = 0.5

# Two readings nearer to each other than this were taken at one station.
SAME_STATION = 1.0

# Nobody lays one floor over half a kilometre: such a figure has the wrong unit.
MOST_PLACE = 500_000.0

# A gap beyond this is worth a question (no skirting covers it), beyond the second it is a slip.
WIDE_GAP = 60.0
MOST_GAP = 1000.0
