"""One draft for several vowels with r, as `new` is asked for it."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands.sounds import positions_of, sound_of, sounds_of
from builder.commands.word_index import word_index
from builder.model.clinic import SoundCues
from builder.phonetics.inventory import Sound, vocalic_r
from builder.problems import UsageError
from builder.workspace.store import write_whole

if TYPE_CHECKING:
    from builder.drafting.new_program import Order

FAMILY = "vocalic r"  # the trade's name for all vowels with r


def sounds_asked(args: argparse.Namespace) -> tuple[Sound, ...]:
    """One sound, or several vowels with r. Raises UsageError for several others."""
    if args.sound.strip().lower() == FAMILY:
        sounds = vocalic_r()
    else:
        sounds = sounds_of(args.sound) or (sound_of(args.sound),)
    if len(sounds) > 1 and not set(sounds) <= set(vocalic_r()):
        raise UsageError(
            "several sounds share a program only if all are vowels with r, as in `er,ar,or`. Draft "
            "a program for each of the others."
        )
    if len(sounds) > 1 and (args.cluster or args.contrast or args.words or args.to):
        raise UsageError(
            "for several vowels with r leave out `--cluster`, `--contrast`, `--words` and `--to`."
        )
    return sounds


def drafted(
    args: argparse.Namespace,
    target: Path,
    order: Order,
    sounds: Sequence[Sound],
    cues: Callable[[Order], SoundCues | None],
) -> str:
    """Write one ladder for all of them, and say so; those without words are left out, and told."""
    from builder.drafting import new_program
    from builder.workspace.folder import find

    orders = [_member(args, order, sound) for sound in sounds]
    with word_index(find(target.parent).index) as index:
        found = [(one, new_program.from_word_bank(one, index)) for one in orders]
    if not args.position:
        found = [new_program.where_words_are(*one) for one in found]
    fit = [(one, lists) for one, lists in found if all(lists.values())]
    if not fit:
        raise UsageError("no known words hold these sounds there. Choose other positions.")
    first, lists = fit[0]
    told = replace(first, head=replace(first.head, cues=cues(first)))
    write_whole(target, new_program.written_family([(told, lists), *fit[1:]]).encode())
    there = {one.sound for one, _ in fit}
    poor = ", ".join(sound.typed for sound in sounds if sound not in there)
    return "a draft of one ladder for all." + (f" No words were found for {poor}." if poor else "")


def _member(args: argparse.Namespace, order: Order, sound: Sound) -> Order:
    positions = positions_of(args.position, sound)
    head = replace(order.head, sound=sound.typed, positions=positions)
    return replace(order, sound=sound, head=head)
