"""Imports run one way: a module imports only from rooms below its own (table: DEVELOPERS.md), and
the logic of the pages knows no page, clock or storage."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.support.modules import MODULES as PAGES
from tests.support.modules import imported as modules_of_pages
from tests.support.places import ROOT

BUILDER = ROOT / "builder"

# From the ground up. Rooms on one line know nothing of one another.
FLOORS: tuple[tuple[str, ...], ...] = (
    ("builder", "problems", "packages"),
    ("espeak", "phonetics", "workspace"),
    ("phonetics.lexicon",),
    ("text",),
    ("model",),
    ("cues",),
    ("audio", "program_file"),
    ("audio.dsp", "audio.io"),
    ("audio.align", "audio.judge"),
    ("audio.assess", "audio.voices"),
    ("audio.sustain", "audio.split"),
    ("audio.render",),
    ("make",),
    ("recordings", "wordbank"),
    ("recordings.page", "survey", "drafting", "practice"),
    ("practice.log",),
    ("practice.figures",),
    ("practice.visit",),
    ("checks", "planning", "site"),
    ("caseload", "progress", "spoken"),
    ("pipeline",),
    ("commands",),
    ("__main__",),
)
LOGIC = (
    *("run", "rounds", "path", "help", "pairs", "tasks", "passages", "record", "today", "pack"),
    *("envelope", "visit-figures", "visit-report", "offers", "calendar", "stones", "stones-curve"),
    *("hiss", "ear", "own-try"),
)
OF_A_BROWSER = re.compile(
    r"\b(?:document|navigator|localStorage|indexedDB|setTimeout|Date\.now)\b"
    r"|\bwindow\.|\bnew Date\(\)"
)
FLOOR = {name: floor for floor, rooms in enumerate(FLOORS) for name in rooms}
FILES = sorted(BUILDER.rglob("*.py"))


def module_of(file: Path) -> str:
    """A module's name without `builder`: "audio.dsp.runs"; a package's is that of its folder."""
    parts = file.relative_to(BUILDER).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts) or "builder"


MODULES = set(map(module_of, FILES))


def room_of(module: str) -> str:
    """The room of a module: the longest listed name that it begins with."""
    parts = module.split(".")
    heads = (".".join(parts[:n]) for n in range(len(parts), 0, -1))
    return next((head for head in heads if head in FLOOR), "")


def imported(file: Path) -> set[str]:
    """The modules of builder/ that a file imports, for real or for its types."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {f"{node.module}.{name.name}" for name in node.names}
    plain = {name.removeprefix("builder.") for name in found if name.startswith("builder.")}
    return {name if name in MODULES else name.rpartition(".")[0] for name in plain}


@pytest.mark.parametrize("file", FILES, ids=module_of)
def test_imports_run_one_way(file: Path) -> None:
    own = room_of(module_of(file))
    assert own, f"{file.name} has no room: give it one in FLOORS and in DEVELOPERS.md"
    others = {room_of(name) for name in imported(file)} - {own}
    assert not {name for name in others if FLOOR[name] >= FLOOR[own]}


def test_no_circles_within_a_room() -> None:
    waiting = {module_of(file): imported(file) - {module_of(file)} for file in FILES}
    while free := {name for name, needed in waiting.items() if not needed & waiting.keys()}:
        waiting = {name: needed for name, needed in waiting.items() if name not in free}
    assert not waiting


def test_every_room_has_about_ten_files() -> None:
    # A command is a file of its own, and so is a family of checks: these two grow by design.
    sizes = {folder: len(list(folder.glob("[!_]*.py"))) for folder in {f.parent for f in FILES}}
    large = {f.name for f, size in sizes.items() if size > 12}
    assert large <= {"commands", "checks"}


def test_only_commands_print() -> None:
    for file in FILES:
        if file.parent.name == "commands" or file.name == "__main__.py":
            continue
        calls = [n for n in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(n, ast.Call)]
        names = {n.func.id for n in calls if isinstance(n.func, ast.Name)}
        assert "print" not in names, file


@pytest.mark.parametrize("name", LOGIC)
def test_logic_of_the_pages_knows_no_page_clock_or_storage(name: str) -> None:
    assert modules_of_pages(name) <= set(LOGIC)
    assert OF_A_BROWSER.findall((PAGES / f"{name}.js").read_text("utf-8")) == []
