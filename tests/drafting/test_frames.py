from __future__ import annotations

import re
from itertools import pairwise
from typing import cast

import pytest

from builder.drafting.frames import AGES, READY, Frame, Longer, frames
from builder.drafting.word_kinds import NUMBERS, OTHERS, SIZES, Age, company_of, nouns, word
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.readings import entry
from builder.program_file.pronounce import words_of
from builder.wordbank.norms import classes

LEVELS: tuple[Longer, ...] = ("phrase", "sentence")
SLOTS = re.compile(r"\{\w+\}|\[\w*\|\w*\]")
DOUBLE = frames("double")
ALL = [(level, frame) for level in LEVELS for frame in frames(level)]
KNOWN = {one for noun in nouns().values() for one in noun.classes} | {*OTHERS, "noun"}


def frame(text: str, of: str, only: str = "", ages: str = "small school adult") -> Frame:
    found = cast("list[Age]", ages.split())
    return Frame(text, frozenset(of.split()), frozenset(found), frozenset(only.split()), 0)


def filled(text: str, of: str, age: Age = "school") -> str:
    found = word(of)
    assert found is not None
    return next(frame(text, " ".join(found.kinds)).fill(found, age))


@pytest.mark.parametrize(
    ("text", "of", "said"),
    [
        ("{a} {noun}", "cow", "a cow"),
        ("{a} {noun}", "egg", "an egg"),
        ("{a} {noun}", "unicorn", "a unicorn"),
        ("{a} {noun}", "soup", "some soup"),
        ("{a} {noun}", "scissors", "some scissors"),
        ("{a} {noun}", "sun", "the sun"),
        ("{a} old {noun}", "cow", "an old cow"),
        ("{a} big {noun}", "egg", "a big egg"),
        ("two {nouns}", "mouse", "two mice"),
        ("hi, {Noun}", "grandma", "hi, Grandma"),
        ("Here [is|are] my {noun}.", "key", "Here is my key."),
        ("Here [is|are] my {noun}.", "scissors", "Here are my scissors."),
        ("Here come[s|] the {noun}.", "cow", "Here comes the cow."),
        ("The {noun} [is|are] hot.", "soup", "The soup is hot."),
        ("I see {a} {word} {with}.", "angry", "I see an angry man."),
        ("The {with} [is|are] {word}.", "curly", "The hair is curly."),
        ("I can {word} {with}.", "kick", "I can kick the ball."),
        ("I can {word} {with}.", "sneeze", "I can sneeze a lot."),
        ("I have {word} {with}.", "seven", "I have seven cups."),
        ("{sentence}", "hello", "Hello, who is it?"),
        ("{phrase}", "hello", "hello you"),
    ],
)
def test_natural_english(text: str, of: str, said: str) -> None:
    assert filled(text, of) == said


def test_an_adult_also_says_what_children_do_not() -> None:
    found = word("drive")
    assert found is not None
    lines = frame("I {word} {with}.", "verb")
    assert "I drive to work." in set(lines.fill(found, "adult"))
    assert "I drive to work." not in set(lines.fill(found, "small"))


@pytest.mark.parametrize(
    ("of", "only", "text", "takes"),
    [
        ("drink", "", "milk", True),
        ("drink", "", "cow", False),
        ("snack", "counted", "egg", True),
        ("meal", "counted", "soup", False),
        ("farm", "large", "cow", True),
        ("farm", "large", "hen", False),
        ("kin", "", "grandma", True),
        ("noun verb quality", "", "although", False),
        ("verb", "", "jump", True),
    ],
)
def test_a_line_takes_what_it_is_natural_with(of: str, only: str, text: str, takes: bool) -> None:
    found = word(text)
    assert found is not None
    assert frame("x {noun}", of, only).takes(found, "school") is takes


@pytest.mark.parametrize(
    ("text", "of", "never"),
    [
        ("I can {word} {with}.", "help", "I can help me."),
        ("We can {word} {with}.", "comb", "We can comb my hair."),
        ("Can you {word} {with}?", "miss", "Can you miss you?"),
    ],
)
def test_nobody_does_to_himself_what_one_does_to_others(text: str, of: str, never: str) -> None:
    found = word(of)
    assert found is not None
    assert never not in set(frame(text, "verb").fill(found, "school"))


