"""Trees into models: normal forms, golden messages, and no exception but ours."""

from __future__ import annotations

import datetime
import pathlib
import sys
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from builder.model.clinic import Clinic, Contact, Cues, Pace
from builder.model.program import ItemFile, Practice, ProgramFile, RoundFile, StepFile
from builder.problems import KeyPath, Place, ProgramError
from builder.program_file.key_errors import MAX_UNKNOWN_KEYS
from builder.program_file.normalise import fields
from builder.program_file.suggestions import EXAMPLES
from builder.program_file.validate import clinic_file, program_file
from builder.program_file.yaml_tree import Tree, parse
from tests.support.places import TESTS

PROGRAMS = TESTS / "programs"
FINE = (PROGRAMS / "fine.yaml").read_text(encoding="utf-8")
FAULTY = sorted(PROGRAMS.glob("read-*.yaml"))


def program(text: str) -> ProgramFile:
    return program_file(parse(text.encode(), "f.yaml"))[0]


def changed(old: str, new: str) -> ProgramFile:
    assert old in FINE
    return program(FINE.replace(old, new, 1))


def findings(text: str) -> str:
    with pytest.raises(ProgramError) as caught:
        program(text)
    return str(caught.value)


def message(file: pathlib.Path) -> str:
    """What the tool says about a faulty program, as its golden file holds it."""
    with pytest.raises(ProgramError) as caught:
        program_file(parse(file.read_bytes(), file.name))
    return f"{caught.value}\n"


@pytest.mark.parametrize("file", FAULTY, ids=lambda file: file.stem)
def test_message(file: pathlib.Path) -> None:
    golden = file.with_suffix(".txt").read_text(encoding="utf-8")
    assert message(file) == golden, "changed on purpose? python -m tests.program_file.test_validate"


@pytest.mark.parametrize("file", FAULTY, ids=lambda file: file.stem)
def test_no_technical_word_reaches_an_author(file: pathlib.Path) -> None:
    said = message(file).lower()
    for word in ("scalar", "mapping", "sequence", "node", "token", "nonetype", "dict", "<class"):
        assert word not in said


def test_one_fault_gives_one_finding() -> None:
    several = [f.stem for f in FAULTY if message(f).count(": fault: ") != 1]
    assert several == ["read-several"]


def test_the_whole_program() -> None:
    made = program(FINE)
    assert (made.client, made.age, made.reads, made.sound) == ("heron-07", 4, False, "k")
    assert made.baseline
    assert made.baseline.date == datetime.date(2026, 12, 3)
    assert made.practice.start == datetime.date(2026, 12, 7)
    assert [item.word for item in made.words["initial"]][-2:] == ["coin", "calf"]
    assert made.words["initial"][-1].say == "kæf"
    assert made.steps[2].items[1] == ItemFile(word="my cow")


@pytest.mark.parametrize(
    ("text", "form", "support"),
    [
        pytest.param("natural imitation", "natural", "imitation", id="form, then support"),
        pytest.param("imitation long", "long", "imitation", id="support, then form"),
        pytest.param("spontaneous", "natural", "spontaneous", id="support alone is natural"),
        pytest.param("long", "long", "imitation", id="form alone is imitation"),
        pytest.param("{support: delayed}", "natural", "delayed", id="with keys of its own"),
    ],
)
def test_round(text: str, form: Any, support: Any) -> None:
    made = changed("[natural imitation, natural spontaneous]", f"[{text}]")
    assert made.steps[1].rounds == (RoundFile(form=form, support=support),)


