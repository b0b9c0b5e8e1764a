"""Small dense linear algebra: least squares is all a floor needs, and a phone has no numpy."""

from collections.abc import Sequence
from math import sqrt

Vector = list[float]
Matrix = list[list[float]]

# A pivot below this share of the greatest diagonal means that something is not determined.
SINGULAR = 1e-11


class Singular(Exception):
    """The equations do not determine unknown number ``unknown``."""

    def __init__(self, unknown: int) -> None:
        super().__init__(f"unknown {unknown} is not determined")
        self.unknown = unknown


def cholesky(matrix: Matrix) -> Matrix:
    """Lower triangle of a symmetric positive definite matrix, scaled by nothing. Raises Singular."""
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            if j < i:
                lower[i][j] = rest / lower[j][j]
            elif rest <= SINGULAR * matrix[i][i]:
                raise Singular(i)
            else:
                lower[i][i] = sqrt(rest)
    return lower


def solve_lower(lower: Matrix, right: Sequence[float]) -> Vector:
    """Forward and back substitution with a triangle from ``cholesky``."""
    size = len(lower)
    solved = list(right)
    for i in range(size):
        solved[i] = (solved[i] - sum(lower[i][k] * solved[k] for k in range(i))) / lower[i][i]
    for i in range(size - 1, -1, -1):
        solved[i] = (solved[i] - sum(lower[k][i] * solved[k] for k in range(i + 1, size))) / lower[i][i]
    return solved


def inverse(lower: Matrix) -> Matrix:
    """Inverse of the matrix that ``cholesky`` took apart."""
    size = len(lower)
    units = ([1.0 if i == j else 0.0 for i in range(size)] for j in range(size))
    return [solve_lower(lower, unit) for unit in units]


def normal_equations(
    rows: Sequence[Sequence[float]], weights: Sequence[float], right: Sequence[float]
) -> tuple[Matrix, Vector]:
    """AᵀPA and AᵀPb of the equations A x = b with independent weights."""
    size = len(rows[0]) if rows else 0
    matrix = [[0.0] * size for _ in range(size)]
    vector = [0.0] * size
    for row, weight, value in zip(rows, weights, right, strict=True):
        used = [i for i in range(size) if row[i]]
        for i in used:
            vector[i] += weight * row[i] * value
            for j in used:
                matrix[i][j] += weight * row[i] * row[j]
    return matrix, vector
