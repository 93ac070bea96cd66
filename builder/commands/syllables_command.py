"""practice-site syllables: the practice set of a sound at a position."""

from __future__ import annotations

import argparse

from builder.commands import options
from builder.commands.sounds import cluster_of, positions_of, sound_of, words_of
from builder.drafting.ladder import SHORT_WORDS, Draft, typed
from builder.drafting.syllable_sets import Syllable, practice_set
from builder.drafting.write_yaml import step
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Position
from builder.problems import UsageError

ABOUT = "list the syllables to practice a sound in"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `syllables`."""
    parser.add_argument("sound", metavar="SOUND", help=options.SOUND)
    options.positions(parser)
    parser.add_argument("--yaml", action="store_true", help="print a step to paste")


def run(args: argparse.Namespace) -> int:
    """Print the set, or with --yaml the step to paste into a program."""
    sound = sound_of(args.sound)
    groups = [cluster_of(text, sound) for text in words_of(args.cluster)] or [()]
    places = positions_of(args.position, sound)
    asked = [(place, group) for place in places for group in groups]
    sets = [(place, group, practice_set(sound, place, group)) for place, group in asked]
    for place, group, found in sets:
        if not found and (args.position or not any(some for *_, some in sets)):
            raise UsageError(_none(sound, place, group))
        if found:
            print(_yaml(sound, place, group, found) if args.yaml else _lines(found))
    return 0


def _none(sound: Sound, position: Position, group: tuple[str, ...]) -> str:
    if sound.kind == "rhotic":
        return (
            f"no short words show /{sound.ipa}/ {position} by itself, and made-up ones would be "
            "read otherwise. Begin with words there."
        )
    return f"no English syllable begins with {typed(group) if group else f'/{sound.ipa}/'}."


def _lines(found: tuple[Syllable, ...]) -> str:
    others = [s for s in found if not s.usual]
    groups = (
        ("the usual four", [s for s in found if s.usual]),
        ("others" if len(others) < len(found) else "all", [s for s in others if not s.short]),
        ("others, short: no English word ends like this", [s for s in others if s.short]),
    )
    return "\n".join(
        f"{name}: " + ", ".join(f"{s.text} /{s.ipa}/" for s in some)
        for name, some in groups
        if some
    )


def _yaml(
    sound: Sound, position: Position, group: tuple[str, ...], found: tuple[Syllable, ...]
) -> str:
    """The step with the usual vowels; for a vowel + r with real words."""
    cluster = typed(group) if group else ""
    rounds = ("natural imitation",)
    if sound.kind == "rhotic":
        draft = Draft(
            name=SHORT_WORDS,
            level="syllable",
            rounds=rounds,
            items=tuple(s.text for s in found),
            positions=(position,),
        )
    else:
        vowels = tuple(s.vowel for s in found if s.usual)
        name = f"{cluster} with a vowel".strip()
        draft = Draft(
            name=name,
            level="syllable",
            rounds=rounds,
            items=(),
            vowels=vowels,
            cluster=cluster,
            positions=(position,),
        )
    return step(draft, 5, "  - ")
