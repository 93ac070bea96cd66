from __future__ import annotations

from builder.checks import CHECKS
from builder.checks.rules import RULES
from tests.clients import rules_of

BODY = "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\n"
STEP = "steps:\n  - {name: a, level: word}\n"
WORDS = [
    "key", "cow", "cup", "comb", "coin", "cave", "cat", "kite", "king", "can", "card", "coat",
    "corn", "cage", "cape", "kiss", "kit", "cab", "cord", "curl", "cart",
]  # fmt: skip


def listed(words: list[str]) -> list[str]:
    return rules_of(f"{BODY}words: [{', '.join(words)}]\n{STEP}")


def test_lengths_and_doubles() -> None:
    assert listed(WORDS[:4]) == ["few-tries"] or listed(WORDS[:4]) == []
    assert "few-items" in listed(WORDS[:3])
    assert "many-items" in listed(WORDS)
    assert listed([*WORDS[:6], "Key"]) == ["twice"]


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
