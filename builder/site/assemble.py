"""One client's finished site: project, MkDocs, pruning, and a look at the result."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from builder import fonts
from builder.plan import Plan
from builder.site import layout
from builder.site.generate import generate, prune, verify
from builder.site.pages import frame, pages
from builder.store import Store
from builder.templates import folder
from builder.workspace import MARK, Workspace

LETTERS = "assets/fonts/letters.woff2"
TEXT = "assets/fonts/text.woff2"


def site(
    plan: Plan,
    files: Mapping[str, Path],
    facts: Mapping[str, Any],
    store: Store,
    workspace: Workspace,
    made: Path,
) -> Path:
    """Build the site under `made` and return its folder. Raises SiteError when MkDocs fell short.

    files: path in the site -> file; facts: of the clips by key.
    """
    written = pages(plan, facts)
    faces = made / "faces"
    faces.mkdir()
    texts = [page.html for page in written]
    (faces / "letters.woff2").write_bytes(fonts.letters(texts, store))
    (faces / "text.woff2").write_bytes(fonts.text_face(texts, store))
    everything = {**files, LETTERS: faces / "letters.woff2", TEXT: faces / "text.woff2"}
    project = made / "project"
    project.mkdir()
    layout.write(project, plan, written, everything, _settings(plan), folder() / "theme", workspace)
    generate(project, made / "site", workspace.store / "templates")
    prune(made / "site")
    verify(made / "site", [page.path for page in written], [*everything, MARK])
    return made / "site"


def _settings(plan: Plan) -> dict[str, Any]:
    shown = frame(plan)
    return {
        "site_name": shown["site"],
        "theme": {"favicon": shown["icon"], "language": plan.language.split("-")[0]},
        "extra": {"practice": shown},
    }
