"""Plans for what is printed on request: those of the sheet, with a code for each step."""

from __future__ import annotations

from dataclasses import replace

from builder.model.plan import Code, Plan, PlannedStep
from builder.planning.plan_programs import code_of
from tests.make.sheet_cases import ADDRESS, CASES

PROBES = ("kettle", "cable", "cousin", "cub", "candy", "kitchen")  # our own
NAMES = (
    "two-weeks",
    "three-sounds",
    "thirty-words",
    "thirty-sentences",
    "twelve-steps",
    "contrast",
    "alone",
    "past-sentences",
    "all-tasks",
    "no-pictures",
    "long-words",
)


def case(name: str) -> Plan:
    """The plan of a case, each of its steps with a code where the site has one."""
    plan = CASES[name]()
    if not plan.code:
        return plan
    programs = tuple(
        replace(program, steps=tuple(map(_with_code, program.steps))) for program in plan.programs
    )
    return replace(plan, programs=programs)


def in_both(plan: Plan, language: str) -> Plan:
    """The plan of a site whose second language is `language`, with codes for either."""
    interface = (*plan.interface, language)
    site = code_of(ADDRESS, "", "site", "site", interface)
    programs = tuple(
        replace(
            program,
            steps=tuple(
                replace(s, code=code_of(ADDRESS, f"{s.id}/", s.id, s.name, interface))
                for s in program.steps
            ),
        )
        for program in plan.programs
    )
    return replace(plan, interface=interface, code=site, programs=programs)


def _with_code(step: PlannedStep) -> PlannedStep:
    address = f"{ADDRESS}{step.id}/"
    return replace(step, code=Code(f"code-{step.id}", f"codes/{step.id}", address, step.name))
