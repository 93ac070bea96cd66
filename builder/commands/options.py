"""Options that several commands share, and their values; loads nothing else."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable

from builder.workspace.stamps import root_around

POSITIONS = ("initial", "medial", "final")
CLIENT = "a client's code, as in wren-01, or a file, as in programs/wren-01.yaml"
SOUND = "as in k, sh or /θ/"
DRAFTED = "or: draft one for this sound; vowels with r may share one: er,ar,or or `vocalic r`"


def programs(parser: argparse.ArgumentParser) -> None:
    """Clients or program files, as `args.files`."""
    parser.add_argument(
        "files",
        nargs="*",
        metavar="CLIENT",
        help=f"{CLIENT}, or a group of the clinic file (default: every client in programs)",
    )


def program(parser: argparse.ArgumentParser) -> None:
    """One client or program file, as `args.file`."""
    parser.add_argument("file", metavar="CLIENT", help=CLIENT)


def usual(folder: str) -> str:
    """A folder of the practice folder that we are in, as named from here."""
    root = root_around(os.getcwd())
    return os.path.relpath(os.path.join(root, folder)) if root else folder


def as_json(parser: argparse._ActionsContainer) -> None:
    """Print the result as JSON."""
    parser.add_argument("--json", action="store_true", help="print it as JSON")


def out(parser: argparse.ArgumentParser) -> None:
    """The folder of published sites."""
    parser.add_argument(
        "--out",
        default=usual("public"),
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


def to(parser: argparse.ArgumentParser, name: str) -> None:
    """The folder that is written into."""
    parser.add_argument(
        "--to", default=usual(name), metavar="DIR", help=f"folder to write into (default: {name})"
    )


def one_sided(parser: argparse.ArgumentParser) -> None:
    """For a printer that prints one side only."""
    parser.add_argument(
        "--one-sided",
        action="store_true",
        help="for a printer that prints one side only: no empty backs between two clients",
    )


def port(parser: argparse.ArgumentParser, number: int | None) -> None:
    """The port of a server on this machine; 0 takes a free one. number: None where the folder has
    one of its own."""
    told = "the same one for a folder each time" if number is None else str(number)
    parser.add_argument(
        "--port", type=whole(0, 65535, "a port"), default=number, help=f"default: {told}"
    )


def quiet(parser: argparse.ArgumentParser) -> None:
    """Open no browser."""
    parser.add_argument("--quiet", action="store_true", help="do not open the page")


def positions(parser: argparse.ArgumentParser) -> None:
    """Positions in the word, and clusters, each with commas between them."""
    parser.add_argument(
        "--position",
        default="",
        metavar="P",
        help="initial (the default; for a vowel with r final, then medial), medial, final, or "
        "several separated by commas",
    )
    parser.add_argument("--cluster", default="", metavar="C", help="clusters, as in kr,gr")


def age(parser: argparse.ArgumentParser, about: str) -> None:
    """`--age`, in whole years."""
    parser.add_argument(
        "--age", type=whole(1, 120, "an age in whole years"), metavar="YEARS", help=about
    )


def whole(least: int, most: int, what: str = "a number") -> Callable[[str], int]:
    """The reader of a whole number from `least` to `most`."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdecimal() and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"`{text}` is not {what} from {least} to {most}")
        return int(text)

    return read
