"""The clinic file: whom a family can ask, and the address at which its pages are published."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlsplit

from builder.checks.findings import finding, quoted, verb
from builder.model.program import Client, Program
from builder.problems import Finding
from builder.survey.survey import Survey
from builder.text.given_names import is_given_name
from builder.text.wording import is_read
from builder.workspace.addresses import SLUG_LENGTH

MAX_ADDRESS_CHARACTERS = 80  # of a code printed at 30 mm; own trials


def check_contact(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A family can ask the clinic."""
    contact = client.clinic.contact
    if not contact.phone and not contact.email:
        yield finding(
            client.programs[0],
            ("client",),
            "contact",
            "The clinic file gives neither a telephone number nor an email address.",
            "Families must be able to ask: write one into `clinic.yaml`.",
        )


def check_address(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Sites have an address, and it fits a printed code."""
    base = client.clinic.base_url.rstrip("/")
    if not base:
        yield finding(
            client.programs[0],
            ("client",),
            "address",
            "The clinic file gives no `base_url`, so no code and no address can be printed.",
            "Write where the sites will be published, as in "
            "`base_url: https://practice.example.org`.",
        )
    elif str(urlsplit(base).hostname).endswith(".example"):
        yield finding(
            client.programs[0],
            ("client",),
            "address",
            f"The address in the clinic file is still an invented one ({base}).",
            "Before a family gets a sheet, write your clinic's own contact and `base_url` into "
            "`clinic.yaml`.",
        )
    for program in client.programs if base else ():
        yield from _long_addresses(program, base, client.interface)


def check_interface(client: Client, _survey: Survey) -> Iterator[Finding]:
    """A speaker has read the words of pages and sheets."""
    drafted = [language for language in client.interface if not is_read(language)]
    if drafted:
        yield finding(
            client.programs[0],
            ("client",),
            "not-read",
            f"The words of pages and sheets in {quoted(drafted)} were drafted by a machine, and no "
            "speaker has read them: the cautions stand in English, too.",
            "Let somebody who speaks the language well read the site and the sheet before a family "
            "gets them.",
        )


def check_groups(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The groups of a client are of clients who are there, and their names are nobody's. Told with
    the first client of each."""
    everyone = {client.code, *client.others}
    for name, codes in client.clinic.groups.items():
        known = [code for code in codes if code in everyone]
        if known[:1] != [client.code]:
            continue
        if unknown := [code for code in codes if code not in everyone]:
            yield finding(
                client.programs[0],
                ("client",),
                "group-code",
                f"The group `{name}` of the clinic file names {quoted(unknown)}, but no client has "
                f"{verb(unknown, 'that code', 'these codes')}.",
                "Correct the code in `clinic.yaml`, or take it out of the group.",
            )
        if any(map(is_given_name, name.split("-"))):
            yield finding(
                client.programs[0],
                ("client",),
                "group-name",
                f"The group `{name}` of the clinic file has a person's name.",
                "Name it for its day, its class or its room: the name is printed on its list.",
            )


def _long_addresses(program: Program, base: str, interface: tuple[str, ...]) -> Iterator[Finding]:
    folder = max((f"{language}/" for language in interface[1:]), key=len, default="")
    for step in program.published_steps:
        length = len(f"{base}/{'x' * SLUG_LENGTH}/{folder}{step.id}/")
        if length > MAX_ADDRESS_CHARACTERS:
            yield finding(
                program,
                (*step.path, "name"),
                "address",
                f"The address of `{step.name}` has {length} characters; its code scans reliably "
                f"up to {MAX_ADDRESS_CHARACTERS}.",
                "Give the step a short `id`, or use a shorter `base_url`.",
            )
