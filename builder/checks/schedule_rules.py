"""Rules on dates: which days are left for practice."""

from __future__ import annotations

from builder.checks.rule import UNSOURCED, Rule

SCHEDULE_RULES: tuple[Rule, ...] = (
    Rule("pause-date", "advice", "The start or the visit is in a pause.", UNSOURCED),
    Rule("no-days", "fault", "No day of practice is left before the visit.", "the program itself"),
)
