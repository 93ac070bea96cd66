"""Lists: duplicates, lengths, names of steps, reminders."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import PurePath

from builder.checks.findings import finding, quoted, verb
from builder.checks.items import new_items
from builder.model.program import CODE, Client, Item, Program, Step
from builder.problems import Finding
from builder.program_file.pronounce import words_of
from builder.survey.survey import Survey
from builder.text.several import several

MIN_WORDS, MAX_WORDS = 4, 20  # words of one list


def check_lists(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Each list once, however many steps use it."""
    for program in client.programs:
        for step, items in new_items(program):
            if items:
                yield from _listed_twice(program, step)
                yield from _length(program, step)


def _listed_twice(program: Program, step: Step) -> Iterator[Finding]:
    """One finding for the whole list, at its first repeat."""
    # A word may be practiced for its first and its last sound: then it is in two lists.
    times_of: Counter[tuple[str, str]] = Counter()
    again = []
    for item in step.items:
        times_of[_text(item)] += 1
        if times_of[_text(item)] > 1:
            again.append(item)
    if not again:
        return
    texts = list({item.text.lower(): item.text for item in again}.values())
    times = times_of[_text(again[0])] if len(texts) == 1 else 0
    often = {0: "more than once", 2: "twice"}.get(times, f"{times} times")
    yield finding(
        program,
        again[0].path,
        "twice",
        f"{quoted(texts)} {verb(texts, 'is', 'are')} listed {often} in `{step.name}`.",
        "Delete one of them." if times == 2 else "Keep each once.",
    )


def _text(item: Item) -> tuple[str, str]:
    return item.text.lower(), item.position


def _length(program: Program, step: Step) -> Iterator[Finding]:
    count = len(step.items)
    if step.level == "word" and (count < MIN_WORDS or count > MAX_WORDS):
        few = count < MIN_WORDS
        path = step.items[0].path[:-1]
        yield finding(
            program,
            path,
            "few-items" if few else "many-items",
            f"`{step.name}` has {several(count, 'word')}.",
            f"A list of {MIN_WORDS} or more gives variety."
            if few
            else f"More than {MAX_WORDS} are tiring; split the list.",
        )


def check_names(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A step's name is how `current` finds it, its id is its address."""
    counts = Counter(step.id for program in client.programs for step in program.steps)
    for program in client.programs:
        names = Counter(step.name for step in program.steps)
        seen: set[str] = set()
        for step in program.steps:
            if (names[step.name] > 1 and step.name in seen) or counts[step.id] > 1:
                yield finding(
                    program,
                    (*step.path, "name"),
                    "same-name",
                    f"More than one step is called `{step.name}`.",
                    "Give each step of this client a name of its own.",
                )
            seen.add(step.name)


# Folders and pages of every site, and its own code among those of steps.
RESERVED = (
    "about",
    "assets",
    "clips",
    "codes",
    "helper",
    "index",
    "pictures",
    "print",
    "reminder",
    "site",
    "sound",
    "visit",
)
# Names of devices on Windows, where no folder can be called so.
# https://learn.microsoft.com/en-us/windows/win32/fileio/naming-a-file
DEVICES = (
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)),
)


def check_reserved_ids(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A step's id is a folder of the site: not another page's, and one that every system allows."""
    for program in client.programs:
        for step in program.steps:
            if why := _why_reserved(step.id, client.interface[1:]):
                yield finding(
                    program,
                    (*step.path, "id"),
                    "reserved",
                    f"A step cannot have the id `{step.id}`: {why}.",
                    "Give it another `id`, or delete `id`.",
                )


def _why_reserved(name: str, languages: tuple[str, ...]) -> str:
    if name in (*RESERVED, *languages):
        return "the site has a page or folder of that name"
    return "Windows has no folders of that name" if name in DEVICES else ""


def check_reminder(client: Client, _survey: Survey) -> Iterator[Finding]:
    """At most four words: more are not heard before a try."""
    for program in client.programs:
        words = words_of(program.written.reminder)
        if len(words) > 4:
            yield finding(
                program,
                ("reminder",),
                "reminder",
                f"The reminder has {len(words)} words: `{program.written.reminder}`.",
                "Keep it to four words or fewer.",
            )


def check_missing_commas(client: Client, survey: Survey) -> Iterator[Finding]:
    """'leaf knife' in a word list, 'my leaf my knife' in a phrase: is a comma missing?"""
    for program in client.programs:
        words = {i.text.lower() for s in program.steps if s.level == "word" for i in s.items}
        for step, items in new_items(program):
            for item in items:
                if _may_be_two(step, item, words, survey):
                    yield finding(
                        program,
                        item.path,
                        "comma",
                        f"'{item.text}' is one entry.",
                        "If it is meant to be two, put a comma between them; otherwise leave it "
                        "as it is.",
                    )


def _may_be_two(step: Step, item: Item, words: set[str], survey: Survey) -> bool:
    parts = [word.text.lower() for word in item.words]
    if step.level == "word":
        return len(parts) > 1 and item.text not in survey.drawings
    return step.level == "phrase" and sum(part in words for part in parts) > 1


def check_file_names(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A file called wren-02 that says `client: wren-01` is a copy not finished."""
    for program in client.programs:
        name = PurePath(program.file).stem
        if re.match(CODE.removesuffix("$"), name) and not name.startswith(client.code):
            yield finding(
                program,
                ("client",),
                "file-name",
                f"The file is called `{name}`, but its client is `{client.code}`.",
                "Correct whichever is wrong.",
            )
