"""What `new` is asked to draft: its options, and what the client's other programs say already."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from builder.commands.new_family import sounds_asked
from builder.commands.sounds import any_sound_of, cluster_of, positions_of, sounds_of, words_of
from builder.drafting.copy_program import shared, step_names
from builder.model.clinic import Clinic, Shape, SoundCues
from builder.model.program import ERROR_KINDS, Program
from builder.phonetics.inventory import Sound
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.drafting.new_program import Order

# From then on a client is taken to read words alone, unless told otherwise: half of all children
# of seven read 60 words a minute aloud (text/reading_rate.py).
READS_FROM_YEARS = 7


def order_of(args: argparse.Namespace, others: tuple[Program, ...]) -> Order:
    """What is asked for, as far as the client's other programs do not say it already."""
    from builder.drafting.new_program import Order
    from builder.drafting.past_sentences.steps import up_to
    from builder.drafting.write_yaml import Head

    sound = sounds_asked(args)[0]
    groups = tuple(cluster_of(text, sound) for text in words_of(args.cluster)) or ((),)
    age, reads = _agreed(args, others)
    told_reads = args.reads is not None or bool(others)
    told = sounds_of(args.lacks)
    lacks = dict.fromkeys(told or (one for p in others for one in p.lacks if one != sound))
    if told:  # said anew: what the other files say may be out of date
        others = tuple(replace(program, lacks=()) for program in others)
    head = Head(
        code=args.code,
        age=age,
        reads=reads,
        supposed_reads=not told_reads,
        sound=sound.as_typed,
        error=_error(args.error),
        positions=positions_of(args.position, sound),
        shape=_shape(args.shape, sound),
        lacks=tuple(one.as_typed for one in lacks),
        has=tuple(one.as_typed for one in sounds_of(args.has)),
        shared=shared(others[0]) if others else (),
    )
    past = up_to(args.to, reads, args.code) if args.to else ()
    return Order(head, sound, groups, others, past, step_names(others, sound))


def _agreed(args: argparse.Namespace, others: tuple[Program, ...]) -> tuple[int | None, bool]:
    """Age and reading, as the client's other programs have them; what differs is refused. Without
    them and without a word of it, reading goes by age."""
    if not others:
        usual = args.age is not None and args.age >= READS_FROM_YEARS
        return args.age, usual if args.reads is None else args.reads
    file, written = others[0].file, others[0].written
    if args.age is not None and written.age is not None and args.age != written.age:
        raise UsageError(
            f"{file}: it says that the client is {written.age}, not {args.age}. Leave out "
            "`--age`; if "
            "that file is out of date, change it first."
        )
    if args.reads is not None and args.reads != written.reads:
        says, option = ("reads", "--no-reads") if written.reads else ("does not read", "--reads")
        raise UsageError(
            f"{file}: it says that the client {says}. Leave out `{option}`; if that file is out of "
            "date, change it first."
        )
    return args.age if written.age is None else written.age, written.reads


def _error(text: str) -> str:
    return text if not text or text in ERROR_KINDS else any_sound_of(text).as_typed


def cues_of(order: Order, clinic: Clinic | None) -> SoundCues | None:
    """Neutral cues for a sound; None where the clinic file has its own for it."""
    from builder.cues.by_sound import cues_for
    from builder.cues.neutral import neutral_cues

    shape = order.head.shape
    known = cues_for(clinic, order.sound, shape) if clinic else None
    return None if known else neutral_cues(order.sound, shape)


def _shape(typed: str, sound: Sound) -> Shape | None:
    """A shape of the tongue by which the sound is made."""
    from builder.cues.by_sound import no_shape, shapes_of

    found = next((one for one in shapes_of(sound) if one == typed.lower().strip()), None)
    if typed and not found:
        raise UsageError(f"{no_shape(sound, typed)}.")
    return found
