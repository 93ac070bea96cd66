"""A plain MkDocs project for one client: pages as finished HTML, files linked in from the store."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import yaml

from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.site.pages import Page
from builder.workspace.folder import SITE_MARK, Workspace


def write_mkdocs_project(
    project: Path,
    plan: Plan,
    pages: Iterable[Page],
    files: Mapping[str, Path],
    settings: Mapping[str, Any],
    theme: Path,
    workspace: Workspace,
) -> None:
    """Write the project into the empty folder `project`.

    files: path in the site -> file to publish there; settings: what the theme reads as `extra`.
    """
    docs = project / "docs"
    docs.mkdir()
    for page in pages:
        _page(docs, page)
    for name, source in files.items():
        link(source, docs / name)
    (docs / SITE_MARK).write_text(json.dumps(site_mark(plan), sort_keys=True), "utf-8")
    config = {
        "INHERIT": str(workspace.root / "mkdocs.yml"),
        "site_name": settings["site_name"],
        "site_url": "",
        "docs_dir": "docs",
        "site_dir": "site",
        "theme": {"custom_dir": str(theme), **settings["theme"]},
        "extra": settings["extra"],
    }
    (project / "mkdocs.yml").write_text(yaml.safe_dump(config, allow_unicode=True), "utf-8")


def site_mark(plan: Plan) -> dict[str, Any]:
    """What a site says of itself: its name, its plan, the languages of its pages, every step ever
    published."""
    steps = [step.id for program in plan.programs for step in program.steps]
    return {
        "form": 1,
        "site": plan.slug,
        "plan": view_of(plan).digest,
        "languages": list(plan.interface),
        "steps": sorted([*steps, *plan.gone]),
    }


def _page(docs: Path, page: Page) -> None:
    file = docs / page.path / "index.md"
    file.parent.mkdir(parents=True, exist_ok=True)
    front = yaml.safe_dump(
        {"title": page.title, "description": page.description, "tongue": page.language},
        allow_unicode=True,
    )
    # One outer div: Markdown hands a block of HTML through as it is.
    body = f'<div class="page" data-page="{page.path}">\n{page.html}\n</div>\n'
    file.write_text(f"---\n{front}---\n\n{body}", "utf-8")


def link(source: Path, target: Path) -> None:
    """The same file under another name; a copy where the disk cannot link."""
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(source, target)
    except OSError:
        shutil.copyfile(source, target)
