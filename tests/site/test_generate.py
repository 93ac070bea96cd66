"""What a theme's folder holds is listed as MkDocs' own template engine lists it."""

from __future__ import annotations

from pathlib import Path

from jinja2 import Environment, FileSystemLoader

from builder.site.generate import _names


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
