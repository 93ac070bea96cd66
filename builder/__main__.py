"""The command line. Only here and in commands/ is anything printed, exited or read from the
environment; each command is imported when it is asked for."""

from __future__ import annotations

import argparse
import os
import sys

ABOUT = {
    "check": "say what is wrong or worth a thought; write nothing",
    "rules": "list all rules of the check with their sources",
    "proof": "make one local page to see and hear everything before publishing",
    "record": "open a page on this machine to record what the programs need",
    "clips": "make the audio and print its figures",
    "split": "cut a recording of the whole list into single recordings",
    "build": "publish the sites of the named clients",
    "print": "make the handout with the code and the week's checklist",
    "serve": "build, show on this machine, build again on every save",
    "remove": "take a client's site out of the published folder",
    "new": "start the next client's program, from another one's or as a draft",
    "extend": "add a phrase or sentence step from a program's own words",
    "syllables": "list the syllables to practise a sound in",
    "where": "say where a sound stands in words, and which letters spell it",
    "schema": "write the JSON Schemas by which an editor helps",
    "pairs": "find words that differ in one sound, as in key and tea",
    "words": "find words for a sound, ranked for practice",
}


def parser() -> argparse.ArgumentParser:
    """All commands and their options."""
    top = argparse.ArgumentParser(
        prog="practice-site",
        description="Publishes home practice programs. You decide; the tool checks and compiles.",
    )
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, about in ABOUT.items():
        _options(name, commands.add_parser(name, help=about, description=f"{name}: {about}."))
    return top


def _options(name: str, one: argparse.ArgumentParser) -> None:
    if name in ("check", "proof", "clips", "build", "print", "serve"):
        one.add_argument("files", nargs="+", metavar="FILE", help="as in programs/heron-07.yaml")
    if name in ("check", "rules", "clips"):
        one.add_argument("--json", action="store_true", help="print it as JSON")
    if name in ("build", "print", "serve", "remove"):
        one.add_argument(
            "--out",
            default="public",
            metavar="DIR",
            help="folder in which sites are published (default: public)",
        )
    if name in ("check", "build", "print"):
        one.add_argument(
            "--base-url",
            default="",
            metavar="URL",
            help="web address of that folder; else the clinic file's",
        )
    if name in ("proof", "print", "schema"):
        usual = {"proof": "proof", "print": "sheets", "schema": "programs"}[name]
        one.add_argument(
            "--to", default=usual, metavar="DIR", help=f"folder to write into (default: {usual})"
        )
    if name == "where":
        one.add_argument("sound", metavar="SOUND", help="as in k, sh, or /θ/")
        one.add_argument("words", nargs="+", metavar="WORD", help="as in scissors")
        one.add_argument("--json", action="store_true", help="print it as JSON")
    if name == "proof":
        one.add_argument("--quiet", action="store_true", help="do not open the page")
        one.add_argument(
            "--heard", action="store_true", help="you heard the cuts on the last proof: use them"
        )
        one.add_argument(
            "--right",
            default="",
            metavar="NAMES",
            help="and of those cut with doubt these, as in cow,my-key",
        )
    if name == "split":
        one.add_argument("file", metavar="FILE", help="as in programs/heron-07.yaml")
        one.add_argument(
            "recording",
            nargs="?",
            default="",
            metavar="RECORDING",
            help="the list, read in one go: up to 30 minutes",
        )
        one.add_argument("--list", action="store_true", help="print what to read, and no more")
        one.add_argument("--all", action="store_true", help="with the steps that are to come")
        one.add_argument("--dry-run", action="store_true", help="tell what would be cut")
        one.add_argument("--json", action="store_true", help="print it as JSON")
    if name == "clips":
        one.add_argument(
            "--picture", metavar="DIR", help="draw each clip there: waveform and spectrogram"
        )
    if name == "pairs":
        one.add_argument(
            "sounds", nargs=2, metavar="SOUND", help="a sound, a cluster as in sp, or - for nothing"
        )
        one.add_argument(
            "--position",
            choices=("initial", "medial", "final"),
            help="where the contrast stands in the word",
        )
        one.add_argument(
            "--count",
            type=_some,
            default=12,
            metavar="N",
            help="at most so many pairs (default: 12)",
        )
        one.add_argument("--json", action="store_true", help="print it as JSON")
    if name == "extend":
        one.add_argument("file", metavar="FILE", help="as in programs/heron-07.yaml")
        one.add_argument(
            "--to", required=True, choices=("phrase", "sentence"), help="the level to add"
        )
    if name == "syllables":
        one.add_argument("sound", metavar="SOUND", help="as in k, sh or /θ/")
        one.add_argument("--yaml", action="store_true", help="print a step to paste")
    if name in ("new", "syllables"):
        one.add_argument(
            "--position",
            default="initial",
            metavar="P",
            help="initial, medial, final, or several with commas",
        )
        one.add_argument("--cluster", default="", metavar="C", help="clusters, as in kr,gr")
    if name == "words":
        from builder.commands.words_options import add_options

        add_options(one)
    if name == "serve":
        one.add_argument("--port", type=_port, default=8000, help="default: 8000")
    if name == "record":
        _record_options(one)
    if name == "remove":
        one.add_argument("code", metavar="CODE", help="whose site, as in heron-07")
    if name == "new":
        one.add_argument("code", metavar="CODE", help="the client's code, as in otter-12")
        one.add_argument("--like", default="", metavar="CODE", help="whose program to copy")
        _draft_options(one)
        one.add_argument(
            "--in",
            dest="folder",
            default="programs",
            metavar="DIR",
            help="folder of the programs (default: programs)",
        )


