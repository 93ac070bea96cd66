"""The recordings beside the programs: which file belongs to which item and form, what each was
measured to be, and which of several is the best.

    takes/cow.wav  takes/cow-long.m4a  takes/cow-2.wav    the clinic's voice, for every client
    heron-07/takes/cow.wav                                for this client alone
    takes/unheard/…                                       cut out of a long recording, not heard yet
    takes/doubtful/…                                      cut out of it with doubt, for the proof
    takes/earlier/…                                       replaced by a newer one; never used
    takes/wrong/t/cow.wav                                 the word as said with this error
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Literal

from builder.audio.assess.issue import Remark, Word
from builder.audio.voices import voice_version
from builder.model.program import Client
from builder.phonetics.inventory import sounds
from builder.recordings.prompts import Asked
from builder.text.slugs import numbered, slug_of
from builder.workspace.store import Store, digest_of, key_of

ENDINGS = (
    ".wav",
    ".flac",
    ".mp3",
    ".m4a",
    ".mp4",
    ".aac",
    ".ogg",
    ".oga",
    ".opus",
    ".webm",
    ".mka",
    ".wma",
    ".amr",
    ".3gp",
    ".caf",
    ".aif",
    ".aiff",
)
OWN = "takes"  # the folder of a client's own recordings, inside the client's folder
UNHEARD, DOUBTFUL, WRONG = "unheard", "doubtful", "wrong"
NUMBERED = re.compile(r"-[0-9]+$")

MEASURED, DOUBT = ".take.json", ".doubt.txt"

State = Literal["heard", "unheard", "doubtful"]
FOLDERS: dict[State, str] = {"heard": "", "unheard": UNHEARD, "doubtful": DOUBTFUL}


@dataclass(frozen=True)
class Take:
    """A recording as one item in one form needs it.

    digest: the first half of the file's SHA-256.
    target: where the target lies, in seconds of the file; None when there is none or it was not
            found.
    word:   good, doubtful or again; `again` is never heard by a family.
    rank:   the greater, the better it is among several.
    state:  heard: may be used; unheard, doubtful: cut from a long recording, surely or not, to be
            heard on the proof first.
    """

    path: str
    digest: str
    target: tuple[float, float] | None
    word: Word
    remarks: tuple[Remark, ...]
    rank: float
    loudness: float | None
    state: State = "heard"

    @property
    def usable(self) -> bool:
        """Whether it may become a clip."""
        return self.word != "again" and self.state == "heard"

    @property
    def refused(self) -> tuple[Remark, ...]:
        """Why it may not."""
        return tuple(r for r in self.remarks if r.degree == "refused")


Takes = Mapping[Asked, tuple[Take, ...]]


def folders(client: Client) -> tuple[Path, Path]:
    """Where the recordings of a client are: the client's own folder, then the clinic's."""
    home = Path(client.folder)
    return home / client.code / OWN, home / client.clinic.takes


def cuts(folder: Path, state: State) -> tuple[Path, ...]:
    """What was cut out of a long recording and is not used yet, in a folder of recordings."""
    return tuple(file for _, file, _ in _files(folder, state))


def found(wanted: Iterable[Asked], places: Iterable[Path], store: Store | None) -> Takes:
    """For everything that is to be said its recordings, the one to be heard first: usable ones by
    rank, then the others. A folder that comes first wins. Each file is measured once."""
    return _by_item(tuple(wanted), places, ("heard", "unheard"), store)


def doubtful(wanted: Iterable[Asked], places: Iterable[Path], store: Store | None) -> Takes:
    """The same of what was cut out of a long recording with doubt: none of it is used."""
    found = _by_item(tuple(wanted), places, ("doubtful",), store)
    return {asked: tuple(_with_doubt(one, store) for one in some) for asked, some in found.items()}


def keep_doubt(store: Store, digest: str, why: str) -> None:
    """Keep why a cut is doubtful, a clause, for the proof that plays it."""
    store.put(key_of(cut=digest), DOUBT, why.encode())


def _with_doubt(take: Take, store: Store | None) -> Take:
    key = key_of(cut=take.digest)
    if not store or not store.has(key, DOUBT):
        return take
    why = store.path(key, DOUBT).read_text("utf-8")
    doubt = Remark("cut", "warning", f"{why[:1].upper()}{why[1:]}.", "")
    return replace(take, remarks=(doubt, *take.remarks))


def _by_item(
    everything: tuple[Asked, ...],
    places: Iterable[Path],
    states: tuple[State, ...],
    store: Store | None,
) -> Takes:
    files = [(at, *one) for at, folder in enumerate(places) for one in _files(folder, *states)]
    stems = {asked.stem for asked in everything}
    digest = cache(digest_of)  # a file may serve several
    takes = {}
    for asked in everything:
        mine = [
            (at, _measured(file, digest(file), state, asked, store))
            for at, stem, file, state in files
            if owner(stem, stems) == asked.stem
        ]
        mine.sort(key=lambda pair: (not pair[1].usable, pair[0], -pair[1].rank, pair[1].path))
        if mine:
            takes[asked] = tuple(take for _, take in mine)
    return takes


def wrong(folder: Path, error: str, asked: Asked, store: Store | None) -> Take | None:
    """The recording of a word as it is said with `error`, if there is one that can be heard.

    It is measured without a target: the sound that should be there is not.
    """
    for stem, file in _in(folder / WRONG / slug_of(error)):
        if owner(stem, {asked.stem}):
            plain = asked._replace(focus=None, words=())
            take = _measured(file, digest_of(file), "heard", plain, store)
            return take if take.usable else None
    return None


def strangers(wanted: Iterable[Asked], folder: Path) -> tuple[str, ...]:
    """The names of recordings that belong to nothing that is to be said."""
    stems = {asked.stem for asked in wanted}
    files = _files(folder, "heard", "unheard")
    return tuple(f.name for stem, f, _ in files if not owner(stem, stems))


def _files(folder: Path, *states: State) -> Iterator[tuple[str, Path, State]]:
    for state in states:
        for stem, file in _in(folder / FOLDERS[state]):
            yield stem, file, state


def _in(folder: Path) -> Iterator[tuple[str, Path]]:
    if not folder.is_dir():
        return
    for file in sorted(folder.iterdir()):
        if file.suffix.lower() in ENDINGS and file.is_file() and not file.name.startswith("."):
            yield slug_of(file.stem), file


def owner(stem: str, stems: set[str]) -> str:
    """The stem of what is to be said that a file's stem means: itself, or without its number; ""
    for none. A phrase may end in a number of its own (`bus 7`), so the whole name goes first."""
    plain = NUMBERED.sub("", stem)
    return next((known for known in (stem, plain) if known in stems), "")


def free(folder: Path, stem: str, stems: Iterable[str]) -> str:
    """`stem`, or with a number, as no recording of the folder and nothing else that is to be said
    (`stems`) is called: `bus-7` may be a phrase."""
    there = folder.iterdir() if folder.is_dir() else ()
    taken = {slug_of(file.stem) for file in there} | (set(stems) - {stem})
    return next(name for name in numbered(stem) if name not in taken)


def _measured(file: Path, digest: str, state: State, asked: Asked, store: Store | None) -> Take:
    key = key_of(take=digest, asked=asked, version=voice_version("recorded"))
    known = _known(store, key)
    if known is None:
        known = _judged(file, asked)
        if store:
            store.put(key, MEASURED, json.dumps(known, ensure_ascii=False).encode())
    remarks = tuple(Remark(**remark) for remark in known["remarks"])
    target = tuple(known["target"]) if known["target"] else None
    rest = {name: known[name] for name in ("word", "rank", "loudness")}
    return Take(str(file), digest, target, remarks=remarks, state=state, **rest)


def _known(store: Store | None, key: str) -> dict[str, Any] | None:
    """What was measured before; None when it was not, or cannot be read."""
    if not store or not store.has(key, MEASURED):
        return None
    try:
        known = json.loads(store.path(key, MEASURED).read_text("utf-8"))
    except ValueError:
        return None
    return known if isinstance(known, dict) else None


def _judged(file: Path, asked: Asked) -> dict[str, Any]:
    from builder.audio.assess.assess import judged  # numpy and the aligner only for what is new

    sound = sounds()[asked.sound]
    return asdict(
        judged(str(file), asked.words, asked.focus, sound, form=asked.form, alone=asked.alone)
    )
