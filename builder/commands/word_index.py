"""The index of words, for a command; that it is made is told, since that takes a while."""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager, closing
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from builder.phonetics.lexicon.index import Index

MAKING = "Reading the lists of words, once until the next update: 10 to 20 seconds …"


def word_index(folder: Path) -> AbstractContextManager[Index]:
    """The index in `folder`, to be closed; a line on stderr before it is made. Raises as
    `Index.open`."""
    from builder.phonetics.lexicon.index import Index

    return closing(Index.open(folder, lambda: print(MAKING, file=sys.stderr, flush=True)))
