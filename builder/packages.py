"""Where installed packages lie whose files are read: none of them is imported, many load much."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path


def place(module: str) -> Path | None:
    """The folder of a package; None when it is not installed."""
    spec = find_spec(module)
    return next((Path(one) for one in (spec and spec.submodule_search_locations) or ()), None)


def needed(module: str) -> Path:
    """The folder of a package. Raises ModuleNotFoundError when it is not installed."""
    if found := place(module):
        return found
    raise ModuleNotFoundError(f"The package {module} is not installed.")
