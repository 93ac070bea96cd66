"""What the front desk hands over: a sheet of these weeks, with an animal that no other one has."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, listed, verb
from builder.make.sheet.week import MOST_WEEKS
from builder.model.program import Client
from builder.problems import Finding
from builder.survey.survey import Survey
from builder.workspace.program_files import PICTURES


def check_visit_planned(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A visit is planned: up to it the sheet has boxes with dates."""
    if not any(program.written.practice.visit for program in client.programs):
        program = client.programs[0]
        start = program.written.practice.start
        yield finding(
            program,
            ("practice",) if ("practice",) in program.places else ("client",),
            "no-visit",
            "No visit is planned, so the sheet has no dates in its boxes.",
            "Write both days once you know them, as in "
            f"`practice: {{from: {start or '2026-12-07'}, visit: 2026-12-14}}`.",
        )


def check_visit_to_come(client: Client, survey: Survey) -> Iterator[Finding]:
    """The visit up to which the sheet is made is not past."""
    dated = [p for p in client.programs if p.written.practice.visit]
    first = min(dated, key=lambda p: str(p.written.practice.visit), default=None)
    visit = first and first.written.practice.visit
    if first and visit and survey.today and visit < survey.today:
        yield finding(
            first,
            ("practice", "visit"),
            "visit-past",
            f"The visit ({visit}) is past, so `practice-site print` makes no sheet.",
            "Write the date of the next visit, and the day on which practice starts again.",
        )


def check_boxes(client: Client, survey: Survey) -> Iterator[Finding]:
    """The sheet has boxes up to the visit; without a first day they begin when it is printed."""
    dated = [program for program in client.programs if program.written.practice.visit]
    starts = [p.written.practice.start for p in client.programs if p.written.practice.start]
    begin = min(starts, default=survey.today)
    for program in dated[:1]:
        visit = program.written.practice.visit
        weeks = -(-(visit - begin).days // 7) if visit and begin else 0
        if weeks > MOST_WEEKS:
            yield finding(
                program,
                ("practice", "visit"),
                "boxes",
                f"The visit is in {weeks} weeks; the sheet has boxes for {MOST_WEEKS}.",
                "Plan an earlier visit, or print again before the boxes are used up.",
            )


def check_animal(client: Client, survey: Survey) -> Iterator[Finding]:
    """A sheet is known by its animal, also to who does not read the code."""
    program, animal = client.programs[0], client.code.partition("-")[0]
    if client.practises_alone and program.written.reads:
        return  # shown without an animal
    if survey.alike:
        yield finding(
            program,
            ("client",),
            "same-animal",
            f"{listed(survey.alike)} {verb(survey.alike, 'has', 'have')} the same animal as "
            f"{client.code}, so their sheets and sites are easily mistaken for one another.",
            "Give the next client another animal. A code that is published stays as it is: put "
            f"another picture into the folder `{client.code}`, named `{animal}.png`.",
        )
    elif survey.undrawn:
        yield finding(
            program,
            ("client",),
            "no-animal",
            f"There is no drawing of the animal '{animal}', so the sheet and the site show none.",
            f"Put a picture `{animal}.png` into `{PICTURES}` beside the program, or, if nothing is "
            "published yet, choose another animal, as in otter, fox, owl or heron.",
        )