def test_a_line_is_for_its_ages() -> None:
    found = word("coach")
    assert found is not None
    assert not frame("Call the {noun}.", "worker", ages="adult").takes(found, "small")


@pytest.mark.parametrize(("level", "frame"), ALL, ids=lambda x: getattr(x, "text", x))
def test_every_line_can_be_said(level: Longer, frame: Frame) -> None:
    plain = frame.text.replace("[s|]", "").replace("[is|are]", "is").replace("[was|were]", "was")
    plain = plain.replace("{", " ").replace("}", " ")
    assert frame.of <= KNOWN, "a kind of word that is not there"
    assert frame.only <= {*NUMBERS, *SIZES}
    assert frame.ages
    assert all(pronunciations(w.lower()) for w in words_of(plain))
    if frame.text not in READY:
        assert (frame.text[-1] in ".!?") is (level == "sentence")
        assert sum(frame.text.count(s) for s in ("{noun", "{Noun", "{word}")) == 1


def test_every_kind_of_word_has_lines_at_every_age_that_hold_few_sounds_in_common() -> None:
    for level in LEVELS:
        for kind in KNOWN - {"called", "seat", "cabin", "noun"}:
            for age in AGES:
                lines = [f for f in frames(level) if kind in f.of and age in f.ages]
                assert len(lines) >= (1 if kind == "ready" else 3), (level, kind, age)


@pytest.mark.parametrize("kind", OTHERS)
def test_all_company_can_be_said(kind: str) -> None:
    for name, (first, second) in company_of(kind).items():
        assert first, name
        for one in (name, *first, *second):
            unknown = [w for w in words_of(one) if not pronunciations(w.lower())]
            assert not unknown, (name, unknown)


def read_in_two_ways(word: str) -> bool:
    """As `check` asks: two sources or more hold each of two readings with different meanings."""
    found = entry(word)
    return found.heteronym and sum(len(r.sources) > 1 for r in found.readings) > 1


@pytest.mark.parametrize(("name", "two"), [("read", True), ("use", True), ("see", False)])
def test_words_read_in_two_ways_are_seen(name: str, two: bool) -> None:
    assert read_in_two_ways(name) is two


def test_an_article_before_a_practised_word_goes_by_its_first_sound() -> None:
    """No `a` of a line stands before a place for a word: "I want to be an actor."."""
    lines = [f.text for _, f in ALL] + [f.text for f in DOUBLE]
    assert [text for text in lines if re.search(r"\b[Aa]n? \{", text)] == []


def test_no_line_asks_how_a_word_is_meant() -> None:
    around = [f.text for _, f in ALL] + [f.text for f in DOUBLE]
    lists = (lists for kind in OTHERS for lists in company_of(kind).values())
    company = [one for lists_of in lists for listed in lists_of for one in listed]
    said = {w.lower() for text in (*around, *company) for w in words_of(SLOTS.sub(" ", text))}
    assert len(said) > 400
    assert [name for name in said if read_in_two_ways(name)] == []


def test_whole_lines_of_small_words_are_phrases_and_sentences_with_the_word() -> None:
    for name, (phrases, sentences) in company_of("ready").items():
        assert len(sentences) >= 2, name
        for line in (*phrases, *sentences):
            assert name in {w.lower() for w in words_of(line)}, line
        assert all(line[-1] not in ".?!" for line in phrases), name
        assert all(line[-1] in ".?!" for line in sentences), name


def adjectives_side_by_side(text: str) -> list[str]:
    """Pairs of neighboring adjectives, {word} of a quality taken as one."""
    names = ["{word}" if w == "word" else w.lower() for w in words_of(text)]
    known = [w == "{word}" or "adjective" in classes(w) for w in names]
    pairs = zip(pairwise(names), pairwise(known), strict=True)
    return [" ".join(two) for two, (left, right) in pairs if left and right]


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        ("a red big {noun}", ["red big"]),
        ("a big {noun}", []),
        ("a white {word} hat", ["white {word}"]),
    ],
)
def test_adjectives_are_seen(text: str, pairs: list[str]) -> None:
    assert adjectives_side_by_side(text) == pairs


