"""Every word that the word bank offers from the real index passes the check it was asked for."""

from __future__ import annotations

import pytest

from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.index import Index
from builder.phonetics.position import POSITIONS, Position
from builder.wordbank.filters import Query
from builder.wordbank.suggest import offer
from tests.phonetics.conftest import index
from tests.support.clients import rules_of

__all__ = ["index"]
SOUNDS = ("S", "Z", "SH", "CH", "K", "G", "F", "L", "R", "TH", "DH", "ZH")
# What the check says of a word at its place: where the target stands, and whether alone.
TRUTH = {"no-target", "position", "cluster", "not-cluster", "pronunciation", "guess", "disputed"}


@pytest.mark.parametrize("position", POSITIONS)
@pytest.mark.parametrize("symbol", SOUNDS)
def test_the_check_agrees(index: Index, symbol: str, position: Position) -> None:
    offered = [o.word for o in offer(index, Query(sound=sounds()[symbol], position=position))[:60]]
    assert offered
    found = rules_of(
        f"sound: /{sounds()[symbol].ipa}/\nposition: {position}\ncurrent: a\n"
        "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"
        f"words: [{', '.join(offered)}]\nsteps:\n  - {{name: a, level: word}}\n"
    )
    assert not TRUTH & set(found)
