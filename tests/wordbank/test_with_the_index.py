"""Every word that the word bank offers from the real index passes the check it was asked for."""

from __future__ import annotations

import pytest

from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.index import Index
from builder.phonetics.position import POSITIONS, Position, cluster_ipa
from builder.wordbank.filters import Query
from builder.wordbank.suggest import offer
from tests.phonetics.conftest import index
from tests.support.clients import rules_of

pytestmark = pytest.mark.slow
__all__ = ["index"]
# What the check says of a word at its place: where the target stands, and whether alone.
TRUTH = {"no-target", "position", "cluster", "not-cluster", "pronunciation", "guess", "disputed"}
# English has no word with these sounds at these places (common practice, no source).
NOWHERE = {("HH", "final"), ("NG", "initial"), ("W", "final"), ("Y", "final")}
TAUGHT = [symbol for symbol, sound in sounds().items() if sound.kind != "vowel"]
FOR_ADULTS = {("ZH", "initial")}  # genre and the like: nothing that a child would say
AGES = (None, 3, 40)
# Every sound at every place, each with one of the ages in turn.
SPOTS = [
    (symbol, position, AGES[(row + column) % len(AGES)])
    for row, symbol in enumerate(TAUGHT)
    for column, position in enumerate(POSITIONS)
]
CLUSTERS = ("S P", "S T", "S K", "P L", "B R", "K R", "F L", "TH R", "S T R")


def rules(query: Query, listed: list[str]) -> set[str]:
    """The rules that the check finds in a program of these words."""
    group = f", cluster: {cluster_ipa(query.cluster)}" if query.cluster else ""
    return set(
        rules_of(
            f"sound: /{query.sound.ipa}/\nposition: {query.position}\ncurrent: a\n"
            "mastered: {isolation: 2026-10-01, syllable: 2026-11-02}\n"
            f"words: [{', '.join(listed)}]\nsteps:\n  - {{name: a, level: word{group}}}\n"
        )
    )


@pytest.mark.parametrize(("symbol", "position", "age"), SPOTS)
def test_the_check_agrees(index: Index, symbol: str, position: Position, age: int | None) -> None:
    query = Query(sound=sounds()[symbol], position=position, age=age)
    offered = [one.word for one in offer(index, query)[:60]]
    # Of adults' words with r in the vowel (irregular) dictionaries name the vowel differently.
    contested = {"disputed"} if age == 40 and query.sound.kind == "rhotic" else set()
    none = NOWHERE if age == 40 else NOWHERE | FOR_ADULTS
    assert bool(offered) is ((symbol, position) not in none)
    assert not offered or not (TRUTH - contested) & rules(query, offered)


@pytest.mark.parametrize("typed", CLUSTERS)
def test_the_check_agrees_on_clusters(index: Index, typed: str) -> None:
    group = tuple(typed.split())
    query = Query(sound=sounds()[group[0]], position="initial", cluster=group, age=5)
    offered = [one.word for one in offer(index, query)]
    assert len(offered) >= 5
    assert not TRUTH & rules(query, offered)
