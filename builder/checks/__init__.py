"""What a careful colleague would say of a client's programs.

Each check is a pure function over (client, survey). To add one: write it in the file of its
family, give it a row in rules.py, list it here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from difflib import get_close_matches
from itertools import chain

from builder.checks.age import check_acquisition, check_length, check_rare_words
from builder.checks.alone import check_alone
from builder.checks.clinic import check_address, check_contact, check_groups, check_interface
from builder.checks.context import check_seams, check_untaught
from builder.checks.contrast import check_contrast
from builder.checks.desk import check_animal, check_boxes, check_visit_planned, check_visit_to_come
from builder.checks.findings import finding
from builder.checks.lacking import check_lacking
from builder.checks.lists import (
    check_file_names,
    check_lists,
    check_missing_commas,
    check_names,
    check_reminder,
    check_reserved_ids,
)
from builder.checks.long_form import check_long_rounds
from builder.checks.order import check_order, check_rounds
from builder.checks.passages import check_passages
from builder.checks.pause import check_pauses
from builder.checks.pictures import check_pictures
from builder.checks.readiness import (
    check_baseline,
    check_client_judges,
    check_criteria,
    check_error,
    check_hear_yourself,
    check_old_baseline,
)
from builder.checks.reading import check_readings, check_texts
from builder.checks.recordings import (
    check_doubtful,
    check_refused,
    check_spread,
    check_strange,
    check_unheard,
)
from builder.checks.rules import RULES
from builder.checks.schedule import check_dates, check_minutes, check_shared_values, check_sitting
from builder.checks.sounds import check_sounds
from builder.checks.statements import check_statements
from builder.model.program import Client, Program
from builder.problems import Finding
from builder.survey.survey import Survey

Check = Callable[[Client, Survey], Iterable[Finding]]
CHECKS: tuple[Check, ...] = (
    check_order,
    check_rounds,
    check_passages,
    check_long_rounds,
    check_sounds,
    check_untaught,
    check_lacking,
    check_seams,
    check_contrast,
    check_alone,
    check_readings,
    check_missing_commas,
    check_lists,
    check_file_names,
    check_names,
    check_reserved_ids,
    check_reminder,
    check_minutes,
    check_sitting,
    check_dates,
    check_pauses,
    check_visit_planned,
    check_visit_to_come,
    check_boxes,
    check_animal,
    check_shared_values,
    check_baseline,
    check_old_baseline,
    check_criteria,
    check_client_judges,
    check_hear_yourself,
    check_error,
    check_acquisition,
    check_length,
    check_rare_words,
    check_texts,
    check_statements,
    check_pictures,
    check_contact,
    check_address,
    check_groups,
    check_interface,
    check_refused,
    check_unheard,
    check_doubtful,
    check_spread,
    check_strange,
)


def run(client: Client, survey: Survey) -> tuple[Finding, ...]:
    """All findings, sorted by file and line; the answered ones carry their answer."""
    found = [f for check in CHECKS for f in check(client, survey)]
    found += [f for program in client.programs for f in program.noted]
    answers = {p.file: p.written.because for p in client.programs}
    # What stands in the clinic file may be answered in any of the client's programs.
    anywhere = dict(chain.from_iterable(given.items() for given in answers.values()))
    answered = [_answered(f, answers.get(f.place.file, anywhere)) for f in found]
    answered += [f for program in client.programs for f in _wrong_reasons(program)]
    return tuple(sorted(dict.fromkeys(answered)))


def _answered(found: Finding, because: dict[str, str]) -> Finding:
    reason, rule = because.get(found.rule, ""), RULES[found.rule]
    answers = reason and rule.answerable and not rule.by_word
    return replace(found, accepted=reason) if answers else found


def _wrong_reasons(program: Program) -> Iterable[Finding]:
    answerable = [rule.name for rule in RULES.values() if rule.answerable]
    for rule in program.written.because:
        if rule in answerable:
            continue
        if rule in RULES:
            why = "is about a fact, so no reason can answer it"
            remedy = "Delete this line and fix what it was meant to answer."
        else:
            why = "is not a rule"
            near = get_close_matches(rule, answerable, n=1)
            remedy = f"Did you mean `{near[0]}`?" if near else "See `practice-site rules`."
        yield finding(program, ("because", rule), "because", f"`{rule}` {why}.", remedy)
