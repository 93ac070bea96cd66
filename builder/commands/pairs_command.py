"""practice-site pairs: words that differ in one sound, for two sounds, a sound and nothing, or a
cluster and a part of it."""

from __future__ import annotations

import argparse
import json
from contextlib import closing
from functools import cache
from pathlib import Path

from builder import drawings
from builder.bank.norms import classes, norm
from builder.bank.probes import is_probe
from builder.bank.unfit import unfit
from builder.phonetics.function_words import is_function_word
from builder.phonetics.index import Index
from builder.phonetics.inventory import UnknownSoundError, ipa_of
from builder.phonetics.lexicon import pronunciations
from builder.phonetics.pairs import FEW, Pair, Word, pairs
from builder.phonetics.sides import ContrastError, Side, check_sides, feature_names, parse_side
from builder.problems import UsageError
from builder.workspace import find


def run(args: argparse.Namespace) -> int:
    """Print the pairs; exit code 1 when there is none."""
    one, other = _sides(args.sounds)
    with closing(Index.open(find(Path.cwd()).hidden / "index")) as index:
        found = pairs(
            one, other, index.all(), args.position,
            fit=_fit, pictured=_pictured, known=_known, readings=pronunciations,
            least=min(FEW, args.count),
        )[: args.count]  # fmt: skip
    print(as_json(found, one, other) if args.json else told(found, one, other))
    return 0 if found else 1


def _sides(typed: list[str]) -> tuple[Side, Side]:
    try:
        one, other = (parse_side(text) for text in typed)
        check_sides(one, other)
    except (UnknownSoundError, ContrastError) as problem:
        raise UsageError(f"{problem}.") from None
    return one, other


def _fit(row: Word) -> bool:
    """A word that people know (rated, on the children's list or drawn): no name, no small word."""
    word = row.word
    known = classes(word) or norm(word) or _pictured(word)
    return (
        len(word) > 1
        and word.isascii()
        and bool(known)
        and not is_function_word(word)
        and not unfit(word, row.lemma_of)
    )


@cache
def _pictured(word: str) -> bool:
    return drawings.find(word) is not None


def _known(word: str) -> bool:
    return bool(classes(word))


def told(found: tuple[Pair, ...], one: Side, other: Side) -> str:
    """A heading with the features, then a line for each pair."""
    sides = " and ".join(f"/{side.ipa}/" if side.sounds else "nothing" for side in (one, other))
    lines = [f"{sides}: {_difference(one, other)}"]
    if not found:
        lines.append("No pair of words that are known well enough.")
    width = max((len(_words(pair)) for pair in found), default=0)
    for at, pair in enumerate(found):
        if pair.near and (at == 0 or not found[at - 1].near):
            lines.append("near pairs: they differ in one more sound")
        lines.append(f"    {_words(pair):{width}}  {_about(pair, _probes(pair, one, other))}")
    return "\n".join(lines)


def _difference(one: Side, other: Side) -> str:
    names = feature_names(one, other)
    if names is None:
        return "a sound against none"
    if not names:
        return "0 features differ (of place, manner and voice)"
    counted = "1 feature differs" if len(names) == 1 else f"{len(names)} features differ"
    return f"{counted} ({', '.join(names)})"


def _words(pair: Pair) -> str:
    return " / ".join(word.word for word in pair.words)


def _probes(pair: Pair, one: Side, other: Side) -> list[str]:
    """The words that are kept apart as probes of the sound for which they stand here."""
    sides = zip(pair.words, (one, other), strict=True)
    return [w.word for w, side in sides if any(is_probe(w.word, s) for s in side.sounds)]


def _about(pair: Pair, probes: list[str]) -> str:
    """Position, how both are said, and what to mind."""
    said = " ".join(f"/{ipa_of(word.phones)}/" for word in pair.words)
    two_ways = [word.word for word in pair.words if word.heteronym]
    notes = [
        pair.position,
        said,
        *(["in a cluster"] if pair.cluster else []),
        *(["a drawing of both"] if pair.pictured == 2 else []),
        *(f"'{word}' is read in two ways: give it a 'say:'" for word in two_ways),
        *([f"kept as probe: {' and '.join(probes)}"] if probes else []),
    ]
    return "; ".join(notes)


def as_json(found: tuple[Pair, ...], one: Side, other: Side) -> str:
    """A JSON list, a mapping for each pair; `features` is null for a sound against none."""
    names = feature_names(one, other)
    listed = [
        {
            "words": [word.word for word in pair.words],
            "ipa": [ipa_of(word.phones) for word in pair.words],
            "sounds": [one.ipa, other.ipa],
            "position": pair.position,
            "near": pair.near,
            "in_cluster": pair.cluster,
            "features": None if names is None else len(names),
            "differing": list(names or ()),
            "pictured": pair.pictured,
            "known": pair.known,
            "zipf": [word.zipf for word in pair.words],
            "probes": _probes(pair, one, other),
        }
        for pair in found
    ]  # fmt: skip
    return json.dumps(listed, ensure_ascii=False, indent=1)
