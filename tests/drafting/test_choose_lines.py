from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from builder.drafting import choose_lines
from builder.drafting.frames import Longer
from builder.drafting.line_difficulty import Limits, difficulty, limits
from builder.drafting.word_kinds import word, words
from builder.phonetics.inventory import bare, parse_sound
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import Position, occurrences
from builder.program_file.pronounce import Target, words_of
from builder.wordbank.needs import needs_with

CASES: list[tuple[str, Position, str, str]] = [
    ("k", "initial", "t", "key cow cup comb coin corn candle camel"),
    ("k", "final", "t", "book duck rock sock cake bike lake truck"),
    ("sh", "initial", "s", "ship shell sheep shark shoe shirt shovel"),
    ("s", "final", "frontal", "bus house mouse goose ice dress juice"),
    ("f", "initial", "", "fan foot fish fork food fire farm phone"),
    ("l", "initial", "w", "leaf leg lion lamp lemon log lid lake"),
    ("r", "initial", "w", "red rug rain rope rabbit ring road rock"),
    ("/θ/", "final", "f", "bath tooth mouth moth path teeth"),
    ("m", "final", "", "comb game drum ham room broom"),
    ("t", "medial", "k", "button kitten potato water guitar tomato"),
    ("ch", "initial", "sh", "chair cheese chick chin cherry chalk"),
    ("v", "initial", "b", "van vest vase violin volcano vet"),
]

EASY = ["key", "cow", "cup", "comb", "coin", "corn"]


def limit_of(sound: str, position: Position, error: str) -> Limits:
    said = parse_sound(error) if error and error != "frontal" else error
    return limits(Target(parse_sound(sound), (position,)), needs_with(parse_sound(sound), said))


@pytest.mark.parametrize("level", ["phrase", "sentence"])
@pytest.mark.parametrize(("sound", "position", "error", "listed"), CASES)
def test_lines_hold_one_practised_word_and_no_other_target(
    sound: str, position: Position, error: str, listed: str, level: Longer
) -> None:
    practised = words(listed.split())
    lines = choose_lines.varied_lines(practised, level, limit_of(sound, position, error), age=6)
    assert choose_lines.MIN_LINES <= len(set(lines)) <= choose_lines.MAX_LINES
    assert [len(words_of(line)) for line in lines] == sorted(len(words_of(x)) for x in lines)
    forms = {w.text for w in practised} | {w.plural for w in practised}
    for line in lines:
        others = [w.lower() for w in words_of(line) if w.lower() not in forms]
        assert len(others) == len(words_of(line)) - 1, line
        for other in others:
            said = pronunciations(other)
            assert not any(occurrences(p, parse_sound(sound)) for p in said), (line, other)


@pytest.mark.parametrize("level", ["phrase", "sentence"])
@pytest.mark.parametrize(("sound", "position", "error", "listed"), CASES)
def test_a_few_carriers_change_only_their_word(
    sound: str, position: Position, error: str, listed: str, level: Longer
) -> None:
    practised = words(listed.split())
    lines = choose_lines.carrier_lines(practised, level, limit_of(sound, position, error), age=5)
    assert len(lines) >= choose_lines.MIN_LINES
    around = Counter(
        " ".join("_" if w in listed else w.removesuffix("s") for w in words_of(x)) for x in lines
    )  # a verb goes by the number of the noun: my tooth hurts, my teeth hurt
    assert len(around) <= choose_lines.MAX_CARRIERS
    single = [carrier for carrier, count in around.items() if count < choose_lines.MIN_CARRIED]
    assert len(single) <= 1, around


@pytest.mark.parametrize(("sound", "position", "error", "listed"), CASES)
def test_half_of_the_sentences_have_the_word_inside(
    sound: str, position: Position, error: str, listed: str
) -> None:
    practised = words(listed.split())
    lines = choose_lines.varied_lines(
        practised, "sentence", limit_of(sound, position, error), age=8
    )
    last = [line for line in lines if words_of(line)[-1] in listed.split()]
    assert len(lines) / 4 <= len(last) <= len(lines) * 5 / 8, lines


def test_the_voiced_partner_and_what_is_lacked_are_avoided() -> None:
    practised = words(EASY)
    target = Target(parse_sound("k"), ("initial",))
    needs = needs_with(target.sound, parse_sound("t"), [parse_sound("v")])
    lines = choose_lines.varied_lines(practised, "sentence", limits(target, needs), age=6)
    around = {w.lower() for line in lines for w in words_of(line)} - {w.text for w in practised}
    assert around
    assert not {"G", "V"} & {bare(p) for w in around for p in pronunciations(w)[0]}


