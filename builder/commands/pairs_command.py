"""practice-site pairs: words that differ in one sound, for two sounds, a sound and nothing, or a
cluster and a part of it, or a client's own. Where there are many, no probe word."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from builder.commands import options
from builder.commands.word_index import word_index
from builder.phonetics.contrast import (
    ContrastError,
    ContrastSide,
    check_sides,
    feature_names,
    parse_side,
)
from builder.phonetics.inventory import UnknownSoundError, ipa_of
from builder.phonetics.lexicon.index import Index
from builder.phonetics.minimal_pairs.find import Pair
from builder.phonetics.position import Position, occurrences
from builder.problems import UsageError
from builder.survey.files import is_pictured, names_of_pictures
from builder.wordbank.contrast_pairs import PairQuery, counterpart, offered_pairs
from builder.wordbank.needs import Needs, needs_for
from builder.wordbank.probes import ONE_IN
from builder.workspace.folder import Workspace, find
from builder.workspace.program_files import PROGRAMS

Found = Mapping[Position | None, tuple[Pair, ...]]

ABOUT = "find words that differ in one sound, as in key and tea"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `pairs`."""
    parser.add_argument(
        "sounds", nargs="*", metavar="SOUND", help="two: a sound, a cluster as in sp, - for nothing"
    )
    parser.add_argument(
        "--for",
        dest="program",
        default="",
        metavar="CLIENT",
        help="a client, or a program file: its sound, what is said instead, age and pictures",
    )
    options.age(parser, "words that are known at this age")
    parser.add_argument(
        "--position", choices=options.POSITIONS, help="where the contrast stands in the word"
    )
    parser.add_argument(
        "--count",
        type=options.whole(1, 1000),
        default=12,
        metavar="N",
        help="at most so many pairs (default: 12)",
    )
    options.as_json(parser)


@dataclass(frozen=True)
class _Client:
    """For whom: the sides of the contrast, where, age and needs, what has a picture."""

    sides: tuple[ContrastSide, ...]
    typed: tuple[str, ...]
    positions: tuple[Position | None, ...]
    age: int | None
    needs: Needs
    workspace: Workspace
    pictures: frozenset[str]


def run(args: argparse.Namespace) -> int:
    """Print the pairs; exit code 1 when there is none."""
    client = _of_program(args) if args.program else _of_anyone(args)
    with word_index(client.workspace.index) as index:
        one, other = _fitting(client, index)
        found = {
            position: offered_pairs(
                index,
                PairQuery(
                    one=one,
                    other=other,
                    pictured=lambda word: is_pictured(word, client.pictures),
                    position=position,
                    age=client.age,
                    needs=client.needs,
                ),
                args.count,
            )
            for position in client.positions
        }
    everything = tuple(pair for pairs in found.values() for pair in pairs)
    print(as_json(everything, one, other) if args.json else told(found, one, other))
    return 0 if everything else 1


def _of_anyone(args: argparse.Namespace) -> _Client:
    if len(args.sounds) != 2:
        raise UsageError(
            "name two sounds, as in `pairs k t`, or a client, as in `pairs --for wren-01`."
        )
    workspace = find(Path.cwd())
    return _Client(
        sides=_parsed(args.sounds),
        typed=tuple(args.sounds),
        positions=(args.position,),
        age=args.age,
        needs=Needs(),
        workspace=workspace,
        pictures=names_of_pictures(workspace.root / PROGRAMS),
    )


def _of_program(args: argparse.Namespace) -> _Client:
    from builder.commands.paths import file_of
    from builder.drafting.copy_program import (  # 0.2 s, and most queries have no program
        begun,
        others_of,
    )
    from builder.program_file.load import begun_clinic

    if len(args.sounds) not in (0, 2):
        raise UsageError("name two sounds, or none: then the client's own.")
    file = file_of(args.program)
    clinic = begun_clinic(file.parent)
    program, *others = (begun(one, clinic) for one in (file, *others_of(file)))
    needs = needs_for(program, others)
    error = counterpart(needs)
    if not args.sounds and error is None:
        raise UsageError(
            f"{file}: it does not say which sound is said instead of /{program.sound.ipa}/. "
            "Name two sounds, as in `pairs s t --for wren-01`."
        )
    own = (ContrastSide((program.sound,)), error or ContrastSide(()))
    return _Client(
        sides=_parsed(args.sounds) if args.sounds else own,
        typed=tuple(args.sounds) or tuple(side.ipa for side in own),
        positions=(args.position,) if args.position else program.written.position,
        age=program.written.age if args.age is None else args.age,
        needs=needs,
        workspace=find(file.parent),
        pictures=names_of_pictures(file.parent, program.written.client),
    )


