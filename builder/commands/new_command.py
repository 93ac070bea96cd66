"""practice-site new: the next client's program, from another one's or as a draft of its own; for a
client who has one, a draft for a further sound."""

from __future__ import annotations

import argparse
import re
from dataclasses import replace
from functools import partial
from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands import new_animal, options
from builder.commands.new_family import drafted, sounds_asked
from builder.commands.new_order import READS_FROM_YEARS, cues_of, order_of
from builder.commands.run import nothing_written
from builder.commands.sounds import words_of
from builder.commands.word_index import word_index
from builder.drafting.copy_program import begun, first_of, like
from builder.model.clinic import Clinic, asked_voice
from builder.model.program import CODE, PAST_SENTENCES, Program
from builder.phonetics.position import cluster_ipa
from builder.problems import ProgramError, UsageError
from builder.program_file.load import begun_clinic, program_of
from builder.text.slugs import slug_of
from builder.workspace.program_files import PROGRAMS, by_code
from builder.workspace.store import rewrite, write_whole

if TYPE_CHECKING:
    from builder.drafting.new_program import Lists, Order

FILL_IN = "Fill in every `fill-in`, "
READ_ALOUD = "read all words and sentences aloud, change what you would not say, then check it."

ABOUT = "start the next client's program, from another one's or as a draft"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `new`."""
    parser.add_argument("code", metavar="CODE", help="the client's code, as in otter-12")
    parser.add_argument("--like", default="", metavar="CODE", help="whose program to copy")
    parser.add_argument(
        "--sound",
        default="",
        metavar="SOUND",
        help=options.DRAFTED,
    )
    options.positions(parser)
    options.age(parser, "the client's age in whole years")
    parser.add_argument(
        "--reads",
        action=argparse.BooleanOptionalAction,
        help=f"whether the client reads the words alone (usually from {READS_FROM_YEARS} years on)",
    )
    parser.add_argument("--error", default="", metavar="E", help="what is said instead, as in t")
    parser.add_argument(
        "--shape",
        default="",
        metavar="S",
        help="shape of the tongue for s, z or r, as in 'tip down'",
    )
    parser.add_argument("--lacks", default="", metavar="S", help="sounds not there yet, as in r,sh")
    parser.add_argument(
        "--has",
        default="",
        metavar="S",
        help="sounds that are there, though often missing with this one: its voiced or voiceless "
        "partner, other vowels with r",
    )
    parser.add_argument(
        "--to", default="", choices=PAST_SENTENCES, help="draft on past sentences, up to this level"
    )
    parser.add_argument(
        "--words", default="", metavar="W", help="your own words, with commas between"
    )
    parser.add_argument(
        "--contrast",
        action="store_true",
        help="with a step of pairs, as in key and tea, for what is said instead (`--error`)",
    )
    parser.add_argument(
        "--in",
        dest="folder",
        default=options.usual(PROGRAMS),
        metavar="DIR",
        help="folder of the programs (default: programs)",
    )


@nothing_written()
def run(args: argparse.Namespace) -> int:
    """Write the new file; never over another."""
    folder = Path(args.folder)
    if bool(args.like) == bool(args.sound):
        raise UsageError("give either `--like CODE` (whose program to copy) or `--sound SOUND`.")
    _checked(folder, args.code)
    is_known = bool(_files_of(folder, args.code))
    done = _drafted(args, folder) if args.sound else _copied(args, folder)
    if not is_known:
        new_animal.tell(folder, args.code)
    return done


def _checked(folder: Path, code: str) -> None:
    if not folder.is_dir():
        raise UsageError(
            f"{folder}: there is no such folder. `practice-site start` makes a clinic's folder, "
            "with one for programs in it."
        )
    if not re.fullmatch(CODE, code):
        raise UsageError(
            f"`{code}` is not a client code: write an animal, a hyphen and a number, as in "
            "otter-12. "
            "Never a name."
        )


def _files_of(folder: Path, code: str) -> list[Path]:
    """The client's program files, the one that bears the code alone first."""
    return [Path(path) for path in by_code(str(folder)).get(code, ())]


def _first_file(folder: Path, code: str) -> Path:
    """The file of a client who has no program yet."""
    file = folder / f"{code}.yaml"
    if file.exists():
        raise UsageError(f"{file}: this file exists already, and another client's code is in it.")
    return file


def _copied(args: argparse.Namespace, folder: Path) -> int:
    if own := _files_of(folder, args.code):
        raise UsageError(
            f"{own[0]}: {args.code} already has a program. For another sound: "
            f"`practice-site new {args.code} --sound SOUND`"
        )
    target, found = _first_file(folder, args.code), _files_of(folder, args.like)
    if not found:
        raise UsageError(f"{folder}: no program here is for client `{args.like}`.")
    program = program_of(found[0], begun_clinic(folder))
    text = like(found[0].read_text("utf-8"), args.code, first_of(s.name for s in program.steps))
    write_whole(target, text.encode())
    print(
        f"{target}: made from {found[0].name}. {FILL_IN}look at the sound, the words and the cues, "
        "then check it."
    )
    return 0


