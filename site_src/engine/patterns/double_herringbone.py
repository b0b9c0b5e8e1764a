"""Double herringbone: a herringbone of boards two by two, or more where the job says so."""

from engine.patterns.herringbone import herringbone_of

PATTERN = herringbone_of("double herringbone", 2)
