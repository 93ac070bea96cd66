"""Recordings of people, spoiled: none passes as good, and as they are none is refused.

A small sample; the whole table, with voices beside them: python -m tests.benchmarks.spoiled.
"""

from __future__ import annotations

import pytest

from builder.audio.assess.assess import assess_samples
from builder.audio.assess.issue import Verdict
from tests.outside.real_speech import RECORDINGS, Spoken
from tests.support import spoiled
from tests.support.good_takes import of_person
from tests.support.spoiled import Recorded, Spoiling

PEOPLE = [
    one
    for one in RECORDINGS
    if one.kind == "wide" and one.file.stem in ("Front_Center", "Rear_Left", "car")
]
WAYS: dict[str, Spoiling] = {
    "an echo": spoiled.reverberant,
    "crackle": spoiled.crackling,
    "dropouts": spoiled.dropouts,
    "overdrive": spoiled.overdriven,
    "its target gone": spoiled.removed,
    "half of it": spoiled.halved,
}


def verdict(take: Recorded) -> Verdict:
    found, _ = assess_samples(
        take.samples, take.rate, take.words, take.focus, take.sound, form="natural", alone=False
    )
    return found.verdict


@pytest.mark.parametrize("one", PEOPLE, ids=lambda one: one.name)
def test_what_is_spoiled_is_never_good(one: Spoken) -> None:
    take = of_person(one)
    assert verdict(take) == "good"
    assert [way for way, spoil in WAYS.items() if verdict(spoil(take)) == "good"] == []
