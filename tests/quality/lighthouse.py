"""Lighthouse over pages: its four marks out of 100, and what cost a page any of them."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Audit:
    """What was found of one page."""

    address: str
    scores: dict[str, int]
    lost: tuple[str, ...]


def audits(chromium: Path, addresses: list[str]) -> Iterator[Audit]:
    """One after the other, as they come. Raises CalledProcessError where Lighthouse fails."""
    line = ["node", "audit.js", str(chromium), *addresses]
    env = os.environ | {"NODE_NO_WARNINGS": "1"}
    with subprocess.Popen(line, cwd=HERE, env=env, stdout=subprocess.PIPE, text=True) as process:
        for text in process.stdout or ():
            found = json.loads(text)
            yield Audit(found["address"], found["scores"], tuple(found["lost"]))
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, line)
