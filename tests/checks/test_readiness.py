from __future__ import annotations

from dataclasses import replace

import pytest

from builder import checks
from builder.problems import ProgramError
from builder.survey.survey import Found, Survey
from tests.support.clients import NOTHING, VISIT, client_of, findings_of, rules_of

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
    client = client_of(f"{reason}{BODY}{VISIT}\n{STEP}")
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


@pytest.mark.parametrize(
    ("correct", "degrees"), [(3, ["fault"]), (9, ["fault"]), (10, ["advice"]), (15, ["advice"])]
)
def test_a_sound_that_is_not_there_stops_until_it_is_answered(
    correct: int, degrees: list[str]
) -> None:
    # Common practice, no source: half of the tries, as for going back a step.
    baseline = f"baseline: {{date: 2026-12-03, correct: {correct}, of: 20}}\n"
    assert [f.degree for f in findings_of(baseline + BODY + STEP)] == degrees
    because = "because: {baseline-low: an aide listens, baseline: an aide listens}\n"
    assert rules_of(because + baseline + BODY + STEP) == []


ITEMS = "[my key, a cow, a cup, a comb, a coin]"
TWO = f"steps:\n  - {{name: a, level: word}}\n  - {{name: b, level: phrase, items: {ITEMS}}}\n"


@pytest.mark.parametrize(
    ("now", "of", "rules"),
    [
        ("b", "a", ["baseline-old"]),
        ("b", "b", []),
        ("a", "b", []),  # a harder one bears it
        ("[a, b]", "a", []),
        ("b", "", []),
    ],
)
def test_a_baseline_of_an_earlier_step(now: str, of: str, rules: list[str]) -> None:
    step = f", step: {of}" if of else ""
    head = f"baseline: {{date: 2026-12-03, correct: 18, of: 20{step}}}\n"
    assert rules_of(head + BODY.replace("current: a", f"current: {now}") + TWO) == rules


def test_a_baseline_from_before_the_level_or_long_before_the_start() -> None:
    old = "baseline: {date: 2026-11-01, correct: 18, of: 20}\n"  # mastered: on 2 November
    assert rules_of(old + BODY + STEP) == ["baseline-old"]
    for start, rules in (("2026-12-14", []), ("2026-12-15", ["baseline-old"])):  # 42 and 43 days
        recent = "baseline: {date: 2026-11-02, correct: 18, of: 20}\n"
        found = rules_of(f"{recent}practice: {{from: {start}, visit: 2026-12-21}}\n{BODY}{STEP}")
        assert found == rules


@pytest.mark.parametrize(
    ("now", "helper", "rules"),
    [
        ("words", "home", ["client-judges"]),
        ("in phrases", "home", []),
        ("in sentences", "school", []),
        ("in sentences", "self", ["client-judges"]),
    ],
)
def test_a_client_judges_first_where_somebody_judges_after(
    now: str, helper: str, rules: list[str]
) -> None:
    text = f"""client_judges: yes
reads: yes
age: 30
sound: k
helper: {helper}
current: {now}
steps:
  - {{name: words, level: word, items: [key, cow]}}
  - {{name: in phrases, level: phrase, items: [my key, my cow]}}
  - {{name: in sentences, level: sentence, items: [I see a cow.]}}
"""
    assert [rule for rule in rules_of(text) if rule == "client-judges"] == rules


def test_a_baseline_names_a_step_that_is_there() -> None:
    head = "baseline: {date: 2026-12-03, correct: 18, of: 20, step: c}\n"
    with pytest.raises(ProgramError, match="No step is called `c`"):
        rules_of(head + BODY + STEP)
