"""When a client moves on and when back: by days of practice. The therapist decides."""

from __future__ import annotations

from pydantic import Field

from builder.model.clinic import Strict


class Criterion(Strict):
    """A share of clear tries on so many days of practice in a row."""

    percent: int = Field(ge=1, le=100, description="Clear tries of a day, in per cent.")
    days: int = Field(ge=1, le=14, description="Days of practice in a row.")


class Criteria(Strict):
    """When to move on, and when to go back. The therapist decides; these only propose."""

    advance: Criterion = Field(
        Criterion(percent=80, days=3),
        description="Move on: so many per cent or more on so many days in a row.",
    )
    step_back: Criterion = Field(
        Criterion(percent=50, days=2),
        description="Go back a step: below so many per cent on so many days in a row.",
    )
