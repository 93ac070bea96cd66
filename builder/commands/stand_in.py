"""One line, on stderr, where a voice was asked for that cannot speak here, or not now."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence

from builder.audio.voices import VOICES, in_turn, missing_modules
from builder.model.program import Client
from builder.problems import Finding
from builder.text.several import several


def tell(clients: Iterable[Client]) -> None:
    """Say once of each voice that is asked and cannot speak here who speaks, and why."""
    asked = {program.voice for one in clients for program in one.programs}
    for name in (v for v in VOICES if v in asked and VOICES[v].synthetic):
        if missing := missing_modules(name):
            lexicon = " and words are checked without its lexicon" if "hibari" in missing else ""
            print(
                f"The {VOICES[name].called} is not available here "
                f"({' and '.join(missing)} not installed): "
                f"the {VOICES[in_turn(name)[1]].called} speaks{lexicon}.",
                file=sys.stderr,
            )


def tell_waiting(findings: Sequence[Finding]) -> None:
    """Say once that a service did not speak, for however many clients."""
    if findings:
        print(findings[0], file=sys.stderr)
    if (others := len(findings) - 1) > 0:
        print(f"    the same for {several(others, 'more client')}", file=sys.stderr)
