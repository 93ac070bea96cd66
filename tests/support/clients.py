"""Clients for tests, from YAML in the test itself."""

from __future__ import annotations

from builder import checks
from builder.model.clinic import Clinic
from builder.model.fill_sitting import filled
from builder.model.program import Client
from builder.problems import Finding
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse
from builder.survey.survey import Survey

CLINIC = Clinic.model_validate(
    {
        "clinic": 1,
        "contact": {"clinic": "Test Clinic", "phone": "555-0100"},
        "base_url": "https://practice.example.org",
    }
)
HEAD = (
    "program: 1",
    "client: finch-10",
    "age: 7",
    "reads: yes",
    "baseline: {date: 2026-12-03, correct: 18, of: 20}",
)
VISIT = "practice: {from: 2026-12-07, visit: 2026-12-14}"
NOTHING = Survey(own={}, drawings={}, takes={})


def client_of(text: str) -> Client:
    """The client of one program; lines of HEAD that `text` does not write itself come before it."""
    written = {line.split(":")[0] for line in text.splitlines()}
    lines = [line for line in HEAD if line.split(":")[0] not in written]
    text = "\n".join([*lines, text])
    tree = parse(text.encode(), "finch-10.yaml")
    return filled(Client("finch-10", (program_in(tree, CLINIC),), CLINIC, "."))


def findings_of(text: str, survey: Survey = NOTHING) -> tuple[Finding, ...]:
    """What the check says of one program; a visit is planned where `text` does not write of it."""
    dated = any(line.startswith("practice:") for line in text.splitlines())
    return checks.run(client_of(text if dated else f"{text.rstrip()}\n{VISIT}\n"), survey)


def rules_of(text: str, survey: Survey = NOTHING) -> list[str]:
    """The rules of the findings that are not accepted, in file order."""
    return [f.rule for f in findings_of(text, survey) if not f.accepted]
