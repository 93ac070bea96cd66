"""Cues of the clinic file by sound and shape of the tongue: what a key means, which cues hold."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from builder.model.clinic import Clinic, Cues, Shape, SoundCues
from builder.model.program import Program
from builder.phonetics.inventory import Sound, parse_sound
from builder.problems import KeyPath, Place

SHAPES: dict[str, tuple[Shape, ...]] = {
    "S": ("tip up", "tip down"),
    "Z": ("tip up", "tip down"),
    "R": ("bunched", "retroflex"),
}
"""By symbol; a vowel with r has the shapes of /ɹ/. Common practice, no source."""
FAMILY = "ER"  # its cues hold for all vowels with r that have none of their own

CLINIC = "clinic.yaml"  # beside the programs

Key = tuple[str, Shape | None]


def shapes_of(sound: Sound) -> tuple[Shape, ...]:
    """The shapes of the tongue by which a sound may be made; () where there is one way."""
    return SHAPES.get("R" if sound.kind == "rhotic" else sound.symbol, ())


def read_key(written: str) -> tuple[Sound, Shape | None]:
    """What a key names: `s`, or `s tip down`. Raises UnknownSoundError, or ValueError with what is
    wrong for a shape that the sound has not."""
    for shape in {shape for shapes in SHAPES.values() for shape in shapes}:
        if written.endswith(f" {shape}"):
            sound = parse_sound(written.removesuffix(shape))
            if shape not in shapes_of(sound):
                raise ValueError(no_shape(sound, shape))
            return sound, shape
    return parse_sound(written), None


def no_shape(sound: Sound, shape: str) -> str:
    """Why a shape cannot be, in a sentence without its full stop."""
    known = " or ".join(f"`{one}`" for one in shapes_of(sound))
    has = f"its shapes are {known}" if known else "only /s/, /z/ and the sounds of r have shapes"
    return f"/{sound.ipa}/ is not made with the shape `{shape}`: {has}"


def cues_for(clinic: Clinic, sound: Sound, shape: Shape | None) -> tuple[str, SoundCues] | None:
    """The clinic's cues for a sound, and the key under which they stand: those of the shape, else
    those of the sound; a vowel with r takes those of er in place of its own."""
    by_key: dict[Key, tuple[str, SoundCues]] = {}
    for written, cues in clinic.cues.items():
        named, of_shape = read_key(written)
        by_key[named.symbol, of_shape] = (written, cues)
    symbols = (sound.symbol, FAMILY) if sound.kind == "rhotic" else (sound.symbol,)
    wanted: list[Key] = [
        (symbol, one) for symbol in symbols for one in dict.fromkeys((shape, None))
    ]
    return next((by_key[key] for key in wanted if key in by_key), None)


def with_clinic_cues(program: Program, clinic: Clinic) -> Program:
    """The program with the clinic's cues and reminder where it has none of its own; these then have
    their place in the clinic file."""
    written = program.written
    found = cues_for(clinic, program.sound, written.shape)
    if found is None:
        return program
    key, cues = found
    given: dict[str, Any] = {}
    if written.cues == Cues():
        given["cues"] = Cues.model_validate(cues.model_dump(exclude={"reminder"}))
    if not written.reminder and cues.reminder:
        given["reminder"] = cues.reminder
    if not given:
        return program
    place = Place(str(Path(program.file).with_name(CLINIC)))
    places: dict[KeyPath, Place] = {(name,): place for name in given}
    return replace(
        program,
        written=written.model_copy(update=given),
        places={**program.places, **places},
        defaults=(*program.defaults, f"the clinic's {' and '.join(given)} for '{key}'"),
    )
