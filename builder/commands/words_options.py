"""The options of practice-site words; imports nothing else, since every command line reads them."""

from __future__ import annotations

import argparse

POSITIONS = ("initial", "medial", "final")


def add_options(one: argparse.ArgumentParser) -> None:
    """What may follow `words`."""
    _where(one)
    _which(one)
    _shown(one)


def _where(one: argparse.ArgumentParser) -> None:
    one.add_argument("sound", nargs="?", default="", metavar="SOUND", help="as in k, sh or /θ/")
    one.add_argument("--position", nargs="+", choices=POSITIONS, help="where (default: initial)")
    one.add_argument(
        "--for",
        dest="program",
        default="",
        metavar="FILE",
        help="a program: its sound, its positions, what its client says instead",
    )
    one.add_argument(
        "--cluster",
        default="",
        metavar="ST",
        help="in this cluster, or 'any' (default: the sound alone)",
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
    one.add_argument("--without", default="", metavar="SOUNDS", help="holding none of these: t,d")
    one.add_argument(
        "--class",
        dest="kind",
        choices=("noun", "verb", "adjective"),
        help="among the words that children know",
    )
    one.add_argument("--endings", action=yes, help="also forms such as 'cats'")
    one.add_argument("--wide", action=yes, help="also words that children may not know")
    one.add_argument(
        "--partner-there", action=yes, help="the voiced or voiceless partner is there already"
    )


def _shown(one: argparse.ArgumentParser) -> None:
    yes = "store_true"
    one.add_argument("--count", type=_whole, default=20, metavar="N", help="default: 20")
    one.add_argument(
        "--probe",
        type=_whole,
        default=0,
        metavar="N",
        help="N words kept out of practice, of like difficulty",
    )
    one.add_argument("--explain", default="", metavar="WORD", help="how its figures come about")
    how = one.add_mutually_exclusive_group()
    how.add_argument("--json", action=yes, help="print it as JSON")
    how.add_argument("--csv", action=yes, help="print it as CSV")
    how.add_argument("--yaml", action=yes, help="a line to paste into a program")


def _whole(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 1000:
        raise argparse.ArgumentTypeError(f"'{text}' is no number of words: 1 to 1000")
    return int(text)


def _span(text: str) -> tuple[int, int]:
    low, dash, high = text.partition("-")
    high = high if dash else low
    if not (low + high).isdecimal() or not low or not high or not 1 <= int(low) <= int(high):
        raise argparse.ArgumentTypeError(f"'{text}' is no number of syllables: as in 1 or 1-2")
    return int(low), int(high)


def _frequency(text: str) -> float:
    try:
        figure = float(text)
    except ValueError:
        figure = -1.0
    if not 0 <= figure <= 8:
        raise argparse.ArgumentTypeError(f"'{text}' is no frequency: a number from 0 to 8")
    return figure
