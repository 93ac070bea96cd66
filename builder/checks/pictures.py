"""Pictures: named ones are there and can be shown; who does not read has one for every word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builder.checks.findings import finding, quoted
from builder.checks.items import new_items
from builder.model.program import Client, Item, Program, Step
from builder.problems import Finding
from builder.survey.survey import Found, Survey
from builder.workspace.program_files import PICTURES


def check_pictures(client: Client, survey: Survey) -> Iterator[Finding]:
    """Named pictures are there; who does not read has a picture to name."""
    for program in client.programs:
        for step, items in new_items(program, pairs=True):
            for item in items:
                yield from _own_picture(program, client.code, item, survey.own_picture(item))
            yield from _without_picture(program, step, survey)


def _own_picture(program: Program, folder: str, item: Item, own: Found | None) -> Iterator[Finding]:
    path = (*item.path, "picture")
    if item.picture and own is None:
        yield finding(
            program,
            path,
            "picture-missing",
            f"The picture `{item.picture}` for '{item.text}' is neither in the folder `{folder}` "
            f"nor in `{PICTURES}` beside the program.",
            "Put it there, or correct its name.",
        )
    if own and own.trouble:
        yield finding(program, path, "picture-file", own.trouble, "Choose another file.")


def _without_picture(program: Program, step: Step, survey: Survey) -> Iterator[Finding]:
    alone = any(r.support == "spontaneous" and not r.contrast for r in step.rounds)
    if not alone or step.level in ("isolation", "syllable"):
        return
    if bare := shown_as_print(program, step.items, survey):
        yield finding(
            program,
            (*step.path, "rounds"),
            "no-picture",
            f"{quoted(bare)} in `{step.name}` will be shown in print only, and this client does "
            "not read.",
            "Put a picture named after the word into the client's folder, choose another word, or "
            "make the round an imitation.",
        )


def shown_as_print(program: Program, items: Iterable[Item], survey: Survey) -> list[str]:
    """The texts of items that have nothing to see for a client who does not read."""
    if program.written.reads:
        return []
    return [i.text for i in items if not i.picture and not survey.has_picture(i)]
