"""Pictures and addresses: what a family will see and open."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import PurePath
from urllib.parse import urlsplit

from builder.checks.findings import finding, listed
from builder.model import Client, Program, Step
from builder.names import slug_of
from builder.problems import Finding
from builder.survey import Survey


def check_pictures(client: Client, survey: Survey) -> Iterator[Finding]:
    """Named pictures are there; who does not read has a picture to name."""
    for program in client.programs:
        seen: set[tuple[str | int, ...]] = set()
        for step in program.steps:
            for item in step.said:
                missing = item.picture and survey.own_picture(item) is None
                if missing and item.path not in seen:
                    yield finding(
                        program, (*item.path, "picture"), "picture-missing",
                        f"The picture '{item.picture}' of '{item.text}' is not in the folder "
                        f"'{client.code}' beside the program.",
                        "Put it there, or mend its name.",
                    )  # fmt: skip
                own = survey.own_picture(item)
                if own and own.trouble and item.path not in seen:
                    yield finding(
                        program, (*item.path, "picture"), "picture-file", own.trouble,
                        "Take another file.",
                    )  # fmt: skip
                seen.add(item.path)
            yield from _unseen(program, step, survey)


def _unseen(program: Program, step: Step, survey: Survey) -> Iterator[Finding]:
    alone = any(r.support == "spontaneous" and not r.contrast for r in step.rounds)
    if program.written.reads or not alone or step.level in ("isolation", "syllable"):
        return
    bare = [i.text for i in step.items if not i.picture and not survey.has_picture(i)]
    if bare:
        yield finding(
            program, (*step.path, "rounds"), "no-picture",
            f"{listed(bare)} in '{step.name}' will be shown as print only, and the client does "
            "not read.",
            "Put a picture named by the word into the client's folder, take another word, or "
            "make the round an imitation.",
        )  # fmt: skip


def check_address(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Sites have an address, and it fits a printed code."""
    base = client.clinic.base_url.rstrip("/")
    program = client.programs[0]
    contact = client.clinic.contact
    if not contact.phone and not contact.email:
        yield finding(
            program, ("client",), "contact",
            "The clinic file gives neither a telephone number nor an e-mail address.",
            "Families must be able to ask: write one into clinic.yaml.",
        )  # fmt: skip
    if not base:
        yield finding(
            program, ("client",), "address",
            "The clinic file gives no 'base_url', so no code and no address can be printed.",
            "Write where the sites will stand, as in 'base_url: https://practice.example.org'.",
        )  # fmt: skip
        return
    if urlsplit(base).hostname and str(urlsplit(base).hostname).endswith(".example"):
        yield finding(
            program, ("client",), "address",
            f"The clinic file's address is still an invented one ({base}).",
            "Before a family gets a sheet, write your clinic's own contact and base_url into "
            "clinic.yaml.",
        )  # fmt: skip
    for one in client.programs:
        for step in one.published_steps:
            length = len(base) + 1 + 13 + 1 + len(step.id) + 1
            if length > 80:
                yield finding(
                    one, (*step.path, "name"), "address",
                    f"The address of '{step.name}' has {length} characters; its code is sure to "
                    "be read up to 80.",
                    "Give the step a short 'id:', or use a shorter base_url.",
                )  # fmt: skip


def check_takes(client: Client, survey: Survey) -> Iterator[Finding]:
    """Recordings that nobody will hear: of a kind that is not read, or named like no word."""
    texts = {i.text.lower() for p in client.programs for s in p.steps for i in s.said}
    program = client.programs[0]
    for name in survey.unread_takes:
        yield finding(
            program, (), "take-file", f"The recording '{name}' is of a kind that is not read.",
            "Save it as WAV, FLAC or MP3.",
        )  # fmt: skip
    for (_, form), take in sorted(survey.takes.items()):
        if take.trouble:
            yield finding(
                program, (), "take-unfit",
                f"The {form} recording '{PurePath(take.path).name}': {take.trouble}",
                "Record it again, or take the file away; then the embedded voice speaks.",
            )  # fmt: skip
    names = {slug_of(text) for text in texts} | {slug_of(p.sound.spelled) for p in client.programs}
    for taken in sorted({name for name, _ in survey.takes} - names):
        near = get_close_matches(taken, names, n=1, cutoff=0.8)
        if near:
            yield finding(
                program, (), "take-file",
                f"The recording '{taken}' belongs to no word of this client; '{near[0]}' is near.",
                f"If it is '{near[0]}', name it so.",
            )  # fmt: skip
