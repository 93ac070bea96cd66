from __future__ import annotations

import pytest

from builder.phonetics.inventory import sounds
from tests.support.clients import rules_of

# Which sounds can be held: general phonetics (Ladefoged & Johnson, A Course in Phonetics), from
# memory: fricatives, nasals, liquids yes; stops and affricates no; glides and h turn into others.
HELD = ("F", "V", "TH", "DH", "S", "Z", "SH", "ZH", "M", "N", "NG", "L", "R")
NEVER = ("P", "B", "T", "D", "K", "G", "CH", "JH")
BARELY = ("W", "Y", "HH")


def long_round(symbol: str, level: str = "syllable") -> list[str]:
    sound = sounds()[symbol]
    position = "final" if symbol == "NG" else "initial"
    return rules_of(
        f"sound: /{sound.ipa}/\nposition: {position}\nmastered: {{isolation: 2026-10-01}}\n"
        f"current: a\nsteps:\n  - {{name: a, level: {level}, rounds: [long imitation]}}\n"
    )


@pytest.mark.parametrize("symbol", HELD)
def test_can_be_held(symbol: str) -> None:
    assert long_round(symbol) == ["few-tries"] or long_round(symbol) == []


@pytest.mark.parametrize("symbol", NEVER)
def test_cannot_be_held(symbol: str) -> None:
    assert "no-hold" in long_round(symbol)


@pytest.mark.parametrize("symbol", BARELY)
def test_changes_when_held(symbol: str) -> None:
    assert "weak-hold" in long_round(symbol)


@pytest.mark.parametrize(
    ("seconds", "rule"),
    [(1, None), (3, None), (3.5, "hold-long"), (5, "hold-long"), (6, "hold-strain")],
)
def test_how_long(seconds: float, rule: str | None) -> None:
    # 1-2 s is the default, advice above 3 s, fault above 5 s: common practice, no source.
    found = rules_of(
        "sound: f\nposition: initial\ncurrent: a\nsteps:\n"
        f"  - {{name: a, level: isolation, hold: {seconds}}}\n"
    )
    assert [r for r in found if r.startswith("hold")] == ([rule] if rule else [])
