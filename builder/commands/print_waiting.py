"""Clients whom nobody named, but whose sheets wait on the list, which is made anew."""

from __future__ import annotations

import datetime
import os
import sys
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from builder import pipeline
from builder.commands.built_sites import Built
from builder.commands.print_made import Made
from builder.pipeline import Checked
from builder.problems import Finding, standing
from builder.program_file.load import readable
from builder.workspace.desk import Sheet
from builder.workspace.program_files import named
from builder.workspace.stamps import root_around


def also_waiting(
    before: Mapping[str, Sheet], everyone: Iterable[Checked], base_url: str, day: datetime.date
) -> tuple[list[Checked], list[Finding]]:
    """Clients who were not named but are on the list, which is made anew; and what keeps some of
    them off it."""
    known = {one.client.code for one in everyone}
    codes = [
        code
        for code, sheet in before.items()
        if (sheet.waiting or sheet.fresh) and code not in known
    ]
    files = [Path(file) for code in codes for file in _programs_of(code)]
    loaded, findings = readable(files, base_url)
    also = [pipeline.check_client(client, today=day) for client in loaded]
    faulty = [one for one in also if standing(one.findings)]
    stopped = [*findings, *(found for one in faulty for found in standing(one.findings))]
    return [one for one in also if one not in faulty], stopped


def apart(made: list[Made], built: Built, named: Collection[str]) -> tuple[list[Made], list[str]]:
    """What is printed, and the codes of those whom nobody named and whose new sheet would ask for
    other practice than their site still gives: their visit is under way."""
    held = {
        one.plan.client
        for one in made
        if one.plan.client not in named
        and one.is_new
        and built.site(one.client)
        and not built.is_of_now(one.client, one.plan)
    }
    return [one for one in made if one.plan.client not in held], sorted(held)


def tell_unbuilt(made: Iterable[Made], built: Built) -> None:
    """Advise to build where a sheet's code leads nowhere yet, or to what is older than it."""
    for one in made:
        code, site = one.client.code, built.site(one.client)
        if not site and one.plan.code:
            print(
                f"{code}: not published here yet, so the code on its sheet leads nowhere: "
                f"`practice-site build {code}`",
                file=sys.stderr,
            )
        elif site and not built.is_of_now(one.client, one.plan):
            print(
                f"{code}: the site is older than this sheet: `practice-site build {code}`",
                file=sys.stderr,
            )


def without_program(before: Mapping[str, Sheet]) -> set[str]:
    """The codes of sheets whose client has no program any more."""
    return {code for code in before if not _programs_of(code)}


def _programs_of(code: str) -> list[str]:
    return [file for file in named([code], root_around(os.getcwd())) if os.path.isfile(file)]
