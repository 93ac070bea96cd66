"""One line, on stderr, where a voice was asked for that cannot speak here, or not now."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence

from builder.audio.voices import missing_modules
from builder.model.program import Client
from builder.problems import Finding


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


def tell_waiting(findings: Sequence[Finding]) -> None:
    """Say once that a service did not speak, for however many clients."""
    if findings:
        print(findings[0], file=sys.stderr)
    if (others := len(findings) - 1) > 0:
        print(f"    the same for {others} more client{'s' if others > 1 else ''}", file=sys.stderr)
