from __future__ import annotations

from dataclasses import replace

import pytest

from builder import checks
from builder.survey.survey import Found, Survey
from tests.support.clients import NOTHING, client_of, findings_of, rules_of

BODY = (
    "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\nwords: [key, cow, cup, comb, coin]\n"
)
STEP = "steps:\n  - {name: a, level: word}\n"


@pytest.mark.parametrize(
    ("correct", "rules"), [(16, []), (15, ["baseline"]), (20, []), (21, ["baseline-count"])]
)
def test_eighty_per_cent(correct: int, rules: list[str]) -> None:
    # 80 % as the usual clinic criterion: Bernthal et al.; Secord; both from memory.
    baseline = f"baseline: {{date: 2026-12-03, correct: {correct}, of: 20}}\n"
    assert rules_of(baseline + BODY + STEP) == rules


def test_no_baseline_may_be_answered() -> None:
    reason = "because: {baseline: shown in the room this morning}\n"
    client = client_of(f"{reason}{BODY}{STEP}")
    program = client.programs[0]
    without = replace(program, written=program.written.model_copy(update={"baseline": None}))
    found = checks.run(replace(client, programs=(without,)), NOTHING)
    assert [f.accepted for f in found] == ["shown in the room this morning"]


def test_a_client_who_does_not_read_needs_pictures() -> None:
    drawn = Survey(own={}, drawings={"key": "1F511", "cow": "1F404"}, takes={})
    (found,) = findings_of(f"reads: no\n{BODY}{STEP}", drawn)
    assert found.rule == "no-picture"
    assert found.sentence.startswith("'cup', 'comb' and 'coin' in `a` will be shown in print only")


def test_own_pictures_count_by_name() -> None:
    own = {
        f"{name}.png": Found(f"{name}.png", "0") for name in ("key", "cow", "cup", "comb", "coin")
    }
    assert rules_of(f"reads: no\n{BODY}{STEP}", Survey(own=own, drawings={}, takes={})) == []


def test_a_named_picture_must_be_there() -> None:
    body = BODY.replace("comb", "{word: comb, picture: my-comb.png}")
    assert rules_of(f"{body}{STEP}") == ["picture-missing"]
