"""The recordings beside the programs: which file belongs to which item and form, what each was
measured to be, and which of several is the best.

    takes/cow.wav  takes/cow-long.m4a  takes/cow-2.wav    the clinic's voice, for every client
    heron-07/takes/cow.wav                                for this client alone
    takes/unheard/…                                       cut out of a long recording, not heard yet
    takes/doubtful/…                                      cut out of it with doubt, for the proof
    takes/earlier/…                                       replaced by a newer one; never used
    takes/wrong/t/cow.wav                                 the word as said with this error
    takes/heard.txt                                       doubtful ones that were heard
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Literal

from builder.audio.assess.issue import Issue, Verdict, reasons
from builder.model.program import Client
from builder.recordings.colour import SIBILANTS, duller
from builder.recordings.file_names import matching_stem
from builder.recordings.heard import heard
from builder.recordings.measurement import measurement
from builder.recordings.prompts import Utterance
from builder.text.slugs import slug_of, whole_slug
from builder.workspace.store import Store, digest_of, key_of

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

DOUBT_ENDING = ".doubt.txt"

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
    mean:   spectral mean of the target in Hz; None when it is not known.
    heard:  somebody heard this very file and called it right.
    """

    path: str
    digest: str
    target: tuple[float, float] | None
    verdict: Verdict
    issues: tuple[Issue, ...]
    rank: float
    loudness: float | None
    mean: float | None = None
    state: TakeState = "accepted"
    heard: bool = False

    @property
    def usable(self) -> bool:
        """Whether it may become a clip. What is doubtful may not before somebody heard it."""
        fine = self.verdict == "good" or (self.verdict == "doubtful" and self.heard)
        return fine and self.state == "accepted"

    @property
    def waits(self) -> bool:
        """Whether it is not used until somebody has heard it."""
        return not self.usable and (self.verdict != "again" or self.state != "accepted")

    @property
    def refused(self) -> tuple[Issue, ...]:
        """Why it may not."""
        return tuple(r for r in self.issues if r.severity == "refused")

    @property
    def reasons(self) -> tuple[tuple[str, str], ...]:
        """Everything that was found, as it is told: (sentence, figure)."""
        return reasons(self.issues)


Takes = Mapping[Utterance, tuple[Take, ...]]


def folders(client: Client) -> tuple[Path, Path]:
    """Where the recordings of a client are: the client's own folder, then the clinic's."""
    home = Path(client.folder)
    return home / client.code / CLIENT_FOLDER, home / client.clinic.takes


def files_of(folder: Path, state: TakeState) -> tuple[Path, ...]:
    """The recordings of a folder in a state: those in it, or what was cut out of a long recording
    and is not used yet."""
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
    homes = tuple(places)
    files = [(at, *one) for at, folder in enumerate(homes) for one in _files(folder, *states)]
    stems = {utterance.stem for utterance in everything}
    mine_by_stem = defaultdict(list)
    for at, stem, file, state in files:
        mine_by_stem[matching_stem(stem, stems)].append((at, file, state))
    digest = cache(digest_of)  # a file may serve several
    heard_files = frozenset[str]().union(*map(heard, homes))
    measured = {
        utterance: [
            (at, _take(file, digest(file), state, utterance, store, heard_files))
            for at, file, state in mine_by_stem[utterance.stem]
        ]
        for utterance in everything
    }
    takes = {}
    for utterance, mine in _beside_each_other(measured).items():
        mine.sort(key=lambda pair: (not pair[1].usable, pair[0], -pair[1].rank, pair[1].path))
        if mine:
            takes[utterance] = tuple(take for _, take in mine)
    return takes


Placed = tuple[int, Take]  # with the place of its folder among the folders: one speaker's


def _beside_each_other(measured: Mapping[Utterance, list[Placed]]) -> dict[Utterance, list[Placed]]:
    """The takes, with what is told by comparing those of one folder and sound."""
    means: dict[tuple[int, str], dict[str, float]] = defaultdict(dict)
    for asked, mine in measured.items():
        for at, take in mine:
            if asked.sound in SIBILANTS and take.mean is not None and take.verdict != "again":
                means[at, asked.sound][take.path] = take.mean
    dull = {(*key, file): one for key in means for file, one in duller(means[key], key[1]).items()}
    return {
        asked: [(at, _doubted(take, dull.get((at, asked.sound, take.path)))) for at, take in mine]
        for asked, mine in measured.items()
    }


def _doubted(take: Take, issue: Issue | None) -> Take:
    if issue is None or take.verdict == "again":
        return take
    others = (one for one in take.issues if one.rule != issue.rule)
    return replace(take, verdict="doubtful", issues=(*others, issue))


def find_wrong(folder: Path, error: str, utterance: Utterance, store: Store | None) -> Take | None:
    """The recording of a word as it is said with `error`, if there is one that is not refused.

    It is measured without a target: the sound that should be there is not.
    """
    for stem, file in _audio_files(folder / WRONG_FOLDER / slug_of(error)):
        if matching_stem(stem, {utterance.stem}):
            plain = utterance._replace(focus=None, words=())
            take = _take(file, digest_of(file), "accepted", plain, store, heard(folder))
            return take if take.verdict != "again" else None
    return None


def wrong_files(folder: Path) -> tuple[Path, ...]:
    """Every recording of a word with an error."""
    homes = sorted((folder / WRONG_FOLDER).iterdir()) if (folder / WRONG_FOLDER).is_dir() else []
    return tuple(file for home in homes for _, file in _audio_files(home))


def is_wrong(file: Path) -> bool:
    """Whether a recording is of a word with an error."""
    return file.parent.parent.name == WRONG_FOLDER


def name_of(file: Path) -> str:
    """What a recording is called where one is named: `cow-2`, `wrong/lateral/cow`."""
    error = f"{WRONG_FOLDER}/{file.parent.name}/" if is_wrong(file) else ""
    return error + file.stem


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


def _take(
    file: Path,
    digest: str,
    state: TakeState,
    utterance: Utterance,
    store: Store | None,
    heard_files: frozenset[str],
) -> Take:
    known = measurement(file, digest, utterance, store)
    return Take(
        path=str(file),
        digest=digest,
        target=tuple(known["target"]) if known["target"] else None,
        verdict=known["verdict"],
        issues=tuple(Issue(**issue) for issue in known["issues"]),
        rank=known["rank"],
        loudness=known["loudness"],
        mean=known["mean"],
        state=state,
        heard=digest in heard_files,
    )
