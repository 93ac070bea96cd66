"""Looks at the disk once for a client: what lies there (files.py), what was measured of it
(measured.py and the recordings' own), as one frozen Survey."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TypedDict

from builder.model.program import Client
from builder.phonetics.inventory import Sound
from builder.recordings import takes
from builder.recordings.prompts import Prompt, Utterance, client_prompts
from builder.recordings.takes import Take, Takes
from builder.survey import files, measured
from builder.survey.survey import Found, Survey
from builder.text.passage import words_of_passage
from builder.text.slugs import slug_of
from builder.workspace.store import Store


def survey(
    client: Client, published: Path | None = None, today: datetime.date | None = None
) -> Survey:
    """What the disk holds. `published`: the folder of the client's site as it stands, if any;
    `today`: for findings on dates, None for none."""
    items = (i for p in client.programs for s in p.steps for i in s.items)
    words = {word.text.lower() for item in items for word in item.words} | _read(client)
    own = files.own_pictures(client)
    found = Survey(
        own=own,
        drawings=files.drawings_of(client),
        **_takes(client),
        emblem=files.emblem_of(client),
        animal=files.animal_of(client),
        undrawn=files.undrawn(client.code, {slug_of(Path(name).stem) for name in own}),
        alike=files.alike(Path(client.folder), client.code, client.others),
        today=today,
        gone=files.published_steps(published),
        zipf=measured.frequencies(files.index_folder_of(client), words),
    )
    return _with_judged_pictures(found, client)


def _read(client: Client) -> set[str]:
    """The words of all texts that are read or told."""
    texts = (step.passage for program in client.programs for step in program.steps)
    return {word.text.lower() for text in texts for word in words_of_passage(text)}


def _with_judged_pictures(found: Survey, client: Client) -> Survey:
    """Only the pictures that an item shows are opened."""
    items = (item for p in client.programs for step in p.steps for item in step.said)
    shown = {one.path for item in items if (one := found.own_picture(item))}
    needed = {name: one for name, one in found.own.items() if one.path in shown}
    if not needed:
        return found
    own: Mapping[str, Found] = {
        **found.own,
        **measured.judged_pictures(needed, files.store_of(client)),
    }
    return replace(found, own=own)


class _Takes(TypedDict):
    takes: Takes
    doubtful: Takes
    wrong: Mapping[Utterance, Take]
    strange_takes: tuple[str, ...]


def _takes(client: Client) -> _Takes:
    """The recordings of the client's own folder, then those of the clinic."""
    folders = takes.folders(client)
    if not any(folder.is_dir() for folder in folders):
        return {"takes": {}, "doubtful": {}, "wrong": {}, "strange_takes": ()}
    everything, store = client_prompts(client), files.store_of(client)
    asked = [prompt.utterance for prompt in everything]
    own = (
        f"{client.code}/{takes.CLIENT_FOLDER}/{name}"
        for name in takes.unmatched_files(asked, folders[0])
    )
    return {
        "takes": takes.find_takes(asked, folders, store),
        "doubtful": takes.find_doubtful(asked, folders, store),
        "wrong": dict(_wrong(client, everything, folders, store)),
        "strange_takes": (*own, *takes.unmatched_files(asked, folders[1])),
    }


def _wrong(
    client: Client, prompts: tuple[Prompt, ...], folders: tuple[Path, Path], store: Store | None
) -> Iterator[tuple[Utterance, Take]]:
    """The words that were recorded as the client says them."""
    for program in client.programs:
        error = program.error if isinstance(program.error, str) else program.error.symbol
        for word in _words(prompts, program.sound) if error else ():
            found = (takes.find_wrong(folder, error, word, store) for folder in folders)
            if take := next(filter(None, found), None):
                yield word, take


def _words(prompts: tuple[Prompt, ...], sound: Sound) -> Iterator[Utterance]:
    for prompt in prompts:
        if prompt.sound is sound and prompt.level == "word" and prompt.form == "natural":
            yield prompt.utterance
