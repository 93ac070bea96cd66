"""What comes from home, for tests: a plan that was published, and sittings of it."""

from __future__ import annotations

import json
from typing import Any

from builder.model.practice_view import (
    ItemView,
    PassageView,
    PracticeView,
    ProgramView,
    RoundView,
    StepView,
)
from builder.model.program import Level
from builder.model.record import Sitting
from tests.support.places import TESTS

EXAMPLE: dict[str, Any] = json.loads((TESTS / "js" / "sitting.json").read_text("utf-8"))
SITE = EXAMPLE["site"]
OTHER_SITE = "0000000000000"
CODE = "finch-10"


def step(id_: str, items: tuple[str, ...], passage: PassageView | None = None) -> StepView:
    rounds = (
        RoundView("1-natural-imitation", "natural", "imitation", 1, False),
        RoundView("3-natural-spontaneous", "natural", "spontaneous", 1, False),
    )
    shown = tuple(ItemView(item, item.replace("-", " "), ("", "")) for item in items)
    level: Level = "reading" if passage else "word"
    return StepView(id_, level, True, () if passage else rounds, shown, (), passage)


TEXT = PassageView("The cow.", 40, "", "", 5)
VIEW = PracticeView(
    "en-US",
    (
        ProgramView(
            "K",
            2,
            (80, 3),
            (50, 2),
            (
                step("k-words", ("key", "cow")),
                step("k-a-text", (), TEXT),
                step("k-dinner", (), TEXT),
            ),
        ),
    ),
)


def sitting(number: int = 1, **changes: Any) -> Sitting:
    """A sitting of VIEW on the day `number` of December 2026, at most today's in the tests."""
    return Sitting.model_validate(as_written(number, **changes))


def as_written(number: int = 1, **changes: Any) -> dict[str, Any]:
    """The same as a tablet holds it."""
    own = {
        "id": f"{number:032x}",
        "plan": VIEW.digest,
        "start": f"2026-12-0{number}T08:15:04-06:00",
    }
    return EXAMPLE | own | changes


def trials(number: int, **changes: Any) -> list[dict[str, Any]]:
    """So many tries of one word."""
    one = EXAMPLE["trials"][0] | changes
    return [one | {"ms": 8000 * (n + 1)} for n in range(number)]
