"""practice-site words: words that hold a sound at a position, ranked for practice."""

from __future__ import annotations

import argparse
from dataclasses import dataclass, replace
from pathlib import Path

from builder.commands import options
from builder.commands.sounds import positions_of, sounds_of
from builder.commands.word_index import word_index
from builder.commands.words_report import Form, Offers, Shown, printed
from builder.phonetics.clusters import parse_cluster
from builder.phonetics.inventory import Sound, UnknownSoundError, parse_sound
from builder.phonetics.lexicon.index import Index
from builder.phonetics.position import Position
from builder.problems import UsageError
from builder.wordbank import explain, suggest
from builder.wordbank.filters import UNSUITABLE, Cluster, Query
from builder.wordbank.needs import Needs, missing, needs_for
from builder.wordbank.short_lists import why_short
from builder.workspace.folder import Workspace, find

ANY, ALONE = "any", ""


@dataclass(frozen=True)
class Asked:
    """Queries, one a position, and what the client needs."""

    queries: tuple[Query, ...]
    needs: Needs
    workspace: Workspace


ABOUT = "find words for a sound, ranked for practice"


def add_options(one: argparse.ArgumentParser) -> None:
    """What may follow `words`."""
    _where(one)
    _which(one)
    _how_shown(one)


def _where(one: argparse.ArgumentParser) -> None:
    one.add_argument("sound", nargs="?", default="", metavar="SOUND", help=options.SOUND)
    one.add_argument(
        "--position",
        nargs="+",
        default=[],
        metavar="P",
        help="initial (the default; for a vowel with r final, then medial), medial, final",
    )
    one.add_argument(
        "--for",
        dest="program",
        default="",
        metavar="CLIENT",
        help="a client, or a program file: its sound, its positions, what is said instead",
    )
    options.age(one, "words for this age (default: the client's; else for about five years)")
    one.add_argument(
        "--cluster",
        default="",
        metavar="ST",
        help="in this cluster, or `any` (default: the sound alone)",
    )


def _which(one: argparse.ArgumentParser) -> None:
    yes = "store_true"
    one.add_argument("--syllables", type=_span, default=(1, 99), metavar="N", help="1, or 1-2")
    one.add_argument("--stress", choices=("stressed", "unstressed"), help="of its syllable")
    one.add_argument("--vowel", default="", metavar="SOUNDS", help="one of these beside it: ee,oo")
    one.add_argument(
        "--zipf",
        type=_frequency,
        default=2.0,
        metavar="Z",
        help="least frequency, Zipf scale 0 to 8 (default: 2)",
    )
    one.add_argument("--pictured", action=yes, help="only words with a drawing")
    one.add_argument("--lacks", default="", metavar="SOUNDS", help="sounds not there yet: r,sh")
    one.add_argument(
        "--has", default="", metavar="SOUNDS", help="sounds that are there: other vowels with r"
    )
    one.add_argument("--without", default="", metavar="SOUNDS", help="holding none of these: t,d")
    one.add_argument(
        "--class",
        dest="kind",
        choices=("noun", "verb", "adjective"),
        help="among the words that children know",
    )
    one.add_argument("--endings", action=yes, help="also forms such as cats")
    one.add_argument("--wide", action=yes, help="also words that children may not know")
    one.add_argument(
        "--partner-there", action=yes, help="the voiced or voiceless partner is there already"
    )


def _how_shown(one: argparse.ArgumentParser) -> None:
    yes = "store_true"
    one.add_argument(
        "--count", type=options.whole(1, 1000), default=20, metavar="N", help="default: 20"
    )
    one.add_argument(
        "--probe",
        type=options.whole(1, 1000),
        default=0,
        metavar="N",
        help="N words kept out of practice, of like difficulty",
    )
    one.add_argument("--explain", default="", metavar="WORD", help="how its figures come about")
    how = one.add_mutually_exclusive_group()
    how.add_argument("--json", action=yes, help="print it as JSON")
    how.add_argument("--csv", action=yes, help="print it as CSV")
    how.add_argument("--yaml", action=yes, help="a line to paste into a program")


def _span(text: str) -> tuple[int, int]:
    low, dash, high = text.partition("-")
    high = high if dash else low
    if not (low + high).isdecimal() or not low or not high or not 1 <= int(low) <= int(high):
        raise argparse.ArgumentTypeError(
            f"`{text}` is not a number of syllables: write it as in 1 or 1-2"
        )
    return int(low), int(high)


def _frequency(text: str) -> float:
    try:
        figure = float(text)
    except ValueError:
        figure = -1.0
    if not 0 <= figure <= 8:
        raise argparse.ArgumentTypeError(f"`{text}` is not a frequency: give a number from 0 to 8")
    return figure


