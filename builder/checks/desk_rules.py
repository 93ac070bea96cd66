"""Rules on what the front desk hands over: dates on the sheet, the animal by which it is told."""

from __future__ import annotations

from builder.checks.rule import UNSOURCED, Rule

DESK_RULES: tuple[Rule, ...] = (
    Rule("no-visit", "advice", "No visit is planned, so the sheet has no dates.", UNSOURCED),
    Rule("visit-past", "advice", "The visit is past, so no sheet is printed.", UNSOURCED),
    Rule("boxes", "advice", "The boxes on the sheet do not reach the visit.", UNSOURCED),
    Rule("same-animal", "advice", "Another client has the same animal.", UNSOURCED),
    Rule("no-animal", "advice", "The animal of the code has no drawing.", UNSOURCED),
)
