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
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Literal

from builder.audio.assess.issue import Issue, Verdict
from builder.audio.voices import voice_version
from builder.model.program import Client
from builder.phonetics.inventory import sounds
from builder.recordings.prompts import Utterance, short_stem
from builder.text.slugs import numbered, slug_of, whole_slug
from builder.workspace.store import Store, digest_of, key_of, move_new

AUDIO_ENDINGS = (
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
CLIENT_FOLDER = "takes"  # the folder of a client's own recordings, inside the client's folder
UNHEARD_FOLDER, DOUBTFUL_FOLDER, WRONG_FOLDER = "unheard", "doubtful", "wrong"
NUMBER_SUFFIX = re.compile(r"-[0-9]+$")

MEASURED_ENDING, DOUBT_ENDING = ".take.json", ".doubt.txt"
MEASURED_KEYS = {"target", "verdict", "issues", "rank", "loudness"}  # of a stored measurement

TakeState = Literal["accepted", "unheard", "doubtful"]
STATE_FOLDERS: dict[TakeState, str] = {
    "accepted": "",
    "unheard": UNHEARD_FOLDER,
    "doubtful": DOUBTFUL_FOLDER,
}


@dataclass(frozen=True, kw_only=True)
class Take:
    """A recording as one item in one form needs it.

    digest: the first half of the file's SHA-256.
    target: where the target lies, in seconds of the file; None when there is none or it was not
            found.
    verdict: good, doubtful or again; `again` is never heard by a family.
    rank:   the greater, the better it is among several.
    state:  accepted: may be used; unheard, doubtful: cut from a long recording, surely or not, to
            be heard on the proof first.
    """

    path: str
    digest: str
    target: tuple[float, float] | None
    verdict: Verdict
    issues: tuple[Issue, ...]
    rank: float
    loudness: float | None
    state: TakeState = "accepted"

    @property
    def usable(self) -> bool:
        """Whether it may become a clip."""
        return self.verdict != "again" and self.state == "accepted"

    @property
    def refused(self) -> tuple[Issue, ...]:
        """Why it may not."""
        return tuple(r for r in self.issues if r.severity == "refused")


Takes = Mapping[Utterance, tuple[Take, ...]]


def folders(client: Client) -> tuple[Path, Path]:
    """Where the recordings of a client are: the client's own folder, then the clinic's."""
    home = Path(client.folder)
    return home / client.code / CLIENT_FOLDER, home / client.clinic.takes


def cuts(folder: Path, state: TakeState) -> tuple[Path, ...]:
    """What was cut out of a long recording and is not used yet, in a folder of recordings."""
    return tuple(file for _, file, _ in _files(folder, state))


def find_takes(wanted: Iterable[Utterance], places: Iterable[Path], store: Store | None) -> Takes:
    """For everything that is to be said its recordings, the one to be heard first: usable ones by
    rank, then the others. A folder that comes first wins. Each file is measured once."""
    return _by_item(tuple(wanted), places, ("accepted", "unheard"), store)


def find_doubtful(
    wanted: Iterable[Utterance], places: Iterable[Path], store: Store | None
) -> Takes:
    """The same of what was cut out of a long recording with doubt: none of it is used."""
    found = _by_item(tuple(wanted), places, ("doubtful",), store)
    return {key: tuple(_with_doubt(take, store) for take in some) for key, some in found.items()}


def store_doubt(store: Store, digest: str, why: str) -> None:
    """Keep why a cut is doubtful, a clause, for the proof that plays it."""
    store.put(key_of(cut=digest), DOUBT_ENDING, why.encode())


def _with_doubt(take: Take, store: Store | None) -> Take:
    key = key_of(cut=take.digest)
    if not store or not store.has(key, DOUBT_ENDING):
        return take
    why = store.path(key, DOUBT_ENDING).read_text("utf-8")
    doubt = Issue("cut", "warning", f"{why[:1].upper()}{why[1:]}.", "")
    return replace(take, issues=(doubt, *take.issues))


def _by_item(
    everything: tuple[Utterance, ...],
    places: Iterable[Path],
    states: tuple[TakeState, ...],
    store: Store | None,
) -> Takes:
    files = [(at, *one) for at, folder in enumerate(places) for one in _files(folder, *states)]
    stems = {utterance.stem for utterance in everything}
    mine_by_stem = defaultdict(list)
    for at, stem, file, state in files:
        mine_by_stem[matching_stem(stem, stems)].append((at, file, state))
    digest = cache(digest_of)  # a file may serve several
    takes = {}
    for utterance in everything:
        mine = [
            (at, _take(file, digest(file), state, utterance, store))
            for at, file, state in mine_by_stem[utterance.stem]
        ]
        mine.sort(key=lambda pair: (not pair[1].usable, pair[0], -pair[1].rank, pair[1].path))
        if mine:
            takes[utterance] = tuple(take for _, take in mine)
    return takes


def find_wrong(folder: Path, error: str, utterance: Utterance, store: Store | None) -> Take | None:
    """The recording of a word as it is said with `error`, if there is one that can be heard.

    It is measured without a target: the sound that should be there is not.
    """
    for stem, file in _audio_files(folder / WRONG_FOLDER / slug_of(error)):
        if matching_stem(stem, {utterance.stem}):
            plain = utterance._replace(focus=None, words=())
            take = _take(file, digest_of(file), "accepted", plain, store)
            return take if take.usable else None
    return None


def unmatched_files(wanted: Iterable[Utterance], folder: Path) -> tuple[str, ...]:
    """The names of recordings that belong to nothing that is to be said."""
    stems = {utterance.stem for utterance in wanted}
    files = _files(folder, "accepted", "unheard")
    return tuple(f.name for stem, f, _ in files if not matching_stem(stem, stems))


def _files(folder: Path, *states: TakeState) -> Iterator[tuple[str, Path, TakeState]]:
    for state in states:
        for stem, file in _audio_files(folder / STATE_FOLDERS[state]):
            yield stem, file, state


def _audio_files(folder: Path) -> Iterator[tuple[str, Path]]:
    if not folder.is_dir():
        return
    for file in sorted(folder.iterdir()):
        if (
            file.suffix.lower() in AUDIO_ENDINGS
            and file.is_file()
            and not file.name.startswith(".")
        ):
            yield whole_slug(file.stem), file


def matching_stem(stem: str, stems: set[str]) -> str:
    """The stem of what is to be said that a file's stem means: itself, or without its number; ""
    for none. A phrase may end in a number of its own (`bus 7`), so the whole name goes first.

    The short stem of a long sentence counts where no other sentence begins alike.
    """
    plain = NUMBER_SUFFIX.sub("", stem)
    if found := next((known for known in (stem, plain) if known in stems), ""):
        return found
    alike = [known for known in stems if short_stem(known) == plain]
    return alike[0] if len(alike) == 1 else ""


def free_name(folder: Path, stem: str, stems: Iterable[str]) -> str:
    """`stem`, or with a number, as no recording of the folder and nothing else that is to be said
    (`stems`) is called: `bus-7` may be a phrase."""
    there = folder.iterdir() if folder.is_dir() else ()
    taken = {whole_slug(file.stem) for file in there} | (set(stems) - {stem})
    return next(name for name in numbered(stem) if name not in taken)


def move_beside(file: Path, folder: Path) -> Path | None:
    """Move a recording into a folder, numbered where its name is taken, however lately; its place.

    None when another program has moved it already. Raises OSError.
    """
    names = numbered(file.stem)
    while True:
        place = folder / (next(names) + file.suffix)
        try:
            move_new(file, place)
        except FileExistsError:
            continue
        except FileNotFoundError:
            return None
        return place


def _take(
    file: Path, digest: str, state: TakeState, utterance: Utterance, store: Store | None
) -> Take:
    key = key_of(assessed=digest, asked=utterance, version=voice_version("recorded"))
    known = _stored(store, key)
    if known is None:
        known = _measure(file, utterance)
        if store:
            store.put(key, MEASURED_ENDING, json.dumps(known, ensure_ascii=False).encode())
    return Take(
        path=str(file),
        digest=digest,
        target=tuple(known["target"]) if known["target"] else None,
        verdict=known["verdict"],
        issues=tuple(Issue(**issue) for issue in known["issues"]),
        rank=known["rank"],
        loudness=known["loudness"],
        state=state,
    )


def _stored(store: Store | None, key: str) -> dict[str, Any] | None:
    """What was measured before; None when it was not, or cannot be read."""
    if not store or not store.has(key, MEASURED_ENDING):
        return None
    try:
        known = json.loads(store.path(key, MEASURED_ENDING).read_text("utf-8"))
    except ValueError:
        return None
    return known if isinstance(known, dict) and known.keys() == MEASURED_KEYS else None


def _measure(file: Path, utterance: Utterance) -> dict[str, Any]:
    # numpy and the aligner only for what is new
    from builder.audio.assess.assess import assess_file

    _, form, words, focus, symbol, alone = utterance
    found = assess_file(str(file), words, focus, sounds()[symbol], form=form, alone=alone)
    return {
        "target": found.target,
        "verdict": found.verdict,
        "issues": [asdict(issue) for issue in found.issues],
        "rank": found.rank,
        "loudness": found.loudness,
    }
