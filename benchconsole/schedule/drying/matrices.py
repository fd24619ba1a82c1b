"""The little linear algebra of a fit: symmetric matrices of a few rows, as lists of rows."""

from __future__ import annotations

import math
from collections.abc import Sequence

Matrix = list[list[float]]


def cholesky(matrix: Sequence[Sequence[float]]) -> Matrix:
    """The lower triangle L with L times its transpose the matrix, which is positive definite.

    Rounding may leave a pivot at or below nothing; it is then taken as the least that is positive
    beside the diagonal, which means no doubt in that direction.
    """
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for row in range(size):
        for column in range(row + 1):
            left = matrix[row][column] - sum(
                lower[row][k] * lower[column][k] for k in range(column)
            )
            if row == column:
                lower[row][row] = math.sqrt(max(left, 1e-14 * abs(matrix[row][row]), 1e-300))
            else:
                lower[row][column] = left / lower[column][column]
    return lower


def solved(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """x with matrix times x the right side."""
    lower = cholesky(matrix)
    size = len(right)
    half = [0.0] * size
    for row in range(size):
        known = sum(lower[row][k] * half[k] for k in range(row))
        half[row] = (right[row] - known) / lower[row][row]
    x = [0.0] * size
    for row in reversed(range(size)):
        known = sum(lower[k][row] * x[k] for k in range(row + 1, size))
        x[row] = (half[row] - known) / lower[row][row]
    return x


def inverse(matrix: Sequence[Sequence[float]]) -> Matrix:
    """The inverse of a symmetric positive definite matrix."""
    size = len(matrix)
    columns = [
        solved(matrix, [1.0 if row == column else 0.0 for row in range(size)])
        for column in range(size)
    ]
    return [[(columns[j][i] + columns[i][j]) / 2.0 for j in range(size)] for i in range(size)]
