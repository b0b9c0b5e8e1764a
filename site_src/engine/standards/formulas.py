"""How each figure on a screen is computed, in words and signs, and where that comes from."""

from msgspec import Struct


class Formula(Struct, frozen=True, kw_only=True):
    """How a figure is computed and where that comes from."""

    words: str
    expression: str
    source: str


_PLANE = "Plane geometry"
_PRACTICE = "Common practice, no source"
_WALK = "Integrated random walk as prior for a wall; its roughness q from the whole room's readings"
_OWN = "Out of True, from the pieces as cut"
_LAID = "Least squares, surveying handbooks; Student's factor where readings scatter more than stated"

FORMULAS: dict[str, Formula] = {
    "room area": Formula(
        words="Area inside the walls, their bows included; fixed things are not taken off.",
        expression="A = ½ · Σ (xᵢ · yᵢ₊₁ − xᵢ₊₁ · yᵢ)",
        source="Shoelace formula (Gauss), surveying handbooks",
    ),
    "lay area": Formula(
        words="Area of every point of the room that is at least the gap away from each wall and fixed thing.",
        expression="A = area of {p : distance(p, wallᵢ) ≥ gapᵢ for every i}",
        source=_PLANE,
    ),
    "wall length": Formula(
        words="Straight length between the two corners of the wall.",
        expression="c = √(Δx² + Δy²)",
        source=_PLANE,
    ),
    "wall bow": Formula(
        words="Greatest distance of the wall from the straight line between its corners, + into the room.",
        expression="s = greatest offset of the wall's curve",
        source="Curve through the readings: not-a-knot cubic spline (de Boor), straight lines, or an arc",
    ),
    "corner angle": Formula(
        words="Inside angle between the straight lines to the two neighbouring corners.",
        expression="α = 180° − (direction after − direction before)",
        source=_PLANE,
    ),
    "out of square": Formula(
        words="How far the corner that misses square most is off at the end of its shorter wall. "
        "Only corners within 20° of square count.",
        expression="d = c · sin |α − 90°|  (or 270°), c the straight length of the shorter wall",
        source=_PLANE,
    ),
    "read next": Formula(
        words="The station where the wall is known worst, and what one more reading takes off its band. "
        "An estimate: no computation sees a bump between two stations; only a check reading does.",
        expression="band = |curve − likeliest wall| + 2 · sd;  half-way in a long row sd² = 0.01093 · q · h³",
        source=_WALK,
    ),
    "station spacing": Formula(
        words="Greatest distance between stations that keeps the band this narrow half-way between them.",
        expression="greatest h with 2 · sd(h) ≤ accuracy;  sd² = 0.01093 · q · h³ + what the gauge adds",
        source=_WALK,
    ),
    "length read": Formula(
        words="The length as it was read.",
        expression="mean of its readings, weighted by 1 / sd²",
        source="Least squares, surveying handbooks",
    ),
    "residual": Formula(
        words="What the adjusted corners make of this length, less what was read.",
        expression="v = adjusted − read;  w = v / (sd · √redundancy), doubted beyond 3.29",
        source="Least squares; outlier test after Baarda (α = 0.001)",
    ),
    "smallest blunder": Formula(
        words="A slip smaller than this would not show: the others do not hold this length firmly enough.",
        expression="4.13 · sd / √redundancy",
        source="Reliability after Baarda (α = 0.001, power 80 %)",
    ),
    "corner ellipse": Formula(
        words="The corner lies within this ellipse 95 times of 100, measured against the first two corners.",
        expression="half axes = 2.45 · √ eigenvalues of the corner's covariance",
        source="Least squares, surveying handbooks",
    ),
    "thing place": Formula(
        words="Where it stands in the room: as entered, or where its lengths from two corners meet.",
        expression="x = (a² − b² + B²) / 2B,  y = √(a² − x²), from the line between the two corners",
        source="Intersection of two distances, surveying handbooks",
    ),
    "edge length": Formula(
        words="Length of this long edge that stays on the piece, measured from the factory end that stays.",
        expression="length of the sawn outline along that edge",
        source=_OWN,
    ),
    "measured length": Formula(
        words="Length of this long edge as somebody measured it at the wall, the gap taken off. "
        "It goes before the length worked out from the survey.",
        expression="as measured",
        source="Measured at the wall",
    ),
    "edge begin": Formula(
        words="Where this long edge begins on the whole board, measured from its start end.",
        expression="least place along that edge of the sawn outline",
        source=_OWN,
    ),
    "saw angle": Formula(
        words="What the saw is turned from square. 0° is a square cut; + leaves the right long edge longer. "
        "Where the board's own ends lean, both lengths count from a square line.",
        expression="θ = atan((right − left) / width of the cut)",
        source=_PLANE,
    ),
    "stop": Formula(
        words="From the line of the blade to the stop, along the fence: the length of the edge that lies "
        "there, or where the cut meets it only past the board's end, as far as there. "
        "Pieces share a place of the stop as far as the gap band, less what the survey leaves open, allows.",
        expression="s = edge at the fence, up to the line of the cut",
        source="Plane geometry; fewest points that hit all intervals (greedy by their ends)",
    ),
    "end width": Formula(
        words="Width of the board that stays at this end.",
        expression="length of the sawn outline along that end",
        source=_OWN,
    ),
    "gap at the wall": Formula(
        words="Least and greatest distance from sawn edge to wall, measured every 10 mm along the cut.",
        expression="distance(point of the cut, wall), to be inside gap ± tolerance, never below 0",
        source="Straight cut inside a gap band: linear bounds on a line (O'Rourke 1981)",
    ),
    "hole": Formula(
        words="Hole for a round thing: its diameter and the gap on either side.",
        expression="D = d + 2 · gap",
        source=_PRACTICE,
    ),
    "long cut gap": Formula(
        words="Distance from the cut to the edge as it lies against the laid floor. The cut is the middle of "
        "the narrowest strip that holds the edge, moved off by the gap: no line keeps nearer to it. "
        "It is moved off further where it would cut into the edge.",
        expression="gap = distance(edge, cut);  worst departure = half the strip's width",
        source="Chebyshev line from the convex hull (Houle & Toussaint 1988, from memory)",
    ),
    "glue mark": Formula(
        words="Where the one cut through all joined boards meets an edge of one of them. The line keeps the "
        "gap inside its band for all of them and lies nearest to the gap that is wanted.",
        expression="v = a · u + b, inner band points on or above it, outer ones on or below",
        source="Line between two sets of points by their hulls (on-line: O'Rourke 1981, from memory)",
    ),
    "seam filler": Formula(
        words="Area of the seam seen from above, times its depth; nothing added for what is lost in filling.",
        expression="V = depth · ∫ gap ds;  1000 mm³ = 1 ml",
        source=_PLANE,
    ),
    "long cut length": Formula(
        words="Length of the cut where there is floor along the edge.",
        expression="c = √(Δx² + Δy²)",
        source=_PLANE,
    ),
    "long cut known": Formula(
        words="How well the edge is known against the laid floor at the worse end of the cut (95 %). A mark "
        "is taken as good to ½ mm for the rule, ½ mm for the joint and the wall's own readings.",
        expression="± 2 · sd · √(1/n + (s − s̄)² / Σ(sᵢ − s̄)²)",
        source="Straight line by least squares; ½ mm: common practice, no source",
    ),
    "mark to cut": Formula(
        words="Square from the mark to the cut. With two marks, straight edge: as measured, less the gap.",
        expression="d = distance(mark, cut)",
        source=_PLANE,
    ),
    "mark residual": Formula(
        words="Where the fit of all marks has the edge, less where this mark has it. + is nearer the floor.",
        expression="v = fitted − measured;  w = v / (sd · √redundancy), doubted beyond 3.29",
        source="Least squares; outlier test after Baarda (α = 0.001)",
    ),
    "guide offset": Formula(
        words="Square from the mark to the guide's edge. On the waste's side the blade itself comes to it.",
        expression="cut − offset  on the floor's side,  cut + offset + kerf  on the waste's",
        source=_PRACTICE,
    ),
    "rough length": Formula(
        words="What to lay of the board: from the end that stays to its last point, and the allowance.",
        expression="length on the floor's side of the cut + allowance, at most the whole board",
        source=_OWN,
    ),
    "pace": Formula(
        words="Pieces an hour, 8 times out of 10, from the times between marks. The first mark, and each "
        "after a break, has no time of its own; pieces marked together share theirs.",
        expression="rate = q(a · n) / (a · T), q the 10 % and 90 % points of a gamma law;  a = 1/CV²",
        source="Garwood 1936, Epstein & Sobel 1953 (a = 1); points after Wilson & Hilferty 1931; from memory",
    ),
    "time left": Formula(
        words="Hours for what is left, 8 times out of 10: the spread of the work to come and of the pace. "
        "A kind with fewer than three times is taken as the mean of all, give or take half.",
        expression="mean = Σ m · T / n;  variance = Σ mean² · (1 / (a · m) + 1 / (a · n))",
        source="Sum of gamma distributed times, by their mean and variance; tried on seeded work days",
    ),
    "boards": Formula(
        words="Boards to be taken. A piece comes from a new board or from an offcut of its own hand that has "
        "the edges it keeps; kerf and trim stay between two pieces. What is glued up or laid long takes its "
        "longer blank.",
        expression="as many pairs of a start and a far piece as fit by their true shapes; "
        "the others by size, each into the board that it fills best; in doubt, first the boards that a "
        "linear programme takes most of; if asked, some boards filled anew",
        source="Hopcroft & Karp 1973; best fit decreasing; Gilmore & Gomory 1961; large neighbourhoods: "
        "Shaw 1998 (from memory)",
    ),
    "proven least": Formula(
        words="Fewer boards than this cannot give these pieces, however they are sawn. Each time a piece was "
        "spoiled takes one more.",
        expression="greatest of: pieces with one point of an end, less the most pairs; bin packing bound L2 "
        "on lines along the board; Σ prices of all pieces / greatest Σ prices of pieces that might share one "
        "board; where boards were looked for, the integer programme over all sets that might share one",
        source="Hopcroft & Karp 1973; Martello & Toth 1990; Farley 1990, prices as Gilmore & Gomory 1961 "
        "(from memory); solved by HiGHS, Huangfu & Hall 2018",
    ),
    "waste": Formula(
        words="Part of the boards' area that no piece takes: saw dust, trimmings and the offcuts left.",
        expression="1 − Σ area of the pieces / (boards · length · width)",
        source=_OWN,
    ),
    "pieces": Formula(
        words="Pieces of the floor that need a cut.",
        expression="number of pieces whose kind is not whole",
        source=_OWN,
    ),
    "edge long point": Formula(
        words="The smallest piece along this wall by the longer of its two lengths of long edge. A piece "
        "lies along a wall when it comes within 0.01 mm of the wall's gap line.",
        expression="min over pieces of max(left, right)",
        source=_OWN,
    ),
    "edge short side": Formula(
        words="The smallest piece along this wall by the shorter of its two lengths of long edge: "
        "0 for a triangle, which has lost one of them.",
        expression="min over pieces of min(left, right)",
        source=_OWN,
    ),
    "edge area": Formula(
        words="The smallest piece along this wall by its area.",
        expression="min over pieces of A",
        source="Shoelace formula (Gauss), surveying handbooks",
    ),
    "place worth": Formula(
        words="The smallest piece along the walls that matter, over the weight of its wall.",
        expression="min over walls and pieces of size / weight",
        source=_OWN,
    ),
    "place bound": Formula(
        words="No place of the pattern can beat this: in every range of places some piece lies along a wall "
        "whatever the place, and none of those can be larger.",
        expression="max over ranges of min over pieces that are there of their largest size",
        source="Branch and bound (Land & Doig 1960, from memory) over both phases",
    ),
    "laid offset": Formula(
        words="How far the pattern lies off its plan here, and how sure that is: 95 times of 100. It counts "
        "the readings' own accuracy, and how well each wall and its corners are known: what is read to one "
        "stretch of wall shares that.",
        expression="q − p,  q = t + R(θ) · ((1 + eᵤ) u, (1 + eᵥ) v);  ± 1.96 · √(j Cov jᵀ)",
        source=_LAID,
    ),
    "laid end": Formula(
        words="How far the pattern will lie towards this wall, at the piece where that is most, if it goes "
        "on as it has.",
        expression="n · (q − p) at the piece;  ± 1.96 · √(j Cov jᵀ)",
        source=_LAID,
    ),
    "laid turn": Formula(
        words="How far the pattern is turned from its plan, + counter-clockwise.",
        expression="θ by least squares, in mm a metre; ± 1.96 · sd",
        source=_LAID,
    ),
    "laid row": Formula(
        words="What the pattern gains with each row, + longer than planned: open joints, or boards that are "
        "not as wide or long as entered. A change on the way is told when chance alone would show one like "
        "it in fewer than 1 floor of 100; this is then what it gains now.",
        expression="δ in yᵣ = y₀ + r (W + δ) by least squares;  ± 1.96 · sd;  F = (S₁ − S₂) / (S₂ / ν)",
        source="Regression; F-test of two pieces against one (any textbook, from memory)",
    ),
    "laid front row": Formula(
        words="How far the row of the board read last lies on from its plan.",
        expression="yᵣ − r W;  ± 1.96 · √(j Cov jᵀ)",
        source=_LAID,
    ),
    "laid last row": Formula(
        words="How far on the last row will lie if the pattern goes on as it does now. The band is that of a "
        "prediction: what will be read there lies in it 95 times of 100.",
        expression="yᵣ − r W at the last row;  ± 1.96 · √(j Cov jᵀ + sd²)",
        source="Regression, prediction band (any textbook, from memory)",
    ),
    "laid residual": Formula(
        words="What was read less what the fitted pattern has. A reading is doubted when it misses the "
        "others by more than 3.29 of its standard deviations.",
        expression="v = read − fitted;  w = |v| / (sd · √redundancy)",
        source="Least squares; outlier test after Baarda (α = 0.001)",
    ),
    "laid size": Formula(
        words="The smallest piece along this wall that is still to be fitted: the smaller of its least width "
        "and its long point.",
        expression="min over pieces of min(least width, long point)",
        source=_OWN,
    ),
    "open joints": Formula(
        words="What open joints take of the floor when the rest is cut as it lies; below 0 boards take more "
        "than their places.",
        expression="Σ (area of the place, drawn out as the pattern is − area of the piece)",
        source=_OWN,
    ),
    "slivers ahead": Formula(
        words="Parts of boards along all edges whose least width or long point is below the sliver limit. "
        "Counted before the saw’s share of the gap band is given out: the cut list may say one more or less.",
        expression="min(least width, long point) < limit",
        source=_PRACTICE,
    ),
    "slivers": Formula(
        words="Cut pieces whose least width or long point is below the sliver limit: too small without glue.",
        expression="min(least width, long point) < limit",
        source=_PRACTICE,
    ),
    "tie to mark": Formula(
        words="Distance from the corner to the mark on the floor.",
        expression="d = √(Δx² + Δy²)",
        source=_PLANE,
    ),
    "mark known to": Formula(
        words="What two tapes of class II leave between them where they cross. The corners' own errors come "
        "on top; the check shows them.",
        expression="√(e₁² + e₂²) / sin θ,  e = 0.3 mm + 0.2 mm per metre",
        source="EC class II tapes, as quoted in trade literature; plane geometry",
    ),
    "along the wall": Formula(
        words="Length along the wall, its bow included, from the corner to the place nearest to the mark.",
        expression="Σ √(Δx² + Δy²) along the wall's curve",
        source=_PLANE,
    ),
    "line length": Formula(
        words="Distance between the two marks of the line.",
        expression="d = √(Δx² + Δy²)",
        source=_PLANE,
    ),
    "square to the line": Formula(
        words="Distance from the corner to a laser along the line, measured square to it.",
        expression="d = u_x · Δy − u_y · Δx, u the direction of the line",
        source=_PLANE,
    ),
    "three four five": Formula(
        words="A triangle with sides of three, four and five equal parts has a right angle. "
        "The part is the largest whole centimetre that the room lets be.",
        expression="(3 t)² + (4 t)² = (5 t)²",
        source="Pythagoras",
    ),
    "equal diagonals": Formula(
        words="A four-sided figure whose opposite sides are equal is square when its diagonals are equal.",
        expression="PS = QR = √(PQ² + PR²)",
        source=_PLANE,
    ),
    "whole boards at a line": Formula(
        words="From where to where, along the line from its first mark, whole boards of the field lie at it. "
        "Beyond, the cutting begins.",
        expression="least and greatest u_x · Δx + u_y · Δy of the boards that touch the line",
        source=_OWN,
    ),
    "laying order": Formula(
        words="Whole boards first, and those cut pieces that could later not go in: they would lock with two "
        "long edges or two ends at once. All other cut pieces wait until the field lies.",
        expression="number of pieces of each kind",
        source=_OWN,
    ),
}
