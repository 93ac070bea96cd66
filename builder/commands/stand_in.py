"""One line, on stderr, where a voice was asked for that cannot speak on this computer."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from builder.audio.voices import missing_modules
from builder.model.program import Client


def tell(clients: Iterable[Client]) -> None:
    """Say once that the embedded voice speaks for the natural one, and why."""
    asked = any(program.voice == "natural" for one in clients for program in one.programs)
    if asked and (missing := missing_modules("natural")):
        lexicon = " and words are checked without its lexicon" if "hibari" in missing else ""
        print(
            f"The natural voice is not available here ({' and '.join(missing)} not installed): "
            f"the embedded voice speaks{lexicon}.",
            file=sys.stderr,
        )
