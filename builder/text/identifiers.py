"""What in a text tells who somebody is, or what ails them; pure, without any program.

The kinds follow 45 CFR 164.514(b)(2)(i): names (A), places smaller than a state (B), dates (C),
telephone and fax numbers (D, E), email addresses (F), numbers of records, plans, accounts, licenses
(G to M), web and network addresses (N, O); and diagnoses, which that rule protects with them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from csv import DictReader
from functools import cache
from pathlib import Path
from typing import Literal

from builder.text.given_names import is_given_name, is_name_and_word

Kind = Literal["email", "web", "date", "telephone", "number", "place", "diagnosis", "name"]

DIAGNOSES = Path(__file__).parent / "data" / "en_diagnoses.csv"
MONTHS = (
    "Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sept?(?:ember)?"
    "|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?"
)
CALENDAR = re.compile(f"(?:{MONTHS}|(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day)")
DAY = r"[0-3]?\d(?:st|nd|rd|th)?"
EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
WEB = re.compile(
    r"(?:https?://|www\.)\S*\w|\b[\w-]+\.(?:com|org|net|edu|gov|info)\b|\b\d{1,3}(?:\.\d{1,3}){3}\b",
    re.IGNORECASE,
)
DATE = re.compile(
    r"\b(?:19|20)\d\d[-/.][01]?\d[-/.][0-3]?\d\b"
    r"|\b[0-3]?\d([-/.])[0-3]?\d\1(?:\d\d){1,2}\b"
    rf"|\b(?:{MONTHS})\.? {DAY}\b(?:,? (?:19|20)\d\d\b)?"
    rf"|\b{DAY} (?:of )?(?:{MONTHS})\b(?:,? (?:19|20)\d\d\b)?"
    rf"|\b(?:{MONTHS})\.?,? (?:19|20)\d\d\b"
    r"|\b(?:born|DOB|birth date|date of birth)\b[^.\n]{0,14}\d+(?:[,/ -]+\d+)*"
    r"|\b\d{1,2};[01]?\d\b"  # years;months, as reports write an age
    r"|\b\d{1,2} years?,?(?: and)? \d{1,2} months?\b"
)
NUMBER = re.compile(
    r"\b[A-Za-z]{0,4}#?\d(?:[-/]?\d){4,}\w*"
    r"|\b(?:MRN|SSN)\b\W{0,3}\w*\d\w*"
    r"|\b(?:record|chart|case|file|account|policy|member|patient|student|insurance|license)"
    r" ?(?:no\.?|number|id|#):? ?#?[A-Z]{0,4}-?\d+\b",
    re.IGNORECASE,
)
CAPITAL = r"(?:St\. )?(?!The\b|An?\b|My\b|Your\b|Our\b|This\b|At\b|In\b|To\b|After\b)[A-Z][\w'’]*"
SCHOOL = (
    r"(?:Elementary|Primary|Middle|High|Grammar|Montessori|Preschool|Pre-K|Kindergarten|Daycare"
    r"|Day Care|Academy|School|Schoolhouse|College|University|Head Start)"
)
STREET = r"(?:Street|St|Avenue|Ave|Road|Rd|Lane|Ln|Drive|Dr|Court|Boulevard|Blvd|Way|Place)"
PLACE = re.compile(
    rf"\b{CAPITAL}(?: {CAPITAL}){{0,2}} {SCHOOL}\b(?: {SCHOOL}\b)*"
    rf"|\bP\.?S\.? \d{{1,3}}\b"
    rf"|\b\d{{1,5}} (?:{CAPITAL} ){{1,3}}{STREET}\b"
)
TITLED = re.compile(r"\b(?:Mr|Mrs|Ms|Miss|Mx|Dr|Prof|Señora?|Coach|Nurse)\b\.? [A-Z][\w'’-]+")
ICD = re.compile(r"\b[A-TV-Z]\d\d\.\d{1,4}\b|\b(?:F[89]\d|R4[789]|Q3[5-7]|Q90|H9[01]|G80)\b")
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
SENTENCE_START = re.compile(r"(?:^|[.!?:;\"“(\[–—/|]\s*|\n\s*|['‘])$")
MIN_TELEPHONE_DIGITS = 7


def identifiers(text: str, *, prose: bool = False) -> Iterator[tuple[Kind, str]]:
    """What `text` holds, in the order of the kinds: (kind, the very words). A stretch is of one
    kind: what is an email address is no web address.

    prose: a text of whole sentences to a helper. There a word in common use is a name where it has
           a capital within a sentence ("Remind Grace to wait."); among words to practice it is not.
    """
    finders: tuple[tuple[Kind, Callable[[str], list[str]]], ...] = (
        ("email", EMAIL.findall),
        ("web", WEB.findall),
        ("date", _whole(DATE)),
        ("telephone", _telephones),
        ("number", _whole(NUMBER)),
        ("place", _whole(PLACE)),
        ("diagnosis", _diagnoses),
        ("name", lambda rest: _names(rest, prose)),
    )
    for kind, find in finders:
        for found in find(text):
            yield kind, found.strip()
            # Of the same length, without letters or digits, so that all else stays where it is.
            text = text.replace(found, "·" * len(found))


def _whole(pattern: re.Pattern[str]) -> Callable[[str], list[str]]:
    return lambda text: [match[0] for match in pattern.finditer(text)]


def _telephones(text: str) -> list[str]:
    """Numbers that could be called, from the United States or with a country's own code."""
    if sum(map(str.isdigit, text)) < MIN_TELEPHONE_DIGITS:
        return []
    from phonenumbers import Leniency, PhoneNumberMatcher, is_valid_number  # a third of a second

    found = PhoneNumberMatcher(text, "US", leniency=Leniency.POSSIBLE)
    # Digits without any gap are rather a record's number, unless such a telephone exists.
    return [
        m.raw_string
        for m in found
        if is_valid_number(m.number) or re.search(r"\d{3}\)?[-. ]+\d{3}", m.raw_string)
    ]


def _diagnoses(text: str) -> list[str]:
    return [*_whole(ICD)(text), *_whole(_diagnosis_words())(text)]


@cache
def _diagnosis_words() -> re.Pattern[str]:
    lines = DIAGNOSES.read_text("utf-8").splitlines()
    rows = DictReader(line for line in lines if not line.startswith("#"))
    begins = (re.escape(row["begins"]).replace(r"\ ", "[ -]") for row in rows)
    return re.compile(rf"\b(?:{'|'.join(begins)})[\w'’]*", re.IGNORECASE)


def _names(text: str, prose: bool) -> list[str]:
    found = _whole(TITLED)(text)
    within = "".join(found)
    for match in WORD.finditer(text):
        name = re.sub(r"['’]s?$", "", match[0])
        if name in within:
            continue
        if is_given_name(name) or (prose and _is_name_in_prose(text, match.start(), name)):
            found.append(name)
    return found


def _is_name_in_prose(text: str, at: int, word: str) -> bool:
    return (
        is_name_and_word(word)
        and word.istitle()
        and not CALENDAR.fullmatch(word)
        and not SENTENCE_START.search(text[:at])
    )
