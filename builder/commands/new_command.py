"""practice-site new: the next client's program, from another one's or as a draft of its own."""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands.sounds import cluster_of, positions_of, sound_of, words_of
from builder.drafts import first_of, like
from builder.load import clinic_of, code_in, program_of, programs_in
from builder.model import CODE
from builder.problems import UsageError
from builder.resolve import ERRORS
from builder.store import write_whole

if TYPE_CHECKING:
    from builder.drafting.whole import Lists, Order


def run(args: argparse.Namespace) -> int:
    """Write the new file; never over another."""
    folder = Path(args.folder)
    if bool(args.like) == bool(args.sound):
        raise UsageError("name either --like CODE, whose program to copy, or --sound SOUND.")
    target = _target(folder, args.code)
    if args.sound:
        return _drafted(args, target)
    source = _program_of(folder, args.like)
    program = program_of(source, clinic_of(folder))
    text = like(source.read_text("utf-8"), args.code, first_of(s.name for s in program.steps))
    write_whole(target, text.encode())
    print(
        f"{target}: made from {source.name}. Fill in every 'fill-in', look at the sound, "
        "the words and the cues, then check it."
    )
    return 0


def _target(folder: Path, code: str) -> Path:
    """The file to write; it is not there yet."""
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder.")
    if not re.fullmatch(CODE, code):
        raise UsageError(
            f"'{code}' is no client code: an animal, a hyphen and a number, as in otter-12. "
            "Never a name."
        )
    target = folder / f"{code}.yaml"
    taken = [f for f in programs_in(folder) if code_in(f.read_text("utf-8", "replace")) == code]
    if target.exists() or taken:
        raise UsageError(f"{(taken or [target])[0]}: {code} has a program already.")
    return target


def _program_of(folder: Path, code: str) -> Path:
    found = [f for f in programs_in(folder) if code_in(f.read_text("utf-8", "replace")) == code]
    if not found:
        raise UsageError(f"{folder}: no program here has the client code '{code}'.")
    return found[0]


def _drafted(args: argparse.Namespace, target: Path) -> int:
    from builder.drafting import whole
    from builder.phonetics.index import Index
    from builder.workspace import find

    order, given = _order(args), words_of(args.words)
    if given:
        found = whole.from_given(order, given)
    else:
        found = whole.from_bank(order, Index.open(find(target.parent).hidden / "index"))
    _enough(args, order, found)
    write_whole(target, whole.written(order, found).encode())
    print(
        f"{target}: a draft. Fill in every 'fill-in', read all words and sentences aloud, "
        "change what you would not say, then check it."
    )
    return 0


def _order(args: argparse.Namespace) -> Order:
    from builder.drafting.whole import Order
    from builder.drafting.write import Head

    sound = sound_of(args.sound)
    groups = tuple(cluster_of(text, sound) for text in words_of(args.cluster)) or ((),)
    head = Head(
        args.code, args.age, args.reads, _typed(args.sound), _error(args.error),
        positions_of(args.position), tuple(_typed(text) for text in words_of(args.lacks)),
    )  # fmt: skip
    return Order(head, sound, groups)


def _typed(text: str) -> str:
    """A sound as it is written into a program: as one types it, else IPA between slashes."""
    sound = sound_of(text)
    return sound.typed or f"/{sound.ipa}/"


def _error(text: str) -> str:
    return text if not text or text in ERRORS else _typed(text)


def _enough(args: argparse.Namespace, order: Order, found: Lists) -> None:
    """No draft without words: say which list is empty."""
    for (place, group), words in found.items():
        if not words:
            what = f"the cluster {''.join(group).lower()}" if group else f"/{order.sound.ipa}/"
            whose = "of your words" if args.words else "that is known and picturable"
            raise UsageError(
                f"no word {whose} holds {what} {place}. Take another position or cluster, or "
                "give words with --words."
            )
