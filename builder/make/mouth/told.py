"""A program's drawing with all that is told beside it: what each number means, and the whole in
words for who does not see it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Any

from builder.make.mouth.draw import mouth_svg
from builder.make.mouth.marks import spots
from builder.make.mouth.posture import Posture, as_made, posture
from builder.model.plan import PlannedProgram
from builder.phonetics.inventory import Sound, sounds
from builder.text.wording import Wording

# What a hand mirror shows: lips, teeth, tip. Clean before use, unbreakable for young children, held
# by an adult: hygiene practice; common practice, no source.
SEEN = ("bilabial", "labiodental", "dental", "alveolar")
INK = "#1f3d42"  # of the sheets: base.typ


@dataclass(frozen=True)
class MouthDrawing:
    """The side view of one sound.

    svg:    the drawing, described by `told`.
    told:   place, manner, air and voice in sentences.
    parts:  the names of the numbered parts, the first that of number 1.
    mirror: whether a hand mirror shows what matters.
    """

    svg: str
    told: str
    parts: tuple[str, ...]
    mirror: bool


def mouth_drawing(program: PlannedProgram, page: Wording) -> MouthDrawing | None:
    """The drawing of a program's sound; None where there is none, or none is wanted.

    page: the wording of the pages.
    """
    sound = as_made(sounds()[program.symbol])
    shown = posture(sound, program.shape) if program.drawing else None
    if shown is None:
        return None
    marked = spots(shown)
    told = " ".join(_sentences(program, shown, sound, page))
    names = (f"mouth.parts.{one.name}" for one in marked if one.name != "voice")
    return MouthDrawing(
        svg=mouth_svg(shown, marked, f'role="img" aria-label="{escape(told)}"'),
        told=told,
        parts=(*map(page.__getitem__, names), page[f"mouth.parts.voice.{_on(sound)}"]),
        mirror=sound.place in SEEN,
    )


def printed_mouth(program: PlannedProgram, page: Wording) -> dict[str, Any] | None:
    """The drawing as the templates of sheets take it, in their ink; None where there is none."""
    drawn = mouth_drawing(program, page)
    if drawn is None:
        return None
    return {
        "svg": drawn.svg.replace("<svg ", f'<svg color="{INK}" font-family="Noto Sans" ', 1),
        "alt": drawn.told,
        "parts": list(drawn.parts),
        "mirror": page["mouth.mirror"] if drawn.mirror else "",
    }


def _sentences(
    program: PlannedProgram, shown: Posture, sound: Sound, page: Wording
) -> Iterator[str]:
    yield page["mouth.view"]
    shape = (program.shape or "").replace(" ", "_")
    made = "_".join(filter(None, (sound.place, sound.manner, shape)))
    yield page[f"mouth.made.{made}"]
    if shown.velum == "lowered":
        yield page["mouth.velum"]
    held = shown.air == "puff" and sound.voiced
    yield page[f"mouth.air.{'held' if held else shown.air}"]
    yield page[f"mouth.voice.{_on(sound)}"]


def _on(sound: Sound) -> str:
    return "on" if sound.voiced else "off"