def test_what_is_said_instead_is_kept_out_of_the_rest_of_a_line() -> None:
    practised = words(["grass", "grandma", "growl", "gravy", "great", "grandpa", "grasshopper"])
    lines = choose_lines.varied_lines(practised, "sentence", limit_of("r", "initial", "w"), age=7)
    said = {bare(p) for line in lines for w in words_of(line) for p in pronunciations(w.lower())[0]}
    assert len(lines) >= choose_lines.MIN_LINES
    assert "W" not in said


@pytest.mark.parametrize(
    ("sound", "position", "text", "of"),
    [
        ("k", "initial", "look, my cow", "cow"),  # final k
        ("s", "initial", "I see this sock", "sock"),  # final s
        ("r", "initial", "here is my rug", "rug"),  # vowel + r
        ("s", "final", "my bus stop", "bus"),  # another target, and two run into one
        ("k", "final", "book game", "book"),  # k not let go before g
        ("s", "final", "miss you", "miss"),  # drawn over to sh
        ("s", "initial", "his sock", "sock"),
        ("k", "initial", "my xqzt cow", "cow"),  # nobody knows how it is said
    ],
)
def test_what_must_not_be_said(sound: str, position: Position, text: str, of: str) -> None:
    found = word(of)
    assert found is not None
    assert difficulty(text, found, limit_of(sound, position, "")) is None


def test_no_line_is_drafted_with_a_word_of_no_known_kind() -> None:
    limit = limit_of("k", "initial", "")
    lines = choose_lines.varied_lines(words(["conceive", "key"]), "phrase", limit)
    assert lines
    assert not any("conceive" in line for line in lines)


def test_a_second_step_says_other_lines() -> None:
    practised, limit = words(EASY), limit_of("k", "initial", "t")
    first = choose_lines.varied_lines(practised, "sentence", limit, age=7)
    second = choose_lines.varied_lines(practised, "sentence", limit, age=7, taken=first)
    assert len(first) >= choose_lines.MIN_LINES
    assert len(second) >= choose_lines.MIN_LINES
    assert not set(first) & set(second)


@pytest.mark.parametrize("age", [4, 5, 6, 7])
def test_sentences_fit_the_age(age: int) -> None:
    practised, limit = words(EASY), limit_of("k", "initial", "t")
    lines = choose_lines.varied_lines(practised, "sentence", limit, age=age)
    assert max(len(words_of(line)) for line in lines) <= age + 1


# Some lists hold too few nouns that go together: a comb and a ham.
TOGETHER = [case for case in CASES if case[0] not in ("m", "/θ/")]


@pytest.mark.parametrize(("sound", "position", "error", "listed"), TOGETHER)
def test_sentences_of_two_practised_words(
    sound: str, position: Position, error: str, listed: str
) -> None:
    practised, limit = words(listed.split()), limit_of(sound, position, error)
    taught = replace(limit, trained=frozenset(listed.split()))
    lines = choose_lines.double_lines(practised, taught, age=7)
    assert len(lines) >= choose_lines.MIN_DOUBLE
    pairs = [frozenset(w for w in words_of(line) if w in listed.split()) for line in lines]
    assert {len(pair) for pair in pairs} == {2}
    assert len(set(pairs)) == len(pairs)


@pytest.mark.parametrize(("sound", "position", "error", "listed"), TOGETHER)
def test_no_two_words_are_said_the_other_way_round_too(
    sound: str, position: Position, error: str, listed: str
) -> None:
    """As in "I want a salad and some soup." beside "I want some soup and a salad."."""
    lines = choose_lines.doubles(words(listed.split()), limit_of(sound, position, error), 10, age=7)
    same = Counter(" ".join(sorted(words_of(line.lower()))) for line in lines if " and " in line)
    assert [text for text, number in same.items() if number > 1] == []


def test_a_content_word_with_the_voicing_partner_stands_back_and_a_small_word_does_not() -> None:
    """The check tells of a partner in a content word alone (checks/lacking.py)."""
    limit = limit_of("g", "initial", "d")
    found = word("goat")
    assert found is not None
    plain, told = (difficulty(text, found, limit) for text in ("see the goat", "look at the goat"))
    assert plain is not None
    assert told is not None
    assert told - plain > choose_lines.REPEAT_COST / choose_lines.DIFFICULTY_WEIGHT
