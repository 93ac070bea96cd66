"""What a theme's folder holds is listed as MkDocs' own template engine lists it; what is taken out
of scripts changes nothing that they say."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader

from builder.site.generate import OURS, _names, lightened
from builder.text.templates import folder
from tests.support.node import PACKAGES, node

THEME = folder() / "theme"
SCRIPTS = sorted(f for pattern in OURS for f in THEME.glob(pattern) if f.suffix == ".js")
# TypeScript prints what it has read, without comments: the same text, the same program.
PRINTED = """
const ts = require("typescript");
const compilerOptions = { target: "ESNext", module: "ESNext", removeComments: true };
const printed = (text) => ts.transpileModule(text, { compilerOptions }).outputText;
const pairs = JSON.parse(require("fs").readFileSync(0, "utf-8"));
console.log(JSON.stringify(pairs.map((pair) => pair.map(printed))));
"""


def test_all_files_of_a_theme_are_listed_but_hidden_folders(tmp_path: Path) -> None:
    """As Jinja does, whose list MkDocs takes; from that it takes out what is hidden."""
    files = ("main.html", "assets/app.css", "assets/img/a b.svg", ".icons/x/y.svg", "a/.b/c.js")
    for name in files:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).touch()
    own = Environment(loader=FileSystemLoader(tmp_path), autoescape=True).list_templates()
    assert sorted(own) == sorted(files)
    shown = {name for name in own if not any(part.startswith(".") for part in name.split("/"))}
    assert _names([str(tmp_path)]) == shown


def test_lines_of_comment_and_indentation_go_and_nothing_else() -> None:
    text = (
        "// what it does\n\n/** @param {string} a\n * and more\n */\nexport function f(a) {\n"
        '  /** @type {B} */ (a).b(); // stays\n  // why\n  return "// no comment";\n}\n'
    )
    assert lightened(text) == (
        'export function f(a) {\n/** @type {B} */ (a).b(); // stays\nreturn "// no comment";\n}\n'
    )
    assert lightened("a {\n  /* why */\n  b: c; /* stays */\n}\n") == "a {\nb: c; /* stays */\n}\n"


@pytest.mark.slow
def test_every_script_says_the_same() -> None:
    texts = [file.read_text("utf-8") for file in SCRIPTS]
    pairs = [[text, lightened(text)] for text in texts]
    done = subprocess.run(
        [node(), "-e", PRINTED],
        cwd=PACKAGES.parent,
        input=json.dumps(pairs),
        capture_output=True,
        text=True,
        check=True,
    )
    for file, (before, after) in zip(SCRIPTS, json.loads(done.stdout), strict=True):
        assert before == after, file.name
