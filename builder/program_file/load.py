"""Program files -> clients: every file of a client's code in the folder, however few were named."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from builder.model.clinic import BASE_URL, Clinic
from builder.model.fill_sitting import filled
from builder.model.program import Client, Program
from builder.problems import Finding, Place, ProgramError, UsageError
from builder.program_file.resolve import program_in
from builder.program_file.suggestions import BLANK
from builder.program_file.validate import clinic_file
from builder.program_file.yaml_tree import parse, read
from builder.workspace import program_files


def files_of_client(
    file: Path, known: dict[Path, dict[str, list[Path]]] | None = None
) -> tuple[Path, ...]:
    """All program files beside `file` that carry its code, itself included.

    known: what was found in each folder; filled, so that many files cost one look at each folder.
    """
    folders = {} if known is None else known
    if file.parent not in folders:
        codes = program_files.by_code(str(file.parent))
        folders[file.parent] = {code: list(map(Path, paths)) for code, paths in codes.items()}
    found = (group for group in folders[file.parent].values() if file in group)
    return tuple(next(found, (file,)))


def clinic_of(folder: Path, base_url: str = "") -> Clinic:
    """The clinic's settings beside the programs; `base_url` overrules its own.

    Raises ProgramError when the clinic file is missing or wrong.
    """
    if not re.fullmatch(BASE_URL, base_url):
        raise UsageError(
            f"`{base_url}` is not a web address; write it as in `https://practice.example.org`."
        )
    clinic = clinic_file(read(_file_of_clinic(folder)))
    return clinic.model_copy(update={"base_url": base_url}) if base_url else clinic


def begun_clinic(folder: Path) -> Clinic:
    """The clinic's settings for a draft, which needs no name or number: blanks may stand for them.

    Raises ProgramError when the clinic file is missing or wrong.
    """
    file = _file_of_clinic(folder)
    return clinic_file(parse(UNFILLED.sub(rb'\1"-"', file.read_bytes()), str(file)))


UNFILLED = re.compile(rb"(:[ \t]+)" + BLANK.encode() + rb"\b")


def _file_of_clinic(folder: Path) -> Path:
    file = folder / program_files.CLINIC
    if not file.is_file():
        raise ProgramError(
            [
                Finding(
                    Place(str(file)),
                    "clinic",
                    "fault",
                    "The clinic file is missing; it says whom families can ask.",
                    "Create it beside the programs, with `clinic: 1` and "
                    "`contact: {clinic: …, phone: …}`.",
                )
            ]
        )
    return file


def clients(files: Iterable[Path], base_url: str = "") -> tuple[Client, ...]:
    """The clients of the named files, in the order of their first mention.

    Raises UsageError for a file that is not there, ProgramError with every finding that keeps a
    file from being read.
    """
    read_in, findings = readable(files, base_url)
    if findings:
        raise ProgramError(findings)
    return read_in


def readable(
    files: Iterable[Path], base_url: str = ""
) -> tuple[tuple[Client, ...], tuple[Finding, ...]]:
    """The clients of the named files that can be read, in the order of their first mention, and
    every finding that keeps another one's file from being read.

    Raises UsageError for a file that is not there.
    """
    groups: dict[tuple[Path, ...], None] = {}
    folders: dict[Path, dict[str, list[Path]]] = {}
    for file in files:
        if not file.is_file():
            raise UsageError(f"{file}: there is no such file.")
        groups.setdefault(files_of_client(file, folders), None)
    read_in: list[Client] = []
    findings: list[Finding] = []
    for group in groups:
        try:
            codes = tuple(folders[group[0].parent])
            read_in.append(_client(group, base_url, codes))
        except ProgramError as problem:
            findings += problem.findings
    findings += _same_code(read_in)
    return tuple(read_in), tuple(dict.fromkeys(findings))


def _same_code(clients: list[Client]) -> Iterator[Finding]:
    """One code in two folders would be two sites at one address."""
    first: dict[str, Client] = {}
    for client in clients:
        program = client.programs[0]
        other = first.setdefault(client.code, client)
        if other is not client:
            yield Finding(
                program.place(("client",)),
                "client",
                "fault",
                f"`{client.code}` is also the client of `{other.programs[0].file}`.",
                "Keep all programs of a client in one folder, or give this one another code.",
            )


def _client(files: tuple[Path, ...], base_url: str, codes: tuple[str, ...]) -> Client:
    programs: list[Program] = []
    findings: list[Finding] = []
    clinic = None
    try:
        clinic = clinic_of(files[0].parent, base_url)
    except ProgramError as problem:
        findings += problem.findings
    for file in files:
        try:
            programs.append(program_of(file, clinic))
        except ProgramError as problem:
            findings += problem.findings
    if findings or clinic is None:
        raise ProgramError(findings)
    code, folder = programs[0].written.client, str(files[0].parent)
    others = tuple(other for other in codes if other != code)
    return filled(Client(code, tuple(programs), clinic, folder, others))


def program_of(file: Path, clinic: Clinic | None) -> Program:
    """One program file. Without a clinic's settings the usual ones stand in for reading."""
    usual = clinic or Clinic.model_validate({"clinic": 1, "contact": {"clinic": "-"}})
    program = program_in(read(file), usual)
    if program_files.code_of(str(file)) != program.written.client:
        raise ProgramError([_not_at_the_edge(program)])
    return program


def _not_at_the_edge(program: Program) -> Finding:
    """Most commands look for a client's files by their lines: they would pass this one over."""
    return Finding(
        program.place(("client",)),
        "client",
        "fault",
        "`client` and its code do not stand together on a line of their own at the left edge, "
        "where caseload, receive and others look for them.",
        "Write each key on a line of its own at the left edge, among them "
        f"`client: {program.written.client}`.",
    )
