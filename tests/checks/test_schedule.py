from __future__ import annotations

import pytest

from tests.clients import client_of, findings_of, rules_of

BODY = (
    "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\nwords: [key, cow, cup, comb, coin]\n"
)
STEP = "steps:\n  - {name: a, level: word}\n"


@pytest.mark.parametrize(
    ("practice", "rules"),
    [
        ("{}", []),
        ("{from: 2026-12-07, visit: 2026-12-14}", []),
        ("{from: 2026-12-07, visit: 2026-12-07}", ["visit"]),
        ("{from: 2026-12-07, visit: 2027-02-01}", ["far-visit"]),
        ("{minutes: 25}", ["long-sitting"]),
        ("{days: [mon, tue]}", ["few-tries", "days"]),
        ("{days: [mon, tue, wed, thu, fri, sat, sun]}", ["days"]),
        ("{minutes: 1}", ["too-much"]),
    ],
)
def test_the_week(practice: str, rules: list[str]) -> None:
    assert sorted(rules_of(f"{BODY}practice: {practice}\n{STEP}")) == sorted(rules)


def test_young_children_sit_five_minutes() -> None:
    # 5-10 minutes, once or twice a day, 4-6 days a week: trade advice, no source.
    young = client_of(f"age: 5\n{BODY}{STEP}").programs[0]
    older = client_of(f"age: 6\n{BODY}{STEP}").programs[0]
    assert (young.minutes, older.minutes) == (5, 10)


def test_it_says_which_round_to_drop() -> None:
    step = "steps:\n  - {name: a, level: word, rounds: [natural imitation, natural spontaneous]}\n"
    (found,) = findings_of(f"{BODY}practice: {{minutes: 1}}\n{step}")
    assert found.sentence == "A sitting holds 10 tries, about 2 minutes; 1 are planned."
    assert found.remedy.startswith("Drop 'natural spontaneous' of 'a'")
