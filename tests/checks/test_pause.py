from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from builder import checks
from builder.checks.pause import days_left
from builder.model.pause import Pause
from builder.problems import ProgramError
from tests.support.clients import CLINIC, NOTHING, client_of, findings_of, rules_of

BODY = (
    "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\nwords: [key, cow, cup, comb, coin]\n"
    "steps:\n  - {name: a, level: word}\n"
)
PRACTICE = "practice: {from: 2026-12-18, visit: 2027-01-06}\n"


@pytest.mark.parametrize(
    ("pause", "rules"),
    [
        ("2026-12-21..2027-01-03", []),
        ("[2026-12-21..2027-01-03, 2027-01-04]", []),
        ("2026-12-18", ["pause-date"]),
        ("2027-01-06..2027-01-10", ["pause-date"]),
        ("[2026-12-18..2027-01-06]", ["pause-date", "no-days", "pause-date"]),
    ],
)
def test_start_and_visit_and_what_is_left(pause: str, rules: list[str]) -> None:
    assert sorted(rules_of(f"{PRACTICE}pause: {pause}\n{BODY}")) == sorted(rules)


def test_one_who_listens_without_a_day_is_named() -> None:
    # By a printed calendar: 18 December 2026 is a Friday.
    own = "practice: {from: 2026-12-18, visit: 2026-12-22, school: {days: [wed]}}\n"
    (found,) = findings_of(f"helper: [home, school]\n{own}{BODY}")
    assert found.rule == "no-days"
    assert "there is no day of practice for `school`." in found.sentence
    assert rules_of(f"helper: [home, school]\n{own.replace('wed', 'mon')}{BODY}") == []


@pytest.mark.parametrize(
    ("pause", "said"),
    [
        ("2027-01-03..2026-12-21", "must be in the order of the days"),
        ("2026-02-30..2026-03-02", "there is no 2026-02-30"),
        ("December", "must be a date"),
    ],
)
def test_what_is_no_pause(pause: str, said: str) -> None:
    with pytest.raises(ProgramError, match=said):
        findings_of(f"pause: {pause}\n{BODY}")


def test_the_clinic_s_pauses_hold_for_all() -> None:
    client = client_of(PRACTICE + BODY)
    clinic = CLINIC.model_copy(update={"pause": (Pause(date(2026, 12, 18), date(2026, 12, 18)),)})
    client = replace(client, clinic=clinic)
    assert [f.rule for f in checks.run(client, NOTHING)] == ["pause-date"]
    assert days_left(client) == (
        "    pause: 2026-12-18; 12 days of practice from 2026-12-18 up to the visit on 2027-01-06"
    )
    assert days_left(client_of(PRACTICE + BODY)) == ""
