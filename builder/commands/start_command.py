"""practice-site start: a clinic's folder, with all that the other commands look for in it."""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from builder.commands.schema_command import schema_files
from builder.drafting.write_yaml import scalar
from builder.model.clinic import BASE_URL
from builder.problems import UsageError
from builder.program_file.suggestions import BLANK
from builder.text.templates import folder as templates
from builder.workspace.program_files import CLINIC, PICTURES, PROGRAMS
from builder.workspace.stamps import root_around
from builder.workspace.store import write_whole

ABOUT = "make a clinic's folder"

MARK = "mkdocs.yml"  # by it the other commands know the folder; so it is written last
TAKES = "takes"
NAMED = 3  # of the things that are in the way so many are named


class Question(NamedTuple):
    """One thing to know of a clinic. fits: what an answer must be; otherwise: what to do then;
    without: what stands in the clinic file when there is no answer."""

    key: str
    asked: str
    fits: str
    otherwise: str
    without: str


QUESTIONS = (
    Question(
        "clinic",
        "Your clinic's name, as families know it",
        ".{1,80}",
        "at most 80 letters",
        f"the clinic's name `{BLANK}`",
    ),
    Question(
        "phone",
        "A telephone number that families may call",
        r"(?=(.*\d){3}).{1,40}",
        "write it in digits, as in 555 010 0199, at most 40 letters",
        f"its telephone number `{BLANK}`",
    ),
    Question(
        "address",
        "The web address where the sites will be (just press Enter if there is none yet)",
        BASE_URL,
        "write it as in https://practice.example.org",
        "no web address (`base_url`)",
    ),
    Question(
        "paper",
        "Paper of the printed sheets: letter or a4 (just press Enter for letter)",
        "letter|a4",
        "write letter or a4",
        "letter paper",
    ),
)
Answers = dict[str, str]


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `start`."""
    parser.add_argument(
        "folder", nargs="?", default=".", metavar="DIR", help="where (default: this folder)"
    )
    for question in QUESTIONS:
        parser.add_argument(
            f"--{question.key}", default="", metavar="TEXT", help=f"{question.otherwise}"
        )


def run(args: argparse.Namespace) -> int:
    """Ask, write what is missing, say what to type next. Nothing that is there is touched."""
    folder = Path(args.folder)
    _require_place(folder)
    clinic = folder / PROGRAMS / CLINIC
    given = {
        question.key: _checked(question, getattr(args, question.key)) for question in QUESTIONS
    }
    is_new, can_ask = not clinic.exists(), sys.stdin.isatty() and sys.stdout.isatty()
    answers = _answers(given) if is_new and can_ask else given
    made = [file for file, data in _files(answers).items() if _written(folder / file, data)]
    if not made:
        raise UsageError(f"{folder}: this is a practice folder already. Type `practice-site`.")
    print(_told(folder, complete=all(answers[key] for key in ("clinic", "phone"))))
    if is_new and not can_ask:
        _tell_unasked(clinic, answers)
    return 0


def _require_place(folder: Path) -> None:
    """UsageError where no practice folder should be made."""
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder}: this is a file. Name a new folder, as in `my-clinic`.")
    whole = folder.resolve()
    if around := root_around(str(whole.parent)):
        raise UsageError(
            f"{folder}: this lies in the practice folder {around}. Choose a place outside it, as "
            "in `practice-site start ../my-clinic`."
        )
    names = sorted(one.name for one in folder.iterdir()) if folder.is_dir() else []
    foreign = [name for name in names if not name.startswith(".")]
    if foreign and not (folder / PROGRAMS).is_dir():
        more = f" and {len(foreign) - NAMED} more" if len(foreign) > NAMED else ""
        raise UsageError(
            f"{folder}: this folder holds other things ({', '.join(foreign[:NAMED])}{more}). Name "
            "a new folder, as in `practice-site start my-clinic`."
        )


def _checked(question: Question, answer: str) -> str:
    if answer and not re.fullmatch(question.fits, answer):
        raise UsageError(f"`{answer}`: {question.otherwise}.")
    return answer


def _answers(given: Answers) -> Answers:
    """All answers; asked for where they were not given."""
    return {q.key: given[q.key] or _asked(q, input) for q in QUESTIONS}


def _asked(question: Question, ask: Callable[[str], str]) -> str:
    """The answer to a question; "" for none."""
    while True:
        try:
            answer = ask(f"{question.asked}: ").strip()
        except EOFError:
            return ""
        if not answer or re.fullmatch(question.fits, answer):
            return answer
        print(f"    Please {question.otherwise}.")


def _files(answers: Answers) -> dict[Path, bytes]:
    """What a practice folder holds: path -> bytes, b"" for an empty folder; its mark last."""
    programs, kept = Path(PROGRAMS), templates() / "practice_folder"
    files = {programs / TAKES: b"", programs / PICTURES: b""}
    files |= {programs / name: data for name, data in schema_files().items()}
    clinic = (kept / CLINIC).read_text("utf-8").format(**_filled_in(answers))
    files[programs / CLINIC] = clinic.encode()
    files[Path(".gitignore")] = (kept / "gitignore").read_bytes()
    return files | {Path(MARK): (kept / MARK).read_bytes()}


def _filled_in(answers: Answers) -> dict[str, str]:
    address = answers["address"]
    return {
        "clinic": scalar(answers["clinic"]) if answers["clinic"] else BLANK,
        "phone": scalar(answers["phone"]) if answers["phone"] else BLANK,
        "base_url": f"base_url: {address}"
        if address
        else "# base_url: https://practice.example.org",
        "paper": answers["paper"] or "letter",
    }


def _written(place: Path, data: bytes) -> bool:
    """Write a file, or make a folder, where nothing is; whether it was made."""
    if place.exists():
        return False
    (place.parent if data else place).mkdir(parents=True, exist_ok=True)
    if data:
        write_whole(place, data)
    return True


def _told(folder: Path, *, complete: bool) -> str:
    lines = [f"{folder.resolve()}: your practice folder.", "Type next:"]
    if folder.resolve() != Path.cwd():
        name = str(folder)
        lines.append(f'    cd "{name}"' if " " in name else f"    cd {name}")
    lines.append("    practice-site new wren-01 --sound k --position initial --age 4")
    lines.append(
        "with your client's own code (an animal and a number, never a name), sound, position and "
        "age."
    )
    if not complete:
        file = os.path.join(PROGRAMS, CLINIC)
        lines.append(f"Open {file} in a text editor and replace each `{BLANK}` there.")
    return "\n".join(lines)


def _tell_unasked(clinic: Path, answers: Answers) -> None:
    """What was taken, since there was no terminal to ask at."""
    if taken := [question.without for question in QUESTIONS if not answers[question.key]]:
        print(f"Nobody could be asked, so this was taken: {', '.join(taken)}.")
        print(f"All of it stands in {clinic}: change it there.")
