"""Imports run one way: a module imports only from rooms above its own (table: DEVELOPERS.md)."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

BUILDER = Path(__file__).parent.parent / "builder"

# From the top down; modules on one line may import each other.
ROOMS: tuple[tuple[str, ...], ...] = (
    ("builder",),
    ("problems", "stamp", "packages"),
    ("phonetics",),
    ("settings",),
    ("model", "record"),
    ("names", "dose", "readability"),
    ("speech",),
    ("resolve",),
    ("source", "misread", "letters", "hints"),
    ("forms", "keys", "schema", "editor"),
    ("store", "templates"),
    ("workspace",),
    ("load",),
    ("prompts",),
    ("plan",),
    ("vectors", "drawings", "pictures"),
    ("audio",),
    ("takes",),
    ("hearing", "survey"),
    ("bank",),
    ("drafting",),
    ("checks",),
    ("planning",),
    ("drafts", "wording"),
    ("clips", "fonts", "codes", "sheets", "proof"),
    ("site",),
    ("booth",),
    ("pipeline",),
    ("serve",),
    ("commands",),
    ("__main__",),
)  # fmt: skip
RANK = {name: rank for rank, room in enumerate(ROOMS) for name in room}
FILES = sorted(BUILDER.rglob("*.py"))


def room_of(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else "builder"


def imported(file: Path) -> set[str]:
    """The rooms of builder/ that a file imports, for real or for its types."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {room_of(n.name) for n in node.names if n.name.split(".")[0] == "builder"}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "builder":
            if node.module == "builder":
                found |= {n.name for n in node.names}
            else:
                found.add(room_of(node.module or ""))
    return found


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(BUILDER)))
def test_imports_run_one_way(file: Path) -> None:
    parts = file.relative_to(BUILDER).with_suffix("").parts
    own = "builder" if parts == ("__init__",) else parts[0]
    assert own in RANK, f"{own} has no room: give it one in ROOMS and in DEVELOPERS.md"
    below = {name for name in imported(file) if RANK[name] > RANK[own]}
    assert not below


def test_only_commands_print() -> None:
    for file in FILES:
        if file.parent.name == "commands" or file.name == "__main__.py":
            continue
        calls = [n for n in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(n, ast.Call)]
        names = {n.func.id for n in calls if isinstance(n.func, ast.Name)}
        assert "print" not in names, file
