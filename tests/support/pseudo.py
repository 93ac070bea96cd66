"""A language nobody speaks, made of the English words: longer by two fifths, with accents, every
text in brackets, so that what is cut, or was never handed over to be worded, shows."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.text import wording

NAME = "zxx"  # of no language at all (ISO 639-2)
ACCENTS = str.maketrans("aeiouyncsAEIOU", "áéíôüýñçšÁÉÍÓÚ")
LONGER = 0.4  # as much as German or Finnish are longer than English; common practice, no source


def accented(text: str) -> str:
    """As in "[Stárt ~~]"; what is to be filled in stays."""
    parts = wording.PLACEHOLDER.split(text)
    # Texts and names of places take turns.
    told = "".join(
        f"{{{part}}}" if at % 2 else part.translate(ACCENTS) for at, part in enumerate(parts)
    )
    words = max(1, round(len(text) * LONGER / 8))
    return f"[{told}{' lôngér~' * words}]" if len(text) > 12 else f"[{told}]"


def _tree(tree: Any, key: str = "") -> Any:
    if isinstance(tree, dict):
        return {name: _tree(one, name) for name, one in tree.items()}
    return "no" if key == wording.READ else accented(tree)


@contextmanager
def spoken(folder: Path) -> Iterator[None]:
    """The language is there, in one file of words alone: no line of code knows of it."""
    shutil.copytree(wording.source(), folder, dirs_exist_ok=True)
    tree = yaml.load((folder / "en.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
    text = yaml.safe_dump(_tree(tree), allow_unicode=True, width=1000, sort_keys=False)
    (folder / f"{NAME}.yaml").write_text(text, "utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(wording, "source", lambda: folder)
        forget()
        yield
    forget()


def forget() -> None:
    """Words are read anew."""
    for kept in (wording.wording, wording.languages, wording.is_read, wording.told_in):
        kept.cache_clear()
