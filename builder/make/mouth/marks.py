"""What is marked in a drawing: the way of the air, the voice, and the parts that matter for the
sound, each with a number that stands beside its name below the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from builder.make.mouth import anatomy
from builder.make.mouth.curves import Part, Point, along, crossing
from builder.make.mouth.posture import Named, Posture

CENTER: Point = (
    128.0,
    150.0,
)  # inside every tongue: rays from here meet its surface, then the roof
NARROW, SHUT = 6.5, 1  # units between tongue and roof: no room for a line; no way for the air
RAYS = (-10, 10, 32, 45, *range(60, 170, 10))  # degrees; none where the uvula hangs
AHEAD = 30  # units: how long the air is drawn before the lips


@dataclass(frozen=True)
class Spot:
    """A numbered part: where it is, and where its number stands."""

    name: Named
    at: Point
    number_at: Point


def spots(shown: Posture) -> tuple[Spot, ...]:
    """The numbered parts of a drawing, in the order of their numbers."""
    velum: tuple[Named, ...] = ("velum",) if shown.velum == "lowered" else ()
    names: tuple[Named, ...] = (*shown.parts, *velum, "air", "voice")
    return tuple(Spot(name, *_place(name, shown)) for name in names)


def _place(name: Named, shown: Posture) -> tuple[Point, Point]:
    """Where a part is, and where its number stands."""
    surface = along(shown.tongue)
    if name == "air":
        end = air_out(shown)[-1]
        return end, (end[0] - 14, end[1])
    if name == "velum":
        return (anatomy.VELUM["lowered"][3][0] + 4, 118), (213, 118)
    if name == "voice":
        return anatomy.GLOTTIS[1], (213, 242)
    if name == "tip":
        x, y = shown.surface[0]
        return (x + 4.5, y + 3), (124, 172)
    if name == "front":
        x, y = shown.surface[2]
        return (x + 1, y + 5), (124, 150)
    if name in ("back", "middle"):
        x, y = _highest(surface, name)
        return (x, y + 5), (150, 150)
    if name == "ridge":
        return (82, 106), (114, 26)
    if name == "top_teeth":
        return (60, 118), (-4, 108)
    return _front(shown.lower_lip[0]), (-4, 168)


def _front(lip: Part) -> Point:
    x, y = min(along((lip[:-1],)))
    return x + 5, y


def _highest(surface: Part, name: Named) -> Point:
    """The place of the tongue nearest to the velum, or to the palate."""
    low, high = anatomy.UNDER_VELUM if name == "back" else anatomy.UNDER_PALATE
    return min((p for p in surface if low <= p[0] <= high), key=lambda p: p[1])


def air_in(shown: Posture) -> tuple[Part, ...]:
    """The way of the air from the larynx on: to the nose, or along the roof of the mouth to where
    it is shut, or out; lines, with a gap where the way is too narrow to draw in."""
    start: Part = ((182, 230), (189, 206), (194, 184))
    if shown.velum == "lowered":
        nose: Part = ((192, 155), (191, 122), (187, 92), (168, 68), (130, 58), (92, 60), (62, 74))
        return ((*start, *nose),)
    lines: list[list[Point]] = [[*start]]
    for angle in RAYS:
        inner, outer = _heights(shown, angle)
        if outer - inner < SHUT:
            break
        if outer - inner >= NARROW:
            lines[-1].append(_on_ray(angle, (inner + outer) / 2))
        elif lines[-1]:
            lines.append([])
    return tuple(tuple(line) for line in lines if len(line) > 1)


def _heights(shown: Posture, angle: float) -> tuple[float, float]:
    """How far a ray from CENTER goes to the tongue, and to the roof or the wall of the throat; both
    0 where there is neither."""
    tongue = crossing(CENTER, angle, along(shown.tongue))
    around = (along((*shown.roof,)), along((anatomy.WALL,)))
    met = [r for r in (crossing(CENTER, angle, line) for line in around) if r is not None]
    return (tongue, min(met)) if tongue and met else (0.0, 0.0)


def air_out(shown: Posture) -> Part:
    """The way of the air before the face: from the lips, or from the nose."""
    if shown.velum == "lowered":
        return ((38, 91), (26, 100), (8, 106))
    upper, lower = along(shown.upper_lip), along(shown.lower_lip)
    left = min(x for x, _ in (*upper, *lower)) - 5
    y = (_lowest(upper) + min(y for x, y in lower if x < 52)) / 2
    return ((left, y), (max(left - AHEAD, -10), y))


def _lowest(lip: Part) -> float:
    return max(y for _, y in lip)


def puff(shown: Posture) -> Iterator[Part]:
    """Short lines that spread before the lips, above and below the arrow."""
    (x, y), (end, _) = air_out(shown)
    for side in (-1, 1):
        yield (x - 3, y + side * 8), (end + 12, y + side * 15)


def buzz() -> Iterator[Part]:
    """The voice: wavy lines before the throat, where a hand feels it."""
    for x in (118, 107):
        yield tuple(
            (x + 3.5 * math.sin(step * math.pi / 2), 244.0 + 4.5 * step) for step in range(9)
        )


def _on_ray(angle: float, far: float) -> Point:
    turn = math.radians(angle)
    return CENTER[0] + far * math.cos(turn), CENTER[1] - far * math.sin(turn)