def run(args: argparse.Namespace) -> int:
    """Print words, probe words or an explanation; exit code 1 when there is none."""
    if args.probe and args.yaml:
        raise UsageError("probe words are for your own test and must not go into a program.")
    asked = _asked(args)
    with word_index(asked.workspace.index) as index:
        if args.explain:
            return _explain(args.explain, asked, index)
        found = [(query, _found(args, query, asked.needs, index)) for query in asked.queries]
        shown = [_shown(args, query, offers, asked.needs, index) for query, offers in found]
    form: Form = "yaml" if args.yaml else "json" if args.json else "csv" if args.csv else "table"
    print(printed(shown, form, probe=bool(args.probe)))
    return 0 if any(shown for _, shown in found) else 1


def _found(args: argparse.Namespace, query: Query, needs: Needs, index: Index) -> Offers:
    if args.probe:
        return suggest.probes(index, query, args.probe, needs)
    return suggest.offer(index, query, needs)


def _shown(
    args: argparse.Namespace, query: Query, found: Offers, needs: Needs, index: Index
) -> Shown:
    why = "" if args.probe else why_short(index, query, found, needs)
    return Shown(query, found[: args.probe or args.count], len(found), why)


def _asked(args: argparse.Namespace) -> Asked:
    try:
        return _with_program(args) if args.program else _alone(args)
    except UnknownSoundError as question:
        raise UsageError(f"{question}.") from None


def _alone(args: argparse.Namespace) -> Asked:
    if not args.sound:
        raise UsageError("name a sound, as in `words k`, or a client with `--for CLIENT`.")
    sound = parse_sound(args.sound)
    positions = positions_of(",".join(args.position), sound)
    queries = tuple(_query(args, sound, position, args.age) for position in positions)
    lacks = missing(sound, sounds_of(args.lacks), sounds_of(args.has))
    return Asked(queries, Needs(lacks=tuple(s.symbol for s in lacks)), find(Path.cwd()))


def _with_program(args: argparse.Namespace) -> Asked:
    from builder.commands.paths import file_of
    from builder.drafting.copy_program import (  # 0.2 s, and most queries have no program
        begun,
        others_of,
    )
    from builder.program_file.load import begun_clinic
    from builder.program_file.pronounce import sounds_taught

    file = file_of(args.program)
    clinic = begun_clinic(file.parent)
    program, *others = (begun(one, clinic) for one in (file, *others_of(file)))
    sound = parse_sound(args.sound) if args.sound else program.sound
    if sound not in sounds_taught(program):
        raise UsageError(f"{file}: this program teaches /{program.sound.ipa}/, not /{sound.ipa}/.")
    places = args.position or program.written.position
    positions = positions_of(",".join(places), sound)
    lacks, has = (*program.lacks, *sounds_of(args.lacks)), (*program.has, *sounds_of(args.has))
    program = replace(program, sound=sound, lacks=lacks, has=has)
    age = program.written.age if args.age is None else args.age
    queries = tuple(_query(args, sound, position, age) for position in positions)
    return Asked(queries, needs_for(program, others, args.partner_there), find(file.parent))


def _query(args: argparse.Namespace, sound: Sound, position: Position, age: int | None) -> Query:
    return Query(
        sound=sound,
        position=position,
        cluster=_cluster(args.cluster, sound),
        syllables=args.syllables,
        stress=args.stress or "",
        vowels=_sounds(args.vowel),
        least=args.zipf,
        pictured=args.pictured,
        without=_sounds(args.without),
        kind=args.kind or "",
        endings=args.endings,
        wide=args.wide,
        age=age,
    )


def _sounds(typed: str) -> tuple[Sound, ...]:
    return tuple(parse_sound(one) for one in typed.replace(",", " ").split())


def _cluster(typed: str, sound: Sound) -> Cluster:
    """`any` is None, nothing the sound alone, else the cluster's symbols."""
    if typed in (ANY, ALONE):
        return None if typed == ANY else ()
    return parse_cluster(typed, sound)


def _explain(word: str, asked: Asked, index: Index) -> int:
    told = [explain.explain(index, query, word, asked.needs) for query in asked.queries]
    for one in told:
        if one is None or one.why_not == UNSUITABLE:
            raise UsageError(_no_figures(one))
    print("\n\n".join("\n".join(explain.lines(one)) for one in told if one))
    return 0


def _no_figures(one: explain.Explanation | None) -> str:
    if one is None:
        return "the pronunciation of this word is not known."
    return "the word bank leaves this word out. You may still write it into a program."