@pytest.mark.parametrize(
    ("old", "new", "field", "value"),
    [
        pytest.param(
            "current: words",
            "current: [words, two words]",
            "current",
            ("words", "two words"),
            id="several current steps",
        ),
        pytest.param("current: words", "current: words", "current", ("words",), id="one step"),
        pytest.param(
            "position: initial\n",
            "position: [initial]\n",
            "position",
            ("initial",),
            id="a list of one position",
        ),
        pytest.param("position: initial\n", "", "position", ("initial",), id="no position"),
        pytest.param("reads: no", "reads: Yes", "reads", True, id="yes"),
        pytest.param("reads: no", 'reads: "no"', "reads", False, id="no in quotes"),
        pytest.param("reads: no", "reads: true", "reads", True, id="true"),
        pytest.param("age: 4", "age: 07", "age", 7, id="digits with a zero first are decimal"),
        pytest.param("error: t", "error: no", "error", "no", id="no stays a word"),
        pytest.param(
            "reminder: Back of the tongue",
            "reminder: >\n  Back of\n  the tongue\n",
            "reminder",
            "Back of the tongue",
            id="a text over two lines becomes one",
        ),
    ],
)
def test_normal_form(old: str, new: str, field: str, value: Any) -> None:
    assert getattr(changed(old, new), field) == value


@pytest.mark.parametrize("word", ["no", "on", "1:30", "7", "null", "true", "2026-12-03", "010"])
def test_a_word_stays_as_typed(word: str) -> None:
    made = changed("[key, cow", f"[{word}, {{word: {word}}}")
    assert [item.word for item in made.words["initial"][:2]] == [word, word]


@pytest.mark.parametrize("age", ["1_0", "+4", "4.0", "0x4", "４", "1e1", "9" * 5000, "-4"])
def test_an_age_must_be_plain_digits(age: str) -> None:
    assert "`age` must be a whole number" in findings(FINE.replace("age: 4", f"age: {age}"))


@pytest.mark.parametrize("date", ["1764806400", "2026-12-3", "20261203", "2026-W49-4", "today"])
def test_a_date_must_be_written_out(date: str) -> None:
    assert "`from` must be a date" in findings(FINE.replace("2026-12-07", date))


def test_words_by_position() -> None:
    text = FINE.replace("position: initial", "position: [initial, final]")
    start, stop = text.index("words: ["), text.index("steps:")
    made = program(f"{text[:start]}words: {{initial: [key, cow], final: [book]}}\n{text[stop:]}")
    assert {p: [i.word for i in items] for p, items in made.words.items()} == {
        "initial": ["key", "cow"],
        "final": ["book"],
    }


@pytest.mark.parametrize(
    ("path", "line", "column"),
    [
        pytest.param(("words", "initial", 1), 16, 14, id="a word by its position"),
        pytest.param(("words", "initial", 1, "word"), 16, 14, id="and the word in it"),
        pytest.param(("words", 1), 16, 14, id="the same as written"),
        pytest.param(("steps", 1, "rounds", 1, "form"), 19, 60, id="a round's form"),
        pytest.param(("position", 0), 8, 11, id="the only position"),
        pytest.param(("cues",), 13, 1, id="a key whose value begins below it"),
        pytest.param(("cues", "voice"), 15, 10, id="a value behind its key"),
    ],
)
def test_place(path: KeyPath, line: int, column: int) -> None:
    _, places = program_file(parse(FINE.encode(), "f.yaml"))
    assert places[path] == Place("f.yaml", line, column)


def test_all_findings_come_at_once_in_the_order_of_lines() -> None:
    with pytest.raises(ProgramError) as caught:
        program_file(parse((PROGRAMS / "read-several.yaml").read_bytes(), "f.yaml"))
    found = caught.value.findings
    assert [f.place.line for f in found] == [4, 7, 11, 11, 20]
    assert {f.degree for f in found} == {"fault"}


@pytest.mark.parametrize(
    ("practice", "said"),
    [
        pytest.param("{days: mon, tue, wed}", "`days: [mon, tue, wed]`", id="days"),
        pytest.param("{times: [morning], noon}", "`times: [morning, noon]`", id="behind a list"),
        pytest.param("{minutes: 5, ten}", "The keys that can be used", id="no text to belong to"),
        pytest.param("{minutes: five, ten}", "must be a whole number", id="and a faulty one"),
    ],
)
def test_what_a_comma_tore_off(practice: str, said: str) -> None:
    start, stop = FINE.index("practice:"), FINE.index("reminder:")
    message = findings(f"{FINE[:start]}practice: {practice}\n{FINE[stop:]}")
    assert said in message
    assert "None" not in message