def test_no_line_has_an_order_of_adjectives_to_get_wrong() -> None:
    """Opinion, size, age, colour: no line has two of them, so none has them in a wrong order."""
    spoken = [f.text for _, f in ALL if not f.of & {"verb", "number"}]
    assert [text for text in spoken if adjectives_side_by_side(text)] == []


@pytest.mark.parametrize(
    ("line", "one", "two", "said"),
    [
        ("I want {a} {noun} and {a} {other}.", "apple", "soup", "I want an apple and some soup."),
        ("I want {a} {noun} and {a} {other}.", "soup", "egg", "I want some soup and an egg."),
        ("Put the {noun} by the {other}.", "key", "cup", "Put the key by the cup."),
    ],
)
def test_each_of_two_nouns_has_its_own_article(line: str, one: str, two: str, said: str) -> None:
    first, second = word(one), word(two)
    assert first is not None
    assert second is not None
    assert frame(line, "noun").fill_both(first, second) == said


@pytest.mark.parametrize("double", DOUBLE, ids=lambda x: x.text)
def test_every_line_for_two_nouns_can_be_said(double: Frame) -> None:
    assert double.of | double.other <= KNOWN | {"same"}
    assert double.other
    plain = double.text.replace("[is|are]", "is").replace("{", " ").replace("}", " ")
    assert all(pronunciations(w.lower()) for w in words_of(plain))
    assert double.text.count("{noun}") == double.text.count("{other}") == 1
    assert double.text[-1] in ".?"


def lines_for(text: str, age: Age = "small") -> set[str]:
    """All lines around a word, for a second one beside it too."""
    one, others = word(text), [word("shoe"), word("cow")]
    assert one
    assert all(others)
    alone = {
        line
        for level in LEVELS
        for f in frames(level)
        if f.takes(one, age)
        for line in f.fill(one, age)
    }
    pairs = {
        f.fill_both(other, one)
        for f in DOUBLE
        for other in others
        if other and f.takes_both(other, one, age)
    }
    return alone | pairs


def test_one_says_good_bye_to_who_lives_and_is_in_what_one_gets_into() -> None:
    """Common practice, no source: what a native speaker would say to a child."""
    assert "bye, cow" in lines_for("cow")
    assert [line for line in lines_for("ship") if "bye" in line.lower()] == []
    assert "My shoe is in the van." in lines_for("van")
    assert [w for w in ("ship", "bus", "train") if f"My shoe is in the {w}." in lines_for(w)] == []


def test_only_what_a_hand_holds_is_in_it_and_only_what_a_bag_holds_goes_there() -> None:
    def held(text: str, what: str) -> bool:
        return any(line.endswith(f"in my {what}.") for line in lines_for(text, "adult"))

    assert held("acorn", "hand")
    assert [w for w in ("log", "stump", "branch", "shadow") if held(w, "hand")] == []
    assert [w for w in ("log", "raindrop", "shadow") if held(w, "bag")] == []


def test_nobody_is_asked_to_do_to_another_what_the_asker_would_do() -> None:
    assert "I can thank you." in lines_for("thank")
    assert "Please thank you." not in lines_for("thank")


def test_nobody_is_asked_to_do_what_befalls_one() -> None:
    """Common practice, no source: what a native speaker would say."""
    lines = lines_for("lose", "school")
    assert "Did you lose it?" in lines
    assert [line for line in lines if re.search("want to|[Ll]et me|[Pp]lease", line)] == []


def test_one_greets_what_lives_with_people_and_is_in_what_has_an_inside() -> None:
    """Common practice, no source."""
    assert "hi, cow" in lines_for("cow")
    assert [w for w in ("fish", "bug", "shark") if f"hi, {w}" in lines_for(w)] == []
    assert "in the yard" in lines_for("yard")
    assert "in the dock" not in lines_for("dock", "school")