def _parsed(typed: list[str]) -> tuple[ContrastSide, ...]:
    try:
        return tuple(parse_side(text) for text in typed)
    except UnknownSoundError as problem:
        raise UsageError(f"{problem}.") from None


def _fitting(client: _Client, index: Index) -> tuple[ContrastSide, ContrastSide]:
    """Two sides that words can show: each stands in words, and they are one sound apart."""
    for text, side in zip(client.typed, client.sides, strict=True):
        if len(side.sounds) > 1 and not _stands(side, index):
            heard = " and ".join(f"/{sound.ipa}/" for sound in side.sounds)
            raise UsageError(
                f"`{text}` is not a sound, and no English word has it as a cluster ({heard}). "
                "Type a sound as in k, sh or /θ/, a cluster as in sp, or - for nothing."
            )
    one, other = client.sides
    try:
        check_sides(one, other)
    except ContrastError as problem:
        raise UsageError(f"{problem}.") from None
    return one, other


def _stands(side: ContrastSide, index: Index) -> bool:
    """Whether a word holds the side whole as a cluster."""
    first = side.sounds[0]
    groups = set(side.choices)
    rows = (row for row in index.all() if row.zipf > 0 and set(side.choices[0]) <= set(row.phones))
    return any(found.cluster in groups for row in rows for found in occurrences(row.phones, first))


def told(found: Found, one: ContrastSide, other: ContrastSide) -> str:
    """A heading with the features, then a line for each pair, by position where several are asked
    for."""
    sides = " and ".join(f"/{side.ipa}/" if side.sounds else "nothing" for side in (one, other))
    lines = [f"{sides}: {_difference(one, other)}"]
    for position, pairs in found.items():
        if len(found) > 1:
            lines.append(f"{position}:")
        lines += _listed(pairs)
    if any(found.values()):
        lines.append(
            f"Where there are many pairs, one word in {ONE_IN} is kept for your own test and left "
            "out."
        )
    return "\n".join(lines)


def _listed(found: tuple[Pair, ...]) -> Iterator[str]:
    """A line for each pair, under a line of its own what is not as good."""
    if not found:
        yield "No pair of words that are known well enough."
    width = max((len(_words(pair)) for pair in found), default=0)
    before = ""
    for pair in found:
        kind = _kind(pair)
        if kind and kind != before:
            yield kind
        before = kind
        yield f"    {_words(pair):{width}}  {_about(pair)}"


def _kind(pair: Pair) -> str:
    """The heading of what is no minimal pair of two words that the client knows."""
    if pair.near:
        return "near pairs: they differ in one more sound"
    return "" if pair.known == len(pair.words) else "with a word that may not be known yet:"


def _difference(one: ContrastSide, other: ContrastSide) -> str:
    names = feature_names(one, other)
    if names is None:
        return "a sound or no sound"
    if not names:
        return "0 features differ (of place, manner and voice)"
    counted = "1 feature differs" if len(names) == 1 else f"{len(names)} features differ"
    return f"{counted} ({', '.join(names)})"


def _words(pair: Pair) -> str:
    return " / ".join(word.word for word in pair.words)


def _about(pair: Pair) -> str:
    """Position, how both are said, and what to mind."""
    said = " ".join(f"/{ipa_of(word.phones)}/" for word in pair.words)
    two_ways = [word.word for word in pair.words if word.heteronym]
    notes = [
        pair.position,
        said,
        *(["in a cluster"] if pair.cluster else []),
        *(["a flap or a glottal t in one of them"] if pair.flapped else []),
        *(["a picture of both"] if pair.pictured == 2 else []),
        *(f"'{word}' can be read in two ways: give it a `say:`" for word in two_ways),
    ]
    return "; ".join(notes)


def as_json(found: tuple[Pair, ...], one: ContrastSide, other: ContrastSide) -> str:
    """A JSON list, a mapping for each pair; `features` is null for a sound or no sound."""
    names = feature_names(one, other)
    listed = [
        {
            "words": [word.word for word in pair.words],
            "ipa": [ipa_of(word.phones) for word in pair.words],
            "sounds": [one.ipa, other.ipa],
            "position": pair.position,
            "near": pair.near,
            "in_cluster": pair.cluster,
            "flapped": pair.flapped,
            "features": None if names is None else len(names),
            "differing": list(names or ()),
            "pictured": pair.pictured,
            "known": pair.known,
            "zipf": [word.zipf for word in pair.words],
        }
        for pair in found
    ]
    return json.dumps(listed, ensure_ascii=False, indent=1)
