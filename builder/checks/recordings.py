"""The clinic's own recordings: what is not used, and why; what should be listened to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from pathlib import Path, PurePath

from builder.audio.assess.issue import Issue, loudness_spread
from builder.checks.findings import finding, listed
from builder.model.program import Client
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.problems import Finding
from builder.recordings.prompts import client_prompts
from builder.recordings.takes import Take, name_of
from builder.survey.survey import Survey

SPEAKER_INSTEAD = {"helper": "the helper says the word", "online": "the online voice speaks"}


def check_refused(client: Client, survey: Survey) -> Iterator[Finding]:
    """Recordings that would teach a wrong sound are not used: one finding a cause."""
    program = client.programs[0]
    for issue, takes in _by_cause(_first(survey), "refused"):
        yield finding(
            program,
            (),
            "take-unfit",
            f"{_named(takes, issue.rule)} {_are(takes)} not used. {issue.sentence}",
            f"Record {_them(takes)} again; until then {_instead(client)}.",
        )


def check_doubtful(client: Client, survey: Survey) -> Iterator[Finding]:
    """Doubtful recordings are used once somebody has heard them and called them right."""
    every = (*_first(survey), *survey.wrong.values())
    waiting = [t for t in every if t.waits and t.state == "accepted"]
    for issue, takes in _by_cause(waiting, "warning"):
        names = ",".join(name_of(Path(take.path)) for take in takes)
        yield finding(
            client.programs[0],
            (),
            "take-doubtful",
            f"{_named(takes, issue.rule)} {_are(takes)} not used yet. {issue.sentence}",
            f"Listen to {_them(takes)} on the proof page. If {_it(takes)} right, run "
            f"`practice-site proof {client.code} --heard --right {names}`; else record "
            f"{_them(takes)} again. Until then {_instead(client)}.",
        )


def _instead(client: Client) -> str:
    """Who is heard while a recording is not used."""
    voice = client.programs[0].voice
    if voice == "helper" and client.practises_alone:
        return "nobody says the word"
    return SPEAKER_INSTEAD.get(voice, "a computer voice speaks")


def check_unheard(client: Client, survey: Survey) -> Iterator[Finding]:
    """Cuts of a long recording are used once somebody has heard them."""
    takes = [t for t in _first(survey) if t.state == "unheard" and t.verdict != "again"]
    if takes:
        yield finding(
            client.programs[0],
            (),
            "take-unheard",
            f"{_named(takes, '')}, cut from a long recording, {_are(takes)} not used yet: nobody "
            f"has listened to {_them(takes)} on the proof page.",
            f"Make the proof, listen to {_them(takes)}, then run "
            f"`practice-site proof {client.code} --heard`.",
        )
    doubted = [t[0] for asked, t in survey.doubtful.items() if not survey.takes.get(asked)]
    if doubted:
        yield finding(
            client.programs[0],
            (),
            "take-unheard",
            f"{_named(doubted, '')}, cut from a long recording but not with certainty, "
            f"{_are(doubted)} not used.",
            f"Listen to {_them(doubted)} on the proof page; then run `practice-site proof "
            f"{client.code} --heard --right NAMES`, or record {_them(doubted)} again.",
        )


def check_spread(client: Client, survey: Survey) -> Iterator[Finding]:
    """Recordings that differ much in loudness differ in their noise when they are levelled."""
    levels = [t.loudness for t in _first(survey) if t.usable and t.loudness is not None]
    for issue in loudness_spread(levels):
        yield finding(
            client.programs[0],
            (),
            "take-spread",
            f"The recordings differ by {issue.figure} in loudness. They are "
            "brought to the same level, which also raises the noise in the soft ones.",
            "Keep the same distance from the microphone for all of them.",
        )


def check_strange(client: Client, survey: Survey) -> Iterator[Finding]:
    """Recordings whose name is nearly that of an item."""
    stems = {prompt.utterance.stem for prompt in client_prompts(client)}
    for name in survey.strange_takes:
        own = len(PurePath(name).parts) > 1
        if not own and all(map(pronunciations, PurePath(name).stem.split("-"))):
            continue  # a word of another client: the folder serves all of them
        near = get_close_matches(PurePath(name).stem.lower(), stems, n=1, cutoff=0.8)
        if near or own:
            what = f"; `{near[0]}` is close" if near else ""
            yield finding(
                client.programs[0],
                (),
                "take-file",
                f"The recording `{name}` matches no word of this client{what}.",
                f"If it is meant to be `{near[0]}`, rename it."
                if near
                else "Name it after the item, as the program writes it.",
            )


def _first(survey: Survey) -> Iterator[Take]:
    """The recording that counts of each item; a file that serves two of them once."""
    seen: dict[str, Take] = {}
    for takes in survey.takes.values():
        seen.setdefault(takes[0].path, takes[0])
    yield from seen.values()


def _by_cause(takes: Iterable[Take], severity: str) -> Iterator[tuple[Issue, list[Take]]]:
    causes: dict[str, tuple[Issue, list[Take]]] = {}
    for take in takes:
        for issue in take.issues:
            if issue.severity == severity:
                causes.setdefault(issue.rule, (issue, []))[1].append(take)
    yield from causes.values()


def _named(takes: list[Take], rule: str) -> str:
    """The files with the figure of each: `cow.m4a` (5.1 kHz)."""
    figures = {take.path: _figure(take, rule) for take in takes}
    names = [f"`{PurePath(path).name}`" + (f" ({f})" if f else "") for path, f in figures.items()]
    return ("Recording " if len(names) == 1 else "Recordings ") + listed(names)


def _figure(take: Take, rule: str) -> str:
    return next((issue.figure for issue in take.issues if issue.rule == rule), "")


def _are(takes: list[Take]) -> str:
    return "are" if len(takes) > 1 else "is"


def _it(takes: list[Take]) -> str:
    return "they are" if len(takes) > 1 else "it is"


def _them(takes: list[Take]) -> str:
    return "them" if len(takes) > 1 else "it"
