from __future__ import annotations

import pytest

from builder.wordbank.needs import (
    Needs,
    needs_of,
    said_with_error,
    sounds_unsuitable,
    unsuitable_forms,
    words_said,
)
from tests.support.clients import client_of
from tests.support.wordbank_index import few

PROGRAM = """\
sound: {sound}
error: {error}
position: initial
current: words
words: [{words}]
steps:
  - {{name: words, level: word}}
  - {{name: two words, level: phrase, items: [my {words}]}}
"""


def needs(sound: str, error: str, words: str = "key", there: bool = False) -> Needs:
    program = client_of(PROGRAM.format(sound=sound, error=error, words=words)).programs[0]
    return needs_of(program, there)


@pytest.mark.parametrize(
    ("sound", "error", "substitutes"),
    [
        pytest.param("k", "t", {"T", "D"}, id="t for k: t and d"),
        pytest.param("s", "/θ/", {"TH", "DH"}, id="θ for s: θ and ð"),
        pytest.param("s", "frontal", {"TH", "DH"}, id="frontal s is θ"),
        pytest.param("r", "w", {"W"}, id="w for r"),
        pytest.param("s", "lateral", set(), id="lateral is no sound of the language"),
        pytest.param("s", "omitted", set(), id="nothing said"),
    ],
)
def test_rivals(sound: str, error: str, substitutes: set[str]) -> None:
    assert set(needs(sound, error).substitutes) == substitutes


def test_the_partner_is_not_there_unless_told() -> None:
    assert needs("k", "t").partner == "G"
    assert needs("k", "t", there=True).partner == ""
    assert needs("r", "w").partner == ""


def test_words_of_all_steps_and_programs_are_taken() -> None:
    assert {"key", "my"} <= needs("k", "t").taken
    one, other = (
        client_of(PROGRAM.format(sound=s, error="omitted", words=w)).programs[0]
        for s, w in (("k", "key"), ("s", "soap"))
    )
    assert {"key", "my", "soap"} <= needs_of(one, others=[other]).taken


def test_both_words_of_a_pair_are_taken() -> None:
    text = PROGRAM.format(sound="k", error="t", words="cow")
    pair = "level: word, contrast: [[key, tea]]"
    assert {"key", "tea"} <= words_said(client_of(text.replace("level: word", pair)).programs[0])


@pytest.mark.parametrize(
    ("sound", "error", "phones", "said"),
    [
        pytest.param("k", "t", "K AE1 P", ["T AE P"], id="the target alone"),
        pytest.param("k", "t", "K IH1 G", ["T IH G", "T IH D"], id="its partner as well"),
        pytest.param("s", "omitted", "S IY1", ["IY"], id="left out"),
        pytest.param("ch", "frontal", "CH IH1 N", ["T S IH N"], id="an affricate"),
        pytest.param("k", "distorted", "K AE1 P", [], id="no sound to put in"),
    ],
)
def test_misread(sound: str, error: str, phones: str, said: list[str]) -> None:
    forms = said_with_error(tuple(phones.split()), needs(sound, error))
    assert [" ".join(form) for form in forms] == said


@pytest.mark.parametrize(
    ("phones", "unsuitable"),
    [
        pytest.param("SH AH1 N", True, id="a shun that comes out as an unsuitable word"),
        pytest.param("SH AH1 N ER0", True, id="with an ending"),
        pytest.param("SH AH1 M P", False, id="another word"),
    ],
)
def test_words_that_sound_unsuitable(phones: str, unsuitable: bool) -> None:
    bad = unsuitable_forms(few("gun G AH1 N", "key K IY1"))
    client = Needs(target="SH", said_instead=("G",))
    assert sounds_unsuitable(tuple(phones.split()), client, bad) is unsuitable
