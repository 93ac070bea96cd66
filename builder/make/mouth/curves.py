"""Smooth curves through points: cubic Bézier pieces, as path data and as points along them.

A contour is a tuple of parts; a curve is smooth within a part and may have a corner where one part
ends and the next begins. Points are (x, y) in units of the drawing, y downward.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

Point = tuple[float, float]
Part = tuple[Point, ...]
Contour = tuple[Part, ...]

STEPS = 6  # points along one piece: lines between them stay within 0.1 unit of the curve


def beziers(part: Part) -> Iterator[tuple[Point, Point, Point, Point]]:
    """A piece between each point of `part` and the next: a centripetal Catmull-Rom spline, which
    neither loops nor has cusps between its points.

    Source: Yuksel, Schaefer & Keyser 2011, Parameterization and applications of Catmull-Rom
    curves, Computer-Aided Design 43(7):747-755; the weights as recalled from memory.
    """
    around = (part[0], *part, part[-1])
    for p0, p1, p2, p3 in zip(around, around[1:], around[2:], around[3:], strict=False):
        d1, d2, d3 = (math.sqrt(math.dist(*ends)) for ends in ((p0, p1), (p1, p2), (p2, p3)))
        yield p1, _handle(p0, p1, p2, d1, d2), _handle(p3, p2, p1, d3, d2), p2


def _handle(before: Point, at: Point, after: Point, near: float, own: float) -> Point:
    """The handle at `at` toward `after`; near and own: roots of the distances on either side."""
    if near == 0:
        return at
    weight = 3 * near * (near + own)
    x, y = (
        (near**2 * c - own**2 * a + (2 * near**2 + 3 * near * own + own**2) * b) / weight
        for a, b, c in zip(before, at, after, strict=True)
    )
    return x, y


@cache
def along(contour: Contour) -> tuple[Point, ...]:
    """Points along a contour, close together, its own points among them."""
    found = [contour[0][0]]
    for part in contour:
        for piece in beziers(part):
            found += [_on(piece, step / STEPS) for step in range(1, STEPS + 1)]
    return tuple(found)


def _on(piece: tuple[Point, Point, Point, Point], t: float) -> Point:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
    x, y = (sum(w * p[axis] for w, p in zip(weights, piece, strict=True)) for axis in (0, 1))
    return x, y


def path_data(contour: Contour, closed: bool = False) -> str:
    """The contour as the `d` of an SVG path, in relative terms, which are shorter; closed: a
    straight line leads back to its start."""
    at = _rounded(contour[0][0])
    written = [f"M{_number(at[0])} {_number(at[1])}"]
    for _, *points in (piece for part in contour for piece in beziers(part)):
        ends = [_rounded(point) for point in points]
        steps = (value for end in ends for value in (end[0] - at[0], end[1] - at[1]))
        written.append("c" + " ".join(map(_number, steps)).replace(" -", "-"))
        at = ends[-1]
    return "".join(written) + ("z" if closed else "")


def _rounded(point: Point) -> Point:
    return round(point[0], 1), round(point[1], 1)


def _number(value: float) -> str:
    """With one decimal at most, and no zero that says nothing."""
    text = f"{value:.1f}".removesuffix(".0").replace("0.", ".", 1 if abs(value) < 1 else 0)
    return "0" if text in ("-0", "") else text


def crossing(start: Point, angle: float, line: tuple[Point, ...]) -> float | None:
    """How far a ray goes from `start` to where it first meets `line`; None if it never does.

    angle: degrees, 0 to the right, 90 up.
    """
    way = (math.cos(math.radians(angle)), -math.sin(math.radians(angle)))
    return min((r for a, b in pairwise(line) for r in _meets(start, way, a, b)), default=None)


def _meets(start: Point, way: Point, a: Point, b: Point) -> Iterator[float]:
    side, off = (b[0] - a[0], b[1] - a[1]), (a[0] - start[0], a[1] - start[1])
    turned = way[0] * side[1] - way[1] * side[0]
    if turned == 0:
        return
    far = (off[0] * side[1] - off[1] * side[0]) / turned
    share = (off[0] * way[1] - off[1] * way[0]) / turned
    if far > 0 and 0 <= share <= 1:
        yield far
