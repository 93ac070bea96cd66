from __future__ import annotations

import json
from dataclasses import replace

import pytest

from builder.model.clinic import Contact
from builder.model.criteria import Criteria, Criterion
from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.model.program import Role
from tests.support import plans

PLAN = plans.plan(plans.program_k(), plans.program_sh())
VIEW = view_of(PLAN)


def changed_step(**parts: object) -> Plan:
    """The plan with another second step in its first program."""
    first, *others = PLAN.programs
    step = replace(first.steps[1], **parts)  # type: ignore[arg-type]
    return replace(PLAN, programs=(replace(first, steps=(first.steps[0], step)), *others))


def without_a_clip() -> Plan:
    key, *others = PLAN.programs[0].steps[1].items
    return changed_step(items=(replace(key, natural=None), *others))


def test_what_a_family_does_not_practise_is_no_part_of_it() -> None:
    contact = Contact(clinic="Another Clinic", phone="555-0199")
    clinic = PLAN.clinic.model_copy(update={"contact": contact})
    other = replace(
        PLAN, clinic=clinic, address="https://elsewhere.example/", slug="x", gone=("a",)
    )
    assert view_of(replace(other, dates=("", ""), days=("mon",), minutes=9)) == VIEW


@pytest.mark.parametrize("helper", ["school", "self"])
def test_who_listens_is_no_part_of_it(helper: Role) -> None:
    assert view_of(replace(PLAN, helper=helper)).digest == VIEW.digest
    assert view_of(replace(PLAN, other_helpers=("school",))).digest == VIEW.digest


def test_a_clip_that_is_dropped_or_made_anew_is_no_new_practice() -> None:
    view = view_of(without_a_clip())
    assert view.digest != VIEW.digest
    assert view.practice_digest == VIEW.practice_digest


STEP = PLAN.programs[0].steps[1]


@pytest.mark.parametrize(
    "plan",
    [
        pytest.param(changed_step(items=STEP.items[1:]), id="a word less"),
        pytest.param(
            changed_step(items=(replace(STEP.items[0], text="kite"), *STEP.items[1:])), id="a text"
        ),
        pytest.param(changed_step(rounds=STEP.rounds[:1]), id="a round less"),
        pytest.param(
            changed_step(rounds=(replace(STEP.rounds[0], times=2), *STEP.rounds[1:])), id="times"
        ),
        pytest.param(changed_step(current=False), id="the current step"),
        pytest.param(changed_step(pairs=(("key", "cow"),)), id="a pair"),
        pytest.param(
            replace(
                PLAN,
                programs=(
                    replace(
                        PLAN.programs[0],
                        criteria=Criteria(advance=Criterion(percent=90, days=2)),
                    ),
                    *PLAN.programs[1:],
                ),
            ),
            id="a criterion",
        ),
    ],
)
def test_what_changes_practice_changes_both_hashes(plan: Plan) -> None:
    view = view_of(plan)
    assert view.digest != VIEW.digest
    assert view.practice_digest != VIEW.practice_digest


def test_everything_that_a_record_names_is_kept() -> None:
    kept = json.loads(VIEW.as_json())
    steps = {step["id"]: step for program in kept["programs"] for step in program["steps"]}
    for program in PLAN.programs:
        for step in program.steps:
            known = steps[step.id]
            assert [item["id"] for item in known["items"]] == [item.id for item in step.said]
            assert [one["id"] for one in known["rounds"]] == [one.id for one in step.rounds]
    assert kept["programs"][0]["advance"] == [80, 3]
