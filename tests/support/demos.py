"""The demo programs as a therapist builds them, in a practice folder of their own."""

from __future__ import annotations

import pickle
import shutil
from dataclasses import dataclass
from pathlib import Path

from builder import pipeline
from builder.model.plan import Plan
from builder.program_file.load import clients
from tests.support.places import EXAMPLES, ROOT
from tests.support.stock import copy_stock

DEMOS = ("heron-07", "otter-12", "badger-03")


@dataclass(frozen=True)
class Demos:
    """The address under which all demo sites are served, their plans by code, their folder."""

    base: str
    plans: dict[str, Plan]
    folder: Path


def build_demos(folder: Path, stock: Path | None = None) -> None:
    """Into `public` in a folder, faces out of stock where there is one; beside it the plans."""
    if stock:
        copy_stock(stock, folder)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(EXAMPLES, folder / "programs")
    files = [folder / "programs" / f"{code}.yaml" for code in DEMOS]
    built = pipeline.build(clients(files), folder / "public")
    (folder / "plans").write_bytes(pickle.dumps({site.plan.client: site.plan for site in built}))


def plans_of(folder: Path) -> dict[str, Plan]:
    """The plans that `build_demos` wrote, by code."""
    plans: dict[str, Plan] = pickle.loads((folder / "plans").read_bytes())
    return plans
