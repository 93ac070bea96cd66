"""What `new` says of a new client's animal, while the code can still be another one."""

from __future__ import annotations

import sys
from pathlib import Path

from builder.survey.files import alike, names_of_pictures, undrawn
from builder.workspace.program_files import by_code


def tell(programs: Path, code: str) -> None:
    """Say, on stderr, that another client has the same animal, or that it has no drawing."""
    others = [other for other in by_code(str(programs)) if other != code]
    animal = code.partition("-")[0]
    if same := alike(programs, code, others):
        print(
            f"{code}: {same[0]} has the same animal, so their sheets are easily mistaken for one "
            "another. A code can be changed until its site is published.",
            file=sys.stderr,
        )
    elif undrawn(code, names_of_pictures(programs, code)):
        print(
            f"{code}: there is no drawing of the animal '{animal}'; otter, fox, owl and heron have "
            "one. A code can be changed until its site is published.",
            file=sys.stderr,
        )
