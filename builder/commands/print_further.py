"""What `print` makes on request: the guide, cards, the score sheet, the sheet for a school."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from builder.commands.word_index import word_index
from builder.model.plan import Plan
from builder.model.program import Client, Program
from builder.workspace import desk
from builder.workspace.desk import FURTHER, Further
from builder.workspace.folder import Workspace
from builder.workspace.store import Store, digest_of, write_whole

if TYPE_CHECKING:
    from builder.phonetics.lexicon.index import Index

KINDS: tuple[Further | Literal["group"], ...] = (*FURTHER, "group")  # the last one of a group
PROBES = 10  # probe words for each sound of a score sheet; common practice, no source


@dataclass(frozen=True)
class Wanted:
    """What is to lie in the folder for a client besides the sheet."""

    client: Client
    plan: Plan
    first_day: str
    kinds: tuple[Further, ...]


def kinds(text: str) -> tuple[Further | Literal["group"], ...]:
    """The reader of what is asked for, as in `guide,cards`."""
    asked = [name for name in text.replace(",", " ").split() if name]
    unknown = [name for name in asked if name not in KINDS]
    if unknown or not asked:
        what = f"`{unknown[0]}` is none of them" if unknown else "it is empty"
        names = f"{', '.join(KINDS[:-1])} or {KINDS[-1]}"
        raise argparse.ArgumentTypeError(f"{what}: write {names}, or several, as in guide,cards")
    return tuple(kind for kind in KINDS if kind in asked)


@dataclass(frozen=True)
class Lying:
    """What lies in the folder now. is_new: it was written just now."""

    kind: Further
    file: str
    is_new: bool


def write_further(
    folder: Path, wanted: Iterable[Wanted], workspace: Workspace
) -> dict[str, tuple[Lying, ...]]:
    """Bring what is wanted up to date and say what was written; what lies there, by client."""
    return {
        one.plan.client: tuple(
            found for kind in one.kinds if (found := _written(folder, one, kind, workspace))
        )
        for one in wanted
    }


def _written(folder: Path, one: Wanted, kind: Further, workspace: Workspace) -> Lying | None:
    """The file; None where such a sheet makes no sense for the client."""
    from builder.make import bound, pictures
    from builder.make.further import pdf

    if why := pdf.why_not(kind, one.plan):
        print(f"{one.plan.client}: no {kind}: {why}")
        return None
    store = Store(workspace.store)
    shown = {p.key: pictures.make(p, store) for p in one.plan.pictures}
    probes = _probes(one.client, workspace) if kind == "score" else ()
    each = [
        (language, pdf.further(kind, one.plan, shown, store, one.first_day, probes, language))
        for language in pdf.languages_of(kind, one.plan)
    ]
    data = bound.bind(each, f"{one.plan.client}: {kind}") if len(each) > 1 else each[0][1]
    name = desk.file_of(one.plan.client, one.first_day, kind)
    file = folder / name
    is_new = not file.is_file() or digest_of(file) != desk.digest(data)
    if is_new:
        write_whole(file, data)
        print(file)
    return Lying(kind, name, is_new)


def _probes(client: Client, workspace: Workspace) -> list[tuple[str, ...]]:
    """Words that are kept out of practice, for each program: those of `words --probe`."""
    from builder.wordbank import suggest
    from builder.wordbank.filters import Query
    from builder.wordbank.needs import needs_for

    def of(program: Program, index: Index) -> tuple[str, ...]:
        others = [other for other in client.programs if other is not program]
        needs, places = needs_for(program, others), program.written.position
        each = -(-PROBES // len(places))
        found = [
            offer.word
            for place in places
            for offer in suggest.probes(
                index,
                Query(sound=program.sound, position=place, age=program.written.age),
                each,
                needs,
            )
            if not offer.two_ways  # a word that is read in two ways is no test
        ]
        return tuple(dict.fromkeys(found))[:PROBES]

    with word_index(workspace.index) as index:
        return [of(program, index) for program in client.programs]
