"""Pictures and addresses: what a family will see and open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from urllib.parse import urlsplit

from builder.checks.findings import finding, listed
from builder.model.program import Client, Item, Program, Step
from builder.problems import Finding
from builder.survey.survey import Survey


def check_pictures(client: Client, survey: Survey) -> Iterator[Finding]:
    """Named pictures are there; who does not read has a picture to name."""
    for program in client.programs:
        seen: set[tuple[str | int, ...]] = set()
        for step in program.steps:
            for item in step.said:
                missing = item.picture and survey.own_picture(item) is None
                if missing and item.path not in seen:
                    yield finding(
                        program,
                        (*item.path, "picture"),
                        "picture-missing",
                        f"The picture '{item.picture}' of '{item.text}' is not in the folder "
                        f"'{client.code}' beside the program.",
                        "Put it there, or mend its name.",
                    )
                own = survey.own_picture(item)
                if own and own.trouble and item.path not in seen:
                    yield finding(
                        program,
                        (*item.path, "picture"),
                        "picture-file",
                        own.trouble,
                        "Take another file.",
                    )
                seen.add(item.path)
            yield from _without_picture(program, step, survey)


def _without_picture(program: Program, step: Step, survey: Survey) -> Iterator[Finding]:
    alone = any(r.support == "spontaneous" and not r.contrast for r in step.rounds)
    if not alone or step.level in ("isolation", "syllable"):
        return
    if bare := shown_as_print(program, step.items, survey):
        yield finding(
            program,
            (*step.path, "rounds"),
            "no-picture",
            f"{listed(bare)} in '{step.name}' will be shown as print only, and the client does "
            "not read.",
            "Put a picture named by the word into the client's folder, take another word, or "
            "make the round an imitation.",
        )


def shown_as_print(program: Program, items: Iterable[Item], survey: Survey) -> list[str]:
    """The texts of items that have nothing to see for a client who does not read."""
    if program.written.reads:
        return []
    return [i.text for i in items if not i.picture and not survey.has_picture(i)]


def check_address(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Sites have an address, and it fits a printed code."""
    base = client.clinic.base_url.rstrip("/")
    program = client.programs[0]
    contact = client.clinic.contact
    if not contact.phone and not contact.email:
        yield finding(
            program,
            ("client",),
            "contact",
            "The clinic file gives neither a telephone number nor an e-mail address.",
            "Families must be able to ask: write one into clinic.yaml.",
        )
    if not base:
        yield finding(
            program,
            ("client",),
            "address",
            "The clinic file gives no 'base_url', so no code and no address can be printed.",
            "Write where the sites will stand, as in 'base_url: https://practice.example.org'.",
        )
        return
    if urlsplit(base).hostname and str(urlsplit(base).hostname).endswith(".example"):
        yield finding(
            program,
            ("client",),
            "address",
            f"The clinic file's address is still an invented one ({base}).",
            "Before a family gets a sheet, write your clinic's own contact and base_url into "
            "clinic.yaml.",
        )
    for one in client.programs:
        for step in one.published_steps:
            length = len(base) + 1 + 13 + 1 + len(step.id) + 1
            if length > 80:
                yield finding(
                    one,
                    (*step.path, "name"),
                    "address",
                    f"The address of '{step.name}' has {length} characters; its code is sure to "
                    "be read up to 80.",
                    "Give the step a short 'id:', or use a shorter base_url.",
                )
