from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.program import Program
from builder.phonetics.inventory import parse_sound
from builder.phonetics.lexicon.index import Index
from builder.phonetics.position import Position
from builder.wordbank import unsuitable
from builder.wordbank.filters import Query
from builder.wordbank.needs import (
    Needs,
    lacked_in,
    needs_for,
    needs_with,
    said_with_error,
    sounds_unsuitable,
    unsuitable_forms,
    words_said,
)
from builder.wordbank.suggest import offer
from tests.phonetics.conftest import index
from tests.support.clients import client_of
from tests.support.wordbank_index import Few, Row, few

__all__ = ["index"]

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
    return needs_for(program, partner_there=there)


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
    assert {"key", "my", "soap"} <= needs_for(one, [other]).taken


def test_words_of_texts_and_of_the_places_of_talks_are_taken() -> None:
    past = (
        '  - {name: the fox, level: reading, passage: "The cook\'s keys. Two CUPS!"}\n'
        "  - {name: shop, level: talk, where: at the counter, with: Grandpa, minutes: 5}\n"
    )
    text = PROGRAM.format(sound="k", error="t", words="key").replace("reads: no", "reads: yes")
    taken = words_said(client_of(text + past).programs[0])
    assert {"cook's", "keys", "cups", "counter"} <= taken
    assert "grandpa" not in taken


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
    client = Needs(target="SH", said_instead=("G",))
    assert sounds_unsuitable(tuple(phones.split()), client, GUN) is unsuitable


GUN = frozenset({("G", "AH", "N")})


def test_only_coarse_words_that_people_know_count() -> None:
    known, rare = sorted(word for word in unsuitable.coarse_only() if word.isalpha())[:2]
    rows = [Row(known, ("M", "AH1"), 4.0), Row(rare, ("N", "AH1"), 2.0)]
    assert unsuitable_forms(Few([Row("gun", ("G", "AH1", "N")), *rows])) == {("M", "AH")}


FINCH = """\
client: finch-03
sound: {sound}
position: [{place}]
current: words
{more}
words: {{{place}: [{words}]}}
steps:
  - {{name: words, level: word}}
  - {{name: sentences, level: sentence, items: [I see a {words}.]}}
"""


def finch(**given: str) -> Program:
    return client_of(FINCH.format_map({"more": "", **given})).programs[0]


@pytest.mark.parametrize(
    ("place", "sound", "more", "word", "offered"),
    [
        pytest.param("initial", "g", "lacks: [k]", "garlic G AA1 R L IH0 K", False, id="garlic"),
        pytest.param("initial", "g", "lacks: [k]", "gate G EY1 T", True, id="gate"),
        pytest.param("initial", "s", "lacks: [r]", "sunrise S AH1 N R AY2 Z", False, id="sunrise"),
        pytest.param("final", "s", "lacks: [r]", "nurse N ER1 S", False, id="nurse"),
        pytest.param("final", "s", "lacks: [r]", "purse P ER1 S", False, id="purse"),
        pytest.param("final", "s", "lacks: [r]", "house HH AW1 S", True, id="house"),
        pytest.param("initial", "g", "", "goat G OW1 T", True, id="goat, t is at sentences"),
    ],
)
def test_what_any_program_of_the_client_lacks_is_not_offered(
    place: Position, sound: str, more: str, word: str, offered: bool
) -> None:
    own = finch(sound=sound, place=place, words="xx")
    other = finch(sound="t", place="initial", words="toe", more=more)
    other = replace(other, current=(1,))
    query = Query(sound=parse_sound(sound), position=place, wide=True)
    found = offer(few(word), query, needs_for(own, [other]))
    assert [o.word for o in found] == [word.split()[0]] * offered


def test_what_another_program_still_teaches_is_lacking() -> None:
    own, other = (finch(sound=s, place="initial", words="toe") for s in ("g", "t"))
    assert needs_for(own, [other]).lacks == ("T",)
    assert needs_for(own, [replace(other, current=(1,))]).lacks == ()
    assert needs_for(own, [own]).lacks == ()


@pytest.mark.parametrize(
    ("target", "lacking", "there", "lacks"),
    [
        pytest.param("ar", [], [], "ER EHR IHR AYR AOR", id="the family of a vowel + r"),
        pytest.param("er", ["r"], ["or", "ar"], "R EHR IHR AYR", id="but for what is there"),
        pytest.param("er", ["or"], ["or"], "AOR AAR EHR IHR AYR", id="what is lacking lacks"),
        pytest.param("s", ["r"], [], "R ER AAR EHR IHR AYR AOR", id="with a consonant r, too"),
        pytest.param("s", ["r"], ["er"], "R AAR EHR IHR AYR AOR", id="unless it is told"),
        pytest.param("r", [], [], "ER", id="who learns the r may learn that of car"),
        pytest.param("s", ["sh"], [], "SH", id="another sound alone"),
    ],
)
def test_vowels_with_r_are_one_family(
    target: str, lacking: list[str], there: list[str], lacks: str
) -> None:
    """Common practice, no source: they come, and go wrong, together."""
    sounds = [tuple(map(parse_sound, names)) for names in (lacking, there)]
    assert needs_with(parse_sound(target), "", *sounds).lacks == tuple(lacks.split())


@pytest.mark.parametrize(
    ("word", "target", "lacked"),
    [
        pytest.param("B EH1 R", "air", (), id="the r of bear is the target's own"),
        pytest.param("P EH1 R AH0 T", "air", (), id="so is that of parrot"),
        pytest.param("R IH1 R", "ear", ("R",), id="that of rear is not"),
        pytest.param("F AA1 R M ER0", "ar", ("ER",), id="farmer has another vowel + r"),
        pytest.param("N ER1 S", "s", ("ER",), id="nurse, for an s"),
        pytest.param("S AH1 N R AY2 Z", "s", ("R",), id="sunrise"),
    ],
)
def test_a_consonant_r_that_is_lacking(word: str, target: str, lacked: tuple[str, ...]) -> None:
    client = needs_with(parse_sound(target), "", [parse_sound("r")])
    assert lacked_in(tuple(word.split()), client) == lacked


def test_th_as_in_thumb_goes_without_th_as_in_this() -> None:
    th = needs_with(parse_sound("/θ/"), parse_sound("f"))
    both = Row("thirty", ("TH", "IH1", "DH", "ER0"))
    names = [
        "dog",
        "cat",
        "cow",
        "pig",
        "hen",
        "duck",
        "goat",
        "bear",
        "lion",
        "bird",
        "cub",
        "owl",
    ]
    others = [Row(n, ("TH", "AH1", phone)) for n, phone in zip(names, "PBTDKGNZSLMW", strict=True)]
    query = Query(sound=parse_sound("/θ/"), position="initial", wide=True)
    assert "thirty" in {o.word for o in offer(Few([both, *others[:3]]), query, th)}
    assert "thirty" not in {o.word for o in offer(Few([both, *others]), query, th)}


@pytest.mark.parametrize("word", ["spoon", "spot", "spill"])
def test_a_cluster_may_come_out_as_another_word(index: Index, word: str) -> None:
    row = index.row(word)
    assert row
    client = needs_with(parse_sound("s"), "omitted")
    assert said_with_error(row.phones, client)
    assert not sounds_unsuitable(row.phones, client, unsuitable_forms(index))
