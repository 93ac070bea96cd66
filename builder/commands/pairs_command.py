"""practice-site pairs: words that differ in one sound, for two sounds, a sound and nothing, or a
cluster and a part of it. No word that is kept apart as a probe of them."""

from __future__ import annotations

import argparse
import json
from contextlib import closing
from functools import cache, partial
from pathlib import Path

from builder.commands import options
from builder.make import drawings
from builder.phonetics.contrast import (
    ContrastError,
    ContrastSide,
    check_sides,
    feature_names,
    parse_side,
)
from builder.phonetics.inventory import Sound, UnknownSoundError, ipa_of
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.lexicon.index import Index
from builder.phonetics.minimal_pairs import MIN_PAIRS, IndexedWord, Pair, pairs
from builder.phonetics.position import occurrences
from builder.problems import UsageError
from builder.wordbank.norms import classes, norm
from builder.wordbank.probes import ONE_IN, is_probe
from builder.wordbank.unsuitable import is_unsuitable
from builder.workspace.folder import find

ABOUT = "find words that differ in one sound, as in key and tea"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `pairs`."""
    parser.add_argument(
        "sounds", nargs=2, metavar="SOUND", help="a sound, a cluster as in sp, or - for nothing"
    )
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


def run(args: argparse.Namespace) -> int:
    """Print the pairs; exit code 1 when there is none."""
    sides = _parsed(args.sounds)
    with closing(Index.open(find(Path.cwd()).index)) as index:
        one, other = _fitting(args.sounds, sides, index)
        found = pairs(
            one,
            other,
            index.all(),
            args.position,
            fit=partial(_fit, sounds=(*one.sounds, *other.sounds)),
            pictured=_pictured,
            known=_known,
            readings=pronunciations,
            least=min(MIN_PAIRS, args.count),
        )[: args.count]
    print(as_json(found, one, other) if args.json else told(found, one, other))
    return 0 if found else 1


def _parsed(typed: list[str]) -> list[ContrastSide]:
    try:
        return [parse_side(text) for text in typed]
    except UnknownSoundError as problem:
        raise UsageError(f"{problem}.") from None


def _fitting(
    typed: list[str], sides: list[ContrastSide], index: Index
) -> tuple[ContrastSide, ContrastSide]:
    """Two sides that words can show: each stands in words, and they are one sound apart."""
    for text, side in zip(typed, sides, strict=True):
        if len(side.sounds) > 1 and not _stands(side, index):
            heard = " and ".join(f"/{sound.ipa}/" for sound in side.sounds)
            raise UsageError(
                f"`{text}` is not a sound, and no English word has it as a cluster ({heard}). "
                "Type a sound as in k, sh or /θ/, a cluster as in sp, or - for nothing."
            )
    one, other = sides
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


def _fit(row: IndexedWord, sounds: tuple[Sound, ...]) -> bool:
    """A word that people know (rated, on the children's list or drawn): no name, no small word,
    and none that is kept apart as a probe of one of the sounds."""
    word = row.word
    known = classes(word) or norm(word) or _pictured(word)
    return (
        len(word) > 1
        and word.isascii()
        and bool(known)
        and not is_function_word(word)
        and not is_unsuitable(word, row.lemma_of)
        and not any(is_probe(word, s) and occurrences(row.phones, s) for s in sounds)
    )


@cache
def _pictured(word: str) -> bool:
    return drawings.find(word) is not None


def _known(word: str) -> bool:
    return bool(classes(word))


def told(found: tuple[Pair, ...], one: ContrastSide, other: ContrastSide) -> str:
    """A heading with the features, then a line for each pair."""
    sides = " and ".join(f"/{side.ipa}/" if side.sounds else "nothing" for side in (one, other))
    lines = [f"{sides}: {_difference(one, other)}"]
    if not found:
        lines.append("No pair of words that are known well enough.")
    width = max((len(_words(pair)) for pair in found), default=0)
    for at, pair in enumerate(found):
        if pair.near and (at == 0 or not found[at - 1].near):
            lines.append("near pairs: they differ in one more sound")
        lines.append(f"    {_words(pair):{width}}  {_about(pair)}")
    if found:
        lines.append(f"One word in {ONE_IN} is kept for your own test and left out here.")
    return "\n".join(lines)


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
        *(["a drawing of both"] if pair.pictured == 2 else []),
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