def _some(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 1000:
        raise argparse.ArgumentTypeError(f"'{text}' is no number from 1 to 1000")
    return int(text)


def _age(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 120:
        raise argparse.ArgumentTypeError(f"'{text}' is no age in whole years")
    return int(text)


def _draft_options(one: argparse.ArgumentParser) -> None:
    """Of a draft that is no copy."""
    one.add_argument("--sound", default="", metavar="SOUND", help="or: the sound of a draft")
    one.add_argument("--age", type=_age, metavar="YEARS", help="the client's age in whole years")
    one.add_argument("--reads", action="store_true", help="the client reads the words alone")
    one.add_argument("--error", default="", metavar="E", help="what is said instead, as in t")
    one.add_argument("--lacks", default="", metavar="S", help="sounds not there yet, as in r,sh")
    one.add_argument("--words", default="", metavar="W", help="your own words, with commas")


def _record_options(one: argparse.ArgumentParser) -> None:
    one.add_argument(
        "files",
        nargs="*",
        metavar="PROGRAM",
        help="as in programs/heron-07.yaml (default: all in programs)",
    )
    one.add_argument(
        "--to",
        default="",
        metavar="FOLDER",
        help="where recordings go (default: the clinic file's 'takes')",
    )
    one.add_argument("--port", type=_port, default=0, help="default: a free one")
    one.add_argument("--quiet", action="store_true", help="do not open the page")


def _port(text: str) -> int:
    if not text.isdecimal() or not 0 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"'{text}' is no port: a number from 0 to 65535")
    return int(text)


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 faults inside a file, 2 file or command amiss."""
    _say_utf8()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small products: threads only wait
    args = parser().parse_args(_flags_first(sys.argv[1:] if argv is None else argv))
    if args.command == "build" and _nothing_to_do(args):
        return 0
    from builder.commands.run import run

    return run(args)


def _flags_first(argv: list[str]) -> list[str]:
    """An option may stand between program and recording; argparse would not have it."""
    if argv[:1] != ["split"]:
        return argv
    flags = [word for word in argv[1:] if word.startswith("-")]
    return ["split", *flags, *(word for word in argv[1:] if not word.startswith("-"))]


def _say_utf8() -> None:
    """IPA must not fail on a console that speaks an old code page."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


def _nothing_to_do(args: argparse.Namespace) -> bool:
    from builder.workspace.stamps import Stamps, root_of

    try:
        files = [name for name in args.files if os.path.basename(name) != "clinic.yaml"]
        if not files or not root_of(files[0]):
            return False
        stamps = Stamps(files, args.out, args.base_url)
        sites = [stamps.unchanged(file) for file in files]
    except OSError:
        return False  # the build itself says what is wrong
    if not all(sites):
        return False
    for site in dict.fromkeys(sites):
        print(f"nothing changed: {site}")
    return True


if __name__ == "__main__":
    sys.exit(main())
