from __future__ import annotations

from dataclasses import replace

import pytest

from builder import checks
from builder.checks import CHECKS
from builder.checks.lists import RESERVED
from builder.checks.rules import RULES
from tests.support.clients import NOTHING, VISIT, client_of, findings_of, rules_of

BODY = "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\n"
STEP = "steps:\n  - {name: a, level: word}\n"
WORDS = [
    "key",
    "cow",
    "cup",
    "comb",
    "coin",
    "cave",
    "cat",
    "kite",
    "king",
    "can",
    "card",
    "coat",
    "corn",
    "cage",
    "cape",
    "kiss",
    "kit",
    "cab",
    "cord",
    "curl",
    "cart",
]


def listed(words: list[str]) -> list[str]:
    return rules_of(f"{BODY}words: [{', '.join(words)}]\n{STEP}")


def test_lengths_and_doubles() -> None:
    assert listed(WORDS[:4]) == ["few-tries"] or listed(WORDS[:4]) == []
    assert "few-items" in listed(WORDS[:3])
    assert "many-items" in listed(WORDS)
    assert listed([*WORDS[:6], "Key"]) == ["twice"]


@pytest.mark.parametrize(
    ("again", "sentence"),
    [
        (["Key"], "'Key' is listed twice in `a`."),
        (["key"] * 8, "'key' is listed 9 times in `a`."),
        (["cow", "key", "cow"], "'cow' and 'key' are listed more than once in `a`."),
    ],
)
def test_repeats_in_a_list_are_one_finding(again: list[str], sentence: str) -> None:
    found = findings_of(f"{BODY}words: [{', '.join([*WORDS[:6], *again])}]\n{STEP}")
    assert [f.sentence for f in found if f.rule == "twice"] == [sentence]


def test_a_reminder_is_four_words() -> None:
    words = f"words: [{', '.join(WORDS[:6])}]\n"
    assert rules_of(f"{BODY}reminder: Back of the tongue\n{words}{STEP}") == []
    assert rules_of(f"{BODY}reminder: Put the tongue back now\n{words}{STEP}") == ["reminder"]


def test_reasons_must_answer_a_rule() -> None:
    words = f"words: [{', '.join(WORDS[:6])}]\n"
    assert rules_of(f"{BODY}because: {{twise: so}}\n{words}{STEP}") == ["because"]


def test_every_rule_has_a_source() -> None:
    assert all(rule.about and rule.source for rule in RULES.values())
    assert len(set(CHECKS)) == len(CHECKS)


@pytest.mark.parametrize(
    ("words", "phrases", "entries"),
    [
        ("[key, cow cup, comb, coin]", "[my key]", ["'cow cup' is one entry."]),
        (
            "[key, cow, cup, comb]",
            "[my key my cow, a cup]",
            ["'my key my cow' is one entry."],
        ),
        ("[key, cow, cup, comb]", "[my key, my cow]", []),
    ],
)
def test_a_missing_comma_is_asked_after(words: str, phrases: str, entries: list[str]) -> None:
    steps = f"{STEP}  - {{name: b, level: phrase, items: {phrases}}}\n"
    found = findings_of(f"{BODY}words: {words}\n{steps}")
    assert [f.sentence for f in found if f.rule == "comma"] == entries


def test_a_list_for_another_sound_is_told_once() -> None:
    found = findings_of(f"{BODY}words: [fan, fish, foot, four, phone, key]\n{STEP}")
    assert [f.rule for f in found] == ["no-target"]
    assert found[0].sentence == (
        "5 of the 6 entries have no /k/: 'fan', 'fish', 'foot', 'four' and 'phone'."
    )


def test_of_words_listed_twice_as_many_are_named_as_are_counted() -> None:
    twice = "fan, fish, foot, four, phone, fog, fun"
    found = findings_of(f"{BODY}words: [{twice}, {twice}]\n{STEP}")
    (told,) = (f for f in found if f.rule == "no-target")
    assert told.sentence.startswith("7 of the 7 entries have no /k/: 'fan', 'fish',")
    assert told.sentence.endswith("'phone' and 2 more.")


def test_a_file_named_after_another_client() -> None:
    client = client_of(f"{BODY}{VISIT}\nwords: [{', '.join(WORDS[:6])}]\n{STEP}")
    for name, rules in (
        ("finch-10.yaml", []),
        ("finch-10-k.yaml", []),
        ("wren-11.yaml", ["file-name"]),
    ):
        program = replace(client.programs[0], file=name)
        found = checks.run(replace(client, programs=(program,)), NOTHING)
        assert [f.rule for f in found] == rules, name


@pytest.mark.parametrize("name", RESERVED)
def test_names_that_the_site_needs(name: str) -> None:
    step = f"steps:\n  - {{name: a, level: word, id: {name}}}\n"
    assert rules_of(f"{BODY}words: [{', '.join(WORDS[:6])}]\n{step}") == ["reserved"]


def test_a_step_takes_no_folder_of_a_language() -> None:
    step = f"words: [{', '.join(WORDS[:6])}]\nsteps:\n  - {{name: a, id: es, level: word}}\n"
    assert rules_of(BODY + step) == []
    assert set(rules_of(f"{BODY}interface: [en, es]\n{step}")) == {"reserved", "not-read"}


def test_the_longest_address_of_a_step_is_that_of_a_further_language() -> None:
    name = "a" * 35  # https://practice.example.org/, 13 letters, a slash on either side: 79 in all
    step = f"words: [{', '.join(WORDS[:6])}]\nsteps:\n  - {{name: a, id: {name}, level: word}}\n"
    assert rules_of(BODY + step) == []
    assert "address" in rules_of(f"{BODY}interface: [en, es]\n{step}")


@pytest.mark.parametrize("name", ["con", "prn", "aux", "nul", "com1", "com9", "lpt1"])
def test_names_that_no_folder_has_on_windows(name: str) -> None:
    words = f"words: [{', '.join(WORDS[:6])}]\n"
    (found,) = findings_of(f"{BODY}{words}steps:\n  - {{name: a, level: word, id: {name}}}\n")
    assert found.rule == "reserved"
    assert found.sentence == (
        f"A step cannot have the id `{name}`: Windows has no folders of that name."
    )
    assert rules_of(f"{BODY}{words}steps:\n  - {{name: a, level: word, id: {name}-a}}\n") == []


def test_a_word_may_stand_in_two_lists() -> None:
    text = "sound: l\nposition: [initial, final]\n"
    words = "words: {initial: [little, leaf, lamp, log], final: [little, ball, hill, doll]}\n"
    assert "twice" not in rules_of(f"{text}current: a\n{words}{STEP}")
