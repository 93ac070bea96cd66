"""What a page says of a client: nothing by which somebody is known, and no diagnosis."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from builder.checks.findings import finding, quoted, verb
from builder.checks.items import is_published
from builder.checks.shown_texts import shown_texts
from builder.model.clinic import Clinic
from builder.model.program import Client, Program
from builder.problems import Finding, KeyPath
from builder.survey.survey import Survey
from builder.text.identifiers import Kind, identifiers

REACHED: tuple[Kind, ...] = (
    "telephone",
    "email",
    "web",
    "place",
)  # what the clinic tells of itself
SIGNS = re.compile(r"\W")
# Rule, what one such thing is, what several are.
SAYINGS: dict[Kind, tuple[str, str, str]] = {
    "name": ("name", "looks like a person's name", "look like people's names"),
    "date": ("birth-date", "is a date or an exact age", "are dates or exact ages"),
    "telephone": ("telephone", "looks like a telephone number", "look like telephone numbers"),
    "email": ("email", "is an email address", "are email addresses"),
    "number": ("record-number", "looks like a record number", "look like record numbers"),
    "web": ("web-address", "is a web address", "are web addresses"),
    "place": ("school", "looks like a school or an address", "look like schools or addresses"),
    "diagnosis": ("diagnosis", "names a diagnosis", "name diagnoses"),
}


def check_statements(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Names, dates, numbers, addresses and diagnoses in what the family would read; one finding a
    rule. `because` answers it for the words that its reason names, and for no others."""
    for program in client.programs:
        for (kind, answered, _), found in _groups(program, client.clinic).items():
            yield _found(program, kind, found, answered)


Group = tuple[Kind, bool, bool]  # the kind, whether it is answered, whether it is published


def _groups(program: Program, clinic: Clinic) -> dict[Group, dict[str, KeyPath]]:
    """What was found, each text once with its first place."""
    groups: dict[Group, dict[str, KeyPath]] = defaultdict(dict)
    told: set[tuple[Kind, str, bool]] = set()
    for shown in shown_texts(program):
        published = is_published(program, shown.path)
        for kind, text in identifiers(shown.text, prose=shown.prose):
            mark = (kind, text.casefold(), published)
            no_word = kind == "name" and shown.sounds
            if mark in told or no_word or _is_the_clinic_s(kind, text, clinic):
                continue
            told.add(mark)
            reason = program.written.because.get(SAYINGS[kind][0], "")
            answered = _names(reason, text)
            groups[kind, answered, published][text] = shown.path
    return groups


def _names(reason: str, text: str) -> bool:
    """Whether a reason names what was found, whole: that of Joanna answers nothing of Ann."""
    named = rf"(?<!\w){re.escape(text.casefold())}(?!\w)"
    return re.search(named, reason.casefold()) is not None


def _is_the_clinic_s(kind: Kind, text: str, clinic: Clinic) -> bool:
    """Whether it is how families reach the clinic, which every page says anyway."""
    contact = clinic.contact
    public = (contact.clinic, contact.phone, contact.email, clinic.base_url)
    plain = SIGNS.sub("", text).casefold()
    return kind in REACHED and any(plain in SIGNS.sub("", one).casefold() for one in public)


def _found(program: Program, kind: Kind, found: dict[str, KeyPath], answered: bool) -> Finding:
    rule, one, many = SAYINGS[kind]
    texts = list(found)
    open_finding = finding(
        program,
        found[texts[0]],
        rule,
        f"{quoted(texts)} {verb(texts, one, many)}, and pages or the sheet would show "
        f"{verb(texts, 'it', 'them')}.",
        f"Leave {verb(texts, 'it', 'them')} out. What tells nothing of a person may stay: name it "
        f"under `because:`, as in `{rule}: {texts[0]} is ...`.",
    )
    reason = program.written.because.get(rule, "")
    return replace(open_finding, accepted=reason) if answered else open_finding
