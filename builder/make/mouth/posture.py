"""How a sound is made, as numbers: the table of postures, and the curves that they give."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, cast

from builder.make.mouth import anatomy
from builder.make.mouth.curves import Contour, Part, Point
from builder.model.clinic import Shape
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.tables import table

Velum = Literal["raised", "lowered"]
Air = Literal["puff", "stream", "nose", "rush"]
Named = Literal[
    "lips",
    "lower_lip",
    "top_teeth",
    "tip",
    "front",
    "middle",
    "back",
    "ridge",
    "velum",
    "air",
    "voice",
]
TABLE = Path(__file__).parent / "data" / "postures.csv"
SURFACE = ("tip", "blade", "front", "middle", "back", "rear", "root")
REST_TEETH = 4  # units between the edges of the teeth where the points below hold


@dataclass(frozen=True)
class Posture:
    """One posture. All in units of the drawing.

    under, surface: points of the tongue: below its tip, and from the tip to the root.
    teeth:    how far the jaw is open: from edge to edge of the front teeth.
    lips:     how far the lips are apart; below 0 the lower lip lies behind the upper teeth's edge.
    rounded:  how far they are pushed out.
    bitten:   whether the lower lip is drawn in under the upper teeth.
    parts:    what a helper should look for.
    """

    surface: Part
    under: tuple[Point, Point]
    teeth: float
    lips: float
    rounded: float
    bitten: bool
    velum: Velum
    air: Air
    voiced: bool
    parts: tuple[Named, ...]

    @property
    def tongue(self) -> Contour:
        """The tongue from where it leaves the floor of the mouth over its tip to its root."""
        return ((self.low(anatomy.FRENULUM), *self.under, *self.surface, anatomy.ROOT_END),)

    @property
    def tongue_bed(self) -> Contour:
        """The rest of its outline: back to where it began, inside the flesh."""
        *bed, front = anatomy.TONGUE_BED
        return ((*bed, self.low(front), self.low(anatomy.FRENULUM)),)

    @property
    def roof(self) -> Contour:
        """The roof of the mouth: back of the upper teeth, ridge, palate, velum."""
        return (anatomy.TEETH_BACK, anatomy.RIDGE, anatomy.PALATE, anatomy.VELUM[self.velum])

    @property
    def nose_side(self) -> Contour:
        """From the uvula along the floor of the nose to the upper lip."""
        return (anatomy.NOSE_SIDE[self.velum],)

    @property
    def upper_lip(self) -> Contour:
        """From the nose over the upper lip to the gum."""
        out = self.rounded
        skin = ((46, 92), (40 - out / 3, 101), (32 - out, 110), (31 - out, 119))
        red = ((37 - out, 125), (45 - out * 0.9, 125), (51 - out / 2, 119))
        return ((*skin, *red, (54, 112), anatomy.TEETH_FRONT[0]),)

    @property
    def lower_lip(self) -> Contour:
        """From the gum over the lower lip to the chin."""
        if self.bitten:
            top = anatomy.TEETH_EDGE[0][1] + self.lips
            lip: Part = ((60, top + 12), (62, top + 4), (59, top), (50, top - 1.5), (40, top + 2))
            outer: Part = ((34, top + 10), (36, top + 20))
        else:
            out, top = self.rounded, 125.5 + self.lips
            lip = ((58 - out / 3, top + 13), (52 - out * 0.8, top + 3), (43 - out, top))
            outer = ((34 - out, top + 4), (31.5 - out, top + 12), (36 - out / 2, top + 23))
        return ((self.low((61, 158)), *lip, *outer, self.low((42, 167))),)

    @property
    def lower_teeth(self) -> Contour:
        """Front, edge and back of the lower teeth."""
        front: Part = ((61, 158), (63.5, 147), (65.5, 136))
        back: Part = ((69, 136), (72, 147), (76, 155))
        return tuple(tuple(map(self.low, part)) for part in (front, (front[-1], back[0]), back))

    @property
    def mouth_floor(self) -> Contour:
        """From the lower teeth down to the tongue."""
        return (
            tuple(map(self.low, ((76, 155), (81, 163), (85, 171), (91, 174), anatomy.FRENULUM))),
        )

    @property
    def chin(self) -> Contour:
        """From the lower lip over the chin to the throat."""
        chin = map(self.low, ((42, 167), (42, 178), (39, 190), (45, 205), (75, 219)))
        return ((*chin, *anatomy.THROAT),)

    def low(self, point: Point) -> Point:
        """A point that goes down with the jaw."""
        return point[0], point[1] + self.teeth - REST_TEETH


def posture(sound: Sound, shape: Shape | None = None) -> Posture | None:
    """How `sound` is made, a vowel with r as its /ɹ/; None where the table has no drawing of it,
    or none without a shape of the tongue."""
    row = _rows().get((as_made(sound).symbol, shape or ""))
    return _posture(row, sound) if row else None


def as_made(sound: Sound) -> Sound:
    """The sound whose posture it has: a vowel with r that of its /ɹ/."""
    return sounds()["R"] if sound.kind == "rhotic" else sound


@cache
def _rows() -> dict[tuple[str, str], dict[str, str]]:
    return {(name, row["shape"]): row for row in table(TABLE) for name in row["sounds"].split()}


def _posture(row: dict[str, str], sound: Sound) -> Posture:
    return Posture(
        surface=tuple(_point(row[name]) for name in SURFACE),
        under=(_point(row["below"]), _point(row["under"])),
        teeth=float(row["teeth"]),
        lips=float(row["lips"]),
        rounded=float(row["rounded"]),
        bitten=row["bitten"] == "yes",
        velum=cast(Velum, row["velum"]),
        air=cast(Air, row["air"]),
        voiced=sound.voiced,
        parts=tuple(cast(Named, part) for part in row["parts"].split()),
    )


def _point(written: str) -> Point:
    x, y = map(float, written.split())
    return x, y