@pytest.mark.slow
def test_a_hostile_number_of_unknown_keys_is_told_in_part() -> None:
    text = "".join(f"k{i}: 1\n" for i in range(20_000))
    assert findings(FINE + text).count(" is not a key of a program.") == MAX_UNKNOWN_KEYS


CLINIC = "clinic: 1\ncontact: {clinic: Riverside Clinic, phone: 555 0100}\n"


def test_clinic_file() -> None:
    made = clinic_file(parse(f"{CLINIC}paper: a4\ndays: sat\n".encode(), "c.yaml"))
    assert made.contact.phone == "555 0100"
    assert (made.paper, made.days, made.times) == ("a4", ("sat",), ("morning", "evening"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("paper: a5\n", "`paper` cannot be `a5`.", id="a paper nobody prints"),
        pytest.param(
            "phone: 1\n", "`phone` belongs under `contact`", id="a key in the wrong place"
        ),
        pytest.param(
            "sheet: {dates: yes}\n",
            "The only key that can be used here is `counts`.",
            id="an unknown key beside a single one",
        ),
        pytest.param("days: []\n", "`days` is an empty list.", id="no days"),
        pytest.param("language: de\n", "`language` cannot be `de`.", id="another language"),
        pytest.param(
            "voice: robot\n",
            "It can be `woman`, `man`, `natural`, `embedded`, `online` or `helper`.",
            id="no such voice",
        ),
    ],
)
def test_clinic_message(text: str, said: str) -> None:
    with pytest.raises(ProgramError) as caught:
        clinic_file(parse((CLINIC + text).encode(), "c.yaml"))
    assert len(caught.value.findings) == 1
    assert said in str(caught.value)


@pytest.mark.parametrize(
    "model", [ProgramFile, Practice, Cues, StepFile, ItemFile, Clinic, Contact, Pace]
)
def test_every_key_has_an_example_to_show(model: type[BaseModel]) -> None:
    assert fields(model).keys() - EXAMPLES.keys() == set()


def test_a_program_is_no_clinic_file() -> None:
    with pytest.raises(ProgramError, match="This is a program, but a clinic file is expected"):
        clinic_file(parse(FINE.encode(), "c.yaml"))


NAMES = (
    "program client age reads sound position mastered baseline date correct of current practice "
    "times days from cues tongue words initial final word say id steps name level rounds form "
    "items vowels hold because helper sond wrds [key]"
)
KEYS = st.sampled_from(NAMES.split()) | st.text(max_size=5)
TEXTS = st.sampled_from(
    [
        "",
        "1",
        "k",
        "no",
        "2026-12-03",
        "2026-13-03",
        "initial",
        "mon",
        "word",
        "long imitation",
        "heron-07",
        "0.5",
        "\0",
        "💧",
        "mon, tue",
    ]
) | st.text(max_size=8)
VALUES = st.recursive(
    TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=20,
)


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(KEYS, VALUES, max_size=12), st.sampled_from([program_file, clinic_file]))
def test_any_structure_gives_a_model_or_findings(value: Any, read: Any) -> None:
    try:
        read(Tree("f.yaml", value))
        return
    except ProgramError as error:
        findings = error.findings
    assert findings
    assert all(f.sentence.endswith(".") for f in findings)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_any_change_of_one_value_gives_a_model_or_findings(data: st.DataObject) -> None:
    tree = parse(FINE.encode(), "f.yaml")
    path = data.draw(st.sampled_from(sorted(tree.places, key=str)))
    inside: Any = tree.value
    for part in path[:-1]:
        inside = inside[part]
    inside[path[-1]] = data.draw(VALUES)
    try:
        assert program_file(tree)[0].sound
        return
    except ProgramError as error:
        findings = error.findings
    assert findings


if __name__ == "__main__":
    for faulty in FAULTY:
        faulty.with_suffix(".txt").write_text(message(faulty), encoding="utf-8")
        sys.stdout.write(f"{faulty.name}\n")
