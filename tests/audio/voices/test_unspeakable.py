"""Which clips no voice can make, and what is said of them."""

from __future__ import annotations

import pytest

from builder.audio.voices.unspeakable import target_of, why_unspeakable
from tests.support.audio import alone, clip


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({}, ""),
        ({"form": "long"}, ""),
        ({"words": ()}, "the pronunciation of 'sun' is not known"),
        ({"words": ((),)}, "the pronunciation of 'sun' is not known"),
        ({"words": (), "voice": "recorded"}, ""),
        (
            {"words": (), "voice": "recorded", "form": "long"},
            "the pronunciation of 'sun' is not known",
        ),
        ({"focus": None}, ""),
        ({"focus": None, "form": "long"}, "'sun' has no target to hold"),
        ({"focus": (0, 0, 2), "form": "long"}, "'S AH' of 'sun' is not a sound of the table"),
    ],
)
def test_the_reason_is_told(changes: dict[str, object], why: str) -> None:
    assert why_unspeakable(clip("sun", "S", **changes)) == why  # type: ignore[arg-type]


def test_a_stop_has_no_long_form() -> None:
    assert why_unspeakable(clip("cow", "K")) == ""
    long = why_unspeakable(clip("cow", "K", "long"))
    assert long == "/k/ cannot be held, so 'cow' has no long form"


def test_of_a_sound_alone_all_of_it_is_the_target() -> None:
    assert target_of(alone("SH")).symbol == "SH"
    assert target_of(clip("sun", "N")).symbol == "N"
