"""One client's finished site: project, MkDocs, pruning, and a look at the result."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from builder.make import fonts, sheets
from builder.make.bound import bind
from builder.model.plan import Plan
from builder.site import layout
from builder.site.app.manifest import MANIFEST_FILE, manifest
from builder.site.app.worker import write_worker
from builder.site.editions import Edition, editions
from builder.site.generate import MICROPHONE_FILES, generate, lighten, prune, verify
from builder.site.pages import SHEET_FILE, pages, theme_settings
from builder.text.templates import folder
from builder.workspace.folder import SITE_MARK, Workspace
from builder.workspace.store import Store

SEVERAL_LANGUAGES = ("assets/js/tongues.js",)  # loaded only where there are several


def assemble_site(
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
    names, everything = write_project(plan, files, facts, store, workspace, made)
    generate(made / "project", made / "site", workspace.store / "templates")
    unused = SEVERAL_LANGUAGES if len(plan.interface) == 1 else ()
    prune(made / "site", (*unused, *(() if plan.hears else MICROPHONE_FILES)))
    lighten(made / "site")
    verify(made / "site", names, [*everything, SITE_MARK])
    gone = [one.folder + name for one in editions(plan) for name in plan.gone]
    write_worker(made / "site", plan.slug, gone)
    return made / "site"


def write_project(
    plan: Plan,
    files: Mapping[str, Path],
    facts: Mapping[str, Any],
    store: Store,
    workspace: Workspace,
    made: Path,
) -> tuple[list[str], list[str]]:
    """Write the MkDocs project under `made`; the paths of its pages and of its files."""
    written = pages(plan, facts)
    faces = _faces([page.html for page in written], store, made / "faces")
    app = made / MANIFEST_FILE
    app.write_text(manifest(plan), "utf-8")
    sheets_there = {
        f"{one.folder}{SHEET_FILE}": _sheet(one, files, store, made) for one in editions(plan)
    }
    everything = {**files, **faces, **sheets_there, MANIFEST_FILE: app}
    (made / "project").mkdir()
    theme = folder() / "theme"
    layout.write_mkdocs_project(
        made / "project", plan, written, everything, _settings(plan), theme, workspace
    )
    return [page.path for page in written], list(everything)


def _faces(texts: list[str], store: Store, made: Path) -> dict[str, Path]:
    """The two faces, cut down to what the pages write, each beside its license."""
    made.mkdir()
    (made / "letters.woff2").write_bytes(fonts.letters(texts, store))
    (made / "text.woff2").write_bytes(fonts.text_face(texts, store))
    (made / "phonetic.woff2").write_bytes(fonts.phonetic_face(texts, store))
    for face in fonts.FACES:
        name = f"{face.package.removeprefix('fontpkg_')}-licence.txt"
        (made / name).write_text(fonts.licence(face), "utf-8")
    return {f"assets/fonts/{file.name}": file for file in sorted(made.iterdir())}


def _sheet(one: Edition, files: Mapping[str, Path], store: Store, made: Path) -> Path:
    """The sheet without dates, for a family's own printer or phone; where days or times
    differ by who listens, a sheet for each of them in one file."""
    plan, w = one.plan, one.w
    shown = {p.key: files[p.path] for p in plan.pictures if p.path in files}
    target = made / f"{one.language}-{SHEET_FILE}"
    each = [
        (
            w[f"visit.role.{role}"] if role else "",
            sheets.handout(plan, shown, store, role=role, language=one.language),
        )
        for role in plan.apart or ("",)
    ]
    target.write_bytes(bind(each, w["print.title"]) if len(each) > 1 else each[0][1])
    return target


def _settings(plan: Plan) -> dict[str, Any]:
    """What the theme needs; `practice` by the language of a page."""
    shown = {one.language: theme_settings(one) for one in editions(plan)}
    first = shown[plan.interface[0]]
    return {
        "site_name": first["site"],
        "theme": {"favicon": first["icon"], "language": "en"},  # pages state their own
        "extra": {"first": plan.interface[0], "practice": shown},
    }