def _drafted(args: argparse.Namespace, folder: Path) -> int:
    from builder.drafting.new_program import written
    from builder.survey.files import names_of_pictures
    from builder.workspace.folder import find

    files = _files_of(folder, args.code)
    clinic = begun_clinic(folder) if files else _known_clinic(folder)
    others = tuple(begun(file, clinic) for file in files) if clinic else ()
    others, resized = _resized(files, others)
    order = replace(order_of(args, others), own=names_of_pictures(folder, args.code))
    order = replace(order, pace=clinic.pace) if clinic else order
    order = replace(order, head=replace(order.head, voice=_better_voice(order, clinic)))
    target = _further_file(folder, order, others) if others else _first_file(folder, args.code)
    if len(sounds := sounds_asked(args)) > 1:
        cues = partial(cues_of, clinic=clinic)
        print(f"{target}: {drafted(args, target, order, sounds, cues)} {FILL_IN}{READ_ALOUD}")
        return 0
    order, found = _filled(args, order, find(folder).index)
    _enough(args, order, found)
    order = replace(order, head=replace(order.head, cues=cues_of(order, clinic)))
    write_whole(target, written(order, found).encode())
    beside = f", beside {files[0].name}, whose age, times and visit it shares" if files else ""
    print(f"{target}: a draft{beside}. {FILL_IN}{READ_ALOUD}")
    if voice := order.head.voice:
        print(
            f"    The voice that you use does not say {order.sound.spelled} well: take the `#` "
            f"away before `voice: {voice}`, or record your own."
        )
    for file, text in resized.items():
        rewrite(file, text.encode())
        print(f"{file}: `times` changed in rounds, so that both sounds fit one sitting.")
    return 0


def _better_voice(order: Order, clinic: Clinic | None) -> str:
    """As it is written; "" where the voice that is asked says the sound."""
    from builder.survey.speaker import clearer_voice

    if any(line.startswith("voice:") for line in order.head.shared):
        return ""
    asked = asked_voice(clinic.voice) if clinic else "natural"
    found = clearer_voice(order.sound.symbol, order.head.positions, asked)
    return {None: "", "natural": "woman"}.get(found, str(found))


def _filled(args: argparse.Namespace, order: Order, folder: Path) -> tuple[Order, Lists]:
    """The order with its pairs and places, and the words for each place. folder: of the index."""
    from builder.drafting import new_program

    if args.contrast:
        with word_index(folder) as index:
            order = new_program.with_pairs(order, index)
    if given := words_of(args.words):
        found = new_program.from_given(order, given)
    else:
        with word_index(folder) as index:
            found = new_program.from_word_bank(order, index)
    return (order, found) if args.position else new_program.where_words_are(order, found)


def _resized(
    files: list[Path], others: tuple[Program, ...]
) -> tuple[tuple[Program, ...], dict[Path, str]]:
    """The client's programs with the rounds that fill a sitting as drafted made room for one more,
    and the new texts of their files."""
    from builder.drafting.insert_step import with_times as rewritten
    from builder.model.fill_sitting import reshared, with_times

    programs: list[Program] = []
    texts: dict[Path, str] = {}
    for file, program in zip(files, others, strict=False):
        times = reshared(program, len(others))
        text = rewritten(file.read_bytes().decode("utf-8"), times) if times else None
        programs.append(with_times(program, times) if text else program)
        texts |= {file: text} if text else {}
    return tuple(programs), texts


def _known_clinic(folder: Path) -> Clinic | None:
    """The clinic's settings, None while they are not there or have faults."""
    try:
        return begun_clinic(folder)
    except ProgramError:
        return None


def _further_file(folder: Path, order: Order, others: tuple[Program, ...]) -> Path:
    """The file of a further program, named after the client and the sound, where need be with the
    position. Refused where another one practices the sound at that place."""
    asked = {(place, group) for place in order.places for group in order.groups}
    for other in others:
        if other.sound == order.sound and (twice := sorted(asked & _places(other))):
            place, group = twice[0]
            what = f" in {cluster_ipa(group)}" if group else ""
            raise UsageError(
                f"{other.file}: {order.head.code} already has a program for /{order.sound.ipa}/ "
                f"{place}"
                f"{what}. Change that file, or choose another sound, position or cluster."
            )
    name = f"{order.head.code}-{slug_of(order.sound.spelled)}"
    longer = "-".join((name, *order.places))
    names = chain((name, longer), (f"{longer}-{n}" for n in count(2)))
    return next(file for one in names if not (file := folder / f"{one}.yaml").exists())


def _places(program: Program) -> set[tuple[str, tuple[str, ...]]]:
    """Where a program practices its sound: positions and clusters of its words."""
    steps = [s for s in program.steps if s.level == "word"] or program.steps
    return {(place, step.cluster) for step in steps for place in step.positions}


def _enough(args: argparse.Namespace, order: Order, found: Lists) -> None:
    """No draft without words: say which list is empty."""
    for (place, group), words in found.items():
        if not words:
            what = f"the cluster {''.join(group).lower()}" if group else f"/{order.sound.ipa}/"
            whose = "of your words" if args.words else "that is known and picturable"
            lacks = "" if args.words else "".join(f" and no {one}" for one in order.head.lacks)
            raise UsageError(
                f"no word {whose} holds {what} {place}{lacks}. Take another position or "
                "cluster, or give your own words with `--words`."
            )
