"""What many tests would each make anew for seconds: both faces, and all files of the usual program.
Made once a run, by a build into a store of its own, which tests copy: what has a key there is not
made again."""

from __future__ import annotations

import shutil
from pathlib import Path

from builder import pipeline
from builder.program_file.load import clients
from builder.workspace.folder import Workspace
from tests.support.clinics import clinic
from tests.support.once import made_once


def stocked(run_folder: Path) -> Path:
    """The filled store, in the folder that the workers of one run share."""
    return Workspace(made_once(run_folder / "stock", _build)).store


def _build(space: Path) -> None:
    pipeline.build(clients([clinic(space) / "finch-10.yaml"]), space / "public")


def copy_stock(stock: Path, space: Path) -> None:
    """Give the practice folder `space` a store with all that is in stock."""
    shutil.copytree(stock, Workspace(space).store)
