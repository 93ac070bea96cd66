from __future__ import annotations

import pytest

from builder.cues.by_sound import cues_for, read_key, shapes_of, with_clinic_cues
from builder.model.clinic import Clinic, Shape
from builder.model.program import Program
from builder.phonetics.inventory import parse_sound, sounds
from builder.problems import ProgramError
from builder.program_file.validate import clinic_file
from builder.program_file.yaml_tree import parse
from tests.support.clients import client_of

HEAD = "clinic: 1\ncontact: {clinic: Test Clinic, phone: 555-0100}\n"
CUES = (
    "cues:\n"
    "  s: {reminder: Thin air, tongue: Inside.}\n"
    "  s tip down: {tongue: The tip is low.}\n"
    "  er: {tongue: The middle is high.}\n"
    "  ar: {tongue: Open first.}\n"
)
STEPS = "position: final\nmastered: {isolation: 2026-11-01, syllable: 2026-11-02}\ncurrent: a\n"


def clinic(cues: str = CUES) -> Clinic:
    return clinic_file(parse((HEAD + cues).encode(), "clinic.yaml"))


@pytest.mark.parametrize(
    ("sound", "shape", "key"),
    [
        ("s", None, "s"),
        ("s", "tip down", "s tip down"),
        ("s", "tip up", "s"),
        ("z", None, None),
        ("er", None, "er"),
        ("or", "bunched", "er"),  # one family
        ("ar", None, "ar"),
        ("r", None, None),
    ],
)
def test_the_shape_comes_before_the_sound(sound: str, shape: Shape | None, key: str | None) -> None:
    found = cues_for(clinic(), parse_sound(sound), shape)
    assert (found[0] if found else None) == key


def program(text: str, words: str = "[bus, house, mouse, goose]") -> Program:
    steps = f"words: {words}\nsteps:\n  - {{name: a, level: word}}\n"
    client = client_of(f"{text}{STEPS}{steps}")
    return with_clinic_cues(client.programs[0], clinic())


@pytest.mark.parametrize(
    ("own", "reminder", "tongue"),
    [
        ("", "Thin air", "Inside."),
        ("shape: tip down\n", "", "The tip is low."),
        ("reminder: Mine\n", "Mine", "Inside."),
        ("cues: {tongue: My own.}\n", "Thin air", "My own."),
        ("cues: {lips: My own.}\n", "Thin air", ""),
    ],
)
def test_a_program_s_own_come_first(own: str, reminder: str, tongue: str) -> None:
    made = program(f"sound: s\n{own}")
    written = made.written
    assert (written.reminder, written.cues.tongue) == (reminder, tongue)


def test_what_is_wrong_in_them_is_in_the_clinic_file() -> None:
    made = program("sound: s\n")
    assert str(made.place(("cues", "tongue"))) == "clinic.yaml"
    assert made.defaults[-1] == "the clinic's cues and reminder for 's'"


@pytest.mark.parametrize(
    ("cues", "said"),
    [
        ("th: {tongue: T}", "`th` could be two sounds"),
        ("sx: {tongue: T}", "`sx` is not a sound"),
        ("k tip up: {tongue: T}", "/k/ is not made with the shape `tip up`"),
        ("r tip up: {tongue: T}", "its shapes are `bunched` or `retroflex`"),
        ("s: {tongue: T}\n  /s/: {tongue: T}", "`/s/` and `s` are the same sound"),
        ("tongue: T", "`tongue` must be a sound with cues below it"),
    ],
)
def test_keys_are_sounds(cues: str, said: str) -> None:
    with pytest.raises(ProgramError) as problem:
        clinic(f"cues:\n  {cues}\n")
    (found,) = problem.value.findings
    assert said in found.sentence
    assert found.place.line >= 4


def test_a_shape_that_a_sound_has_not() -> None:
    with pytest.raises(ProgramError, match="only /s/, /z/ and the sounds of r have shapes"):
        program("sound: k\nshape: bunched\n", "[book, duck, sock, lake]")


def test_every_shape_is_read_with_its_sound() -> None:
    for sound in sounds().values():
        for shape in shapes_of(sound):
            assert read_key(f"/{sound.ipa}/ {shape}") == (sound, shape)
