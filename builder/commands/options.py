"""Options that several commands share, and their values; loads nothing else."""

from __future__ import annotations

import argparse
from collections.abc import Callable

POSITIONS = ("initial", "medial", "final")
FILE = "as in programs/heron-07.yaml"
SOUND = "as in k, sh or /θ/"


def programs(parser: argparse.ArgumentParser) -> None:
    """One program file or more, as `args.files`."""
    parser.add_argument("files", nargs="+", metavar="FILE", help=FILE)


def as_json(parser: argparse.ArgumentParser) -> None:
    """Print the result as JSON."""
    parser.add_argument("--json", action="store_true", help="print it as JSON")


def out(parser: argparse.ArgumentParser) -> None:
    """The folder of published sites."""
    parser.add_argument(
        "--out",
        default="public",
        metavar="DIR",
        help="folder in which sites are published (default: public)",
    )


def base_url(parser: argparse.ArgumentParser) -> None:
    """The web address of the folder of published sites."""
    parser.add_argument(
        "--base-url",
        default="",
        metavar="URL",
        help="web address of that folder; else the clinic file's",
    )


def to(parser: argparse.ArgumentParser, usual: str) -> None:
    """The folder that is written into."""
    parser.add_argument(
        "--to", default=usual, metavar="DIR", help=f"folder to write into (default: {usual})"
    )


def port(parser: argparse.ArgumentParser, usual: int) -> None:
    """The port of a server on this machine; 0 takes a free one."""
    told = "a free one" if usual == 0 else str(usual)
    parser.add_argument(
        "--port", type=whole(0, 65535, "a port"), default=usual, help=f"default: {told}"
    )


def quiet(parser: argparse.ArgumentParser) -> None:
    """Open no browser."""
    parser.add_argument("--quiet", action="store_true", help="do not open the page")


def positions(parser: argparse.ArgumentParser) -> None:
    """Positions in the word, and clusters, each with commas between them."""
    parser.add_argument(
        "--position",
        default="initial",
        metavar="P",
        help="initial, medial, final, or several separated by commas",
    )
    parser.add_argument("--cluster", default="", metavar="C", help="clusters, as in kr,gr")


def whole(least: int, most: int, what: str = "a number") -> Callable[[str], int]:
    """The reader of a whole number from `least` to `most`."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdecimal() and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"`{text}` is not {what} from {least} to {most}")
        return int(text)

    return read
