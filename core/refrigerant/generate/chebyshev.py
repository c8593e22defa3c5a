"""Chebyshev series in one and two variables, in plain Python.

No linear algebra library takes part: the sums below run in a fixed order, so that the same inputs
give the same digits on every machine.
"""

import math
from typing import Callable, List, Sequence


def nodes(count: int) -> List[float]:
    """The `count` Chebyshev-Gauss nodes on [-1, 1], ascending."""
    return [-math.cos(math.pi * (k + 0.5) / count) for k in range(count)]


def fit(values: Sequence[float], keep: int) -> List[float]:
    """Coefficients of T_0 .. T_(keep-1) from the values at `nodes(len(values))`."""
    count = len(values)
    out = []
    for j in range(keep):
        terms = [
            values[k] * math.cos(j * (math.pi - math.pi * (k + 0.5) / count))
            for k in range(count)
        ]
        out.append(math.fsum(terms) * (1.0 if j == 0 else 2.0) / count)
    return out


def fit_function(f: Callable[[float], float], count: int, keep: int) -> List[float]:
    """Coefficients of a function of u in [-1, 1], sampled at `count` nodes."""
    return fit([f(u) for u in nodes(count)], keep)


def fit_grid(grid: Sequence[Sequence[float]], keep_u: int, keep_w: int) -> List[List[float]]:
    """Coefficients [i][j] of T_i(u) T_j(w) from grid[a][b] at node a of u and node b of w."""
    rows = [fit(row, keep_w) for row in grid]
    columns = [fit([row[j] for row in rows], keep_u) for j in range(keep_w)]
    return [[columns[j][i] for j in range(keep_w)] for i in range(keep_u)]


def evaluate(c: Sequence[float], u: float) -> float:
    """Value of the series at u in [-1, 1] (Clenshaw)."""
    b1 = b2 = 0.0
    for a in reversed(c[1:]):
        b1, b2 = a + 2.0 * u * b1 - b2, b1
    return c[0] + u * b1 - b2


def evaluate_grid(c: Sequence[Sequence[float]], u: float, w: float) -> float:
    """Value of the two-dimensional series at (u, w)."""
    return evaluate([evaluate(row, w) for row in c], u)
