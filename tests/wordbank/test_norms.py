from __future__ import annotations

import pytest

from builder.wordbank.norms import MIN_CONCRETENESS, Norm, classes, everyday, norm


def test_things_are_more_concrete_than_ideas() -> None:
    things = [norm(word) for word in ("cup", "key", "apple", "mitten")]
    ideas = [norm(word) for word in ("idea", "the", "truth", "reason")]
    lowest = min(rated.concreteness for rated in things if rated)
    highest = max(rated.concreteness for rated in ideas if rated)
    assert highest < MIN_CONCRETENESS < lowest


@pytest.mark.parametrize(
    ("rated", "value"),
    [
        pytest.param(Norm(5.0, 5.0, None), 1.0, id="seen and touched"),
        pytest.param(Norm(0.0, 5.0, 1.0), 0.0, id="the concreteness rating goes first"),
        pytest.param(Norm(None, None, 4.0), 0.5, id="the middle of 1 to 7"),
    ],
)
def test_concreteness(rated: Norm, value: float) -> None:
    assert rated.concreteness == value


def test_names_are_not_rated() -> None:
    assert norm("kowalski") is None


def test_classes_of_the_childrens_list() -> None:
    assert classes("fly") == ("noun", "verb")
    assert classes("big") == ("adjective",)
    assert classes("concept") == ()
    assert {"cow", "jump", "big"} < set(everyday())
