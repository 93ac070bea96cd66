"""Which picture an item shows, and under which content key and public name."""

from __future__ import annotations

from dataclasses import replace

from builder.model.plan import Picture
from builder.model.program import Client, Item, Level, StepFile
from builder.survey.survey import Found, Survey
from builder.workspace.store import key_of


def with_drawings(survey: Survey, client: Client, step: StepFile | None = None) -> Survey:
    """The survey, without its drawings where none is shown.

    They are made for children. An adult or a teenager who practices alone sees them only in a step
    in which a round says that it shows pictures; but who does not read needs them everywhere.
    """
    asked = step is not None and any(r.show in ("picture", "both") for r in step.rounds)
    if asked or not client.practises_alone or not client.programs[0].written.reads:
        return survey
    return replace(survey, drawings={}, emblem=("", ""), animal=None)


def emblem_of(code: str, survey: Survey) -> Picture | None:
    """The animal of the client's code: a picture of that name in the client's folder, else a
    drawing."""
    animal = code.partition("-")[0]
    if own := survey.own_named(animal):
        return _own(own, animal)
    if survey.animal:
        return _ours(survey.animal, animal)
    drawing, name = survey.emblem
    return _drawing(drawing, name) if drawing else None


def _ours(found: Found, alt: str) -> Picture:
    key = key_of(ours=found.digest, form=1)
    return Picture(key, f"pictures/{key[:12]}.svg", "ours", found.path, alt)


def _own(found: Found, alt: str) -> Picture:
    key = key_of(own=found.digest, form=2)
    # The public name tells nothing of the file's own name.
    return Picture(key, f"pictures/{key[:12]}.webp", "own", found.path, alt)


def _drawing(code: str, alt: str) -> Picture:
    return Picture(key_of(drawing=code, form=1), f"pictures/{code}.svg", "drawing", code, alt)


def picture_of(item: Item, level: Level, survey: Survey) -> Picture | None:
    """The picture of an item: the client's own, else a drawing; a sound or syllable has none."""
    alt = item.text
    if own := survey.own_picture(item):
        return _own(own, alt)
    code = "" if level in ("isolation", "syllable") else survey.drawing(item)
    return _drawing(code, alt) if code else None
