"""Every tolerance of the survey, in millimetres unless said, each with its reason."""

# Sampled curves stay this near to the true one. A board that meets a wall at
# a few degrees multiplies the error by ten along its edge; that must stay well
# below the 0.05 mm to which a piece is held.
CHORD_ERROR = 0.002

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

# Roughness of a wall between readings never counts as less than this (mm²/mm³).
# A wall read exactly every 500 mm may then stand 1.3 mm off half-way at two
# standard deviations, every metre 3.6 mm. Chosen on invented rooms with bows, bumps and
# waves so that the band holds the true wall in more than 93 of 100 places; no source.
LEAST_ROUGHNESS = 3e-7

# Stations are given to a person in steps of this, mm: a pencil mark finds no finer.
STATION_STEP = 10.0

# A check or a new reading farther off than this many standard deviations is asked about (α = 0.001).
ASKED_ABOUT = 3.2905

# A point of a fixed thing that stands at a wall may come out this far behind it, mm: so far a tape slips.
BEHIND_WALL = 10.0

# A corner nearer to square than this was meant to be square, degrees.
ABOUT_SQUARE = 20.0
