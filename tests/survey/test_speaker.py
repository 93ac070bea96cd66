"""Which of two natural voices is told to a therapist as the one for a sound."""

from __future__ import annotations

import pytest

from builder.audio.voices.suitability import suitability_of
from builder.model.clinic import AskedVoice
from builder.phonetics.inventory import sounds
from builder.phonetics.position import POSITIONS
from builder.survey.speaker import clearer_voice


def test_for_sh_it_is_the_mans() -> None:
    assert clearer_voice("SH", POSITIONS, "natural") == "man"
    assert clearer_voice("SH", ["final"], "natural") == "man"


@pytest.mark.parametrize("asked", ["man", "embedded", "online", "helper"])
def test_who_asks_for_him_or_for_no_natural_voice_is_told_nothing(asked: AskedVoice) -> None:
    assert clearer_voice("SH", POSITIONS, asked) is None


def test_it_is_told_only_where_it_is_a_model_and_the_other_not_fit() -> None:
    for symbol in sounds():
        for place in POSITIONS:
            hers, his = (suitability_of(v, symbol, "natural", place) for v in ("natural", "man"))
            wanted = not hers.offered and his.grade == "model"
            assert clearer_voice(symbol, [place], "natural") == ("man" if wanted else None)
