"""The folder in which a clinic works: found upwards from a program, by its mkdocs.yml.

It holds programs/ with the clinic file and, hidden in .practice/ (0700, never in version control),
the secret that makes the sites' addresses, the store of what was made, and stamps.
"""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
from dataclasses import dataclass
from pathlib import Path

from builder.problems import UsageError
from builder.workspace.store import write_whole

LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"  # base32 without the look-alikes i l o u
SLUG_LENGTH = 13  # letters of 5 bits: 65 bits, too many to guess
KEY_BYTES = 32
HIDDEN = ".practice"
STAMPS = "stamps.json"  # in the hidden folder: what was built
MARK = "practice.json"  # stands in every published site; by it a site is known as ours


@dataclass(frozen=True)
class Workspace:
    """A clinic's working folder."""

    root: Path

    @property
    def hidden(self) -> Path:
        """The folder of the secret, the store and the stamps; made when it is missing."""
        folder = self.root / HIDDEN
        folder.mkdir(mode=0o700, exist_ok=True)
        return folder

    @property
    def index(self) -> Path:
        """The folder of the index of words; looked for only, made by the index itself."""
        return self.root / HIDDEN / "index"

    @property
    def store(self) -> Path:
        """The folder of everything that was made once."""
        return self.hidden / "store"


def find(start: Path) -> Workspace:
    """The workspace around a file or folder. Raises UsageError when there is none."""
    for folder in (start.resolve(), *start.resolve().parents):
        if (folder / "mkdocs.yml").is_file():
            return Workspace(folder)
    raise UsageError(
        f"{start}: this is not in a practice folder (one that holds mkdocs.yml and programs/)."
    )


def secret(workspace: Workspace, out: Path | None = None) -> bytes:
    """The key of all addresses, made once. Never made anew where sites were published with another.

    Raises UsageError when it is missing although `out` holds published sites.
    """
    file = workspace.hidden / "secret"
    if file.is_file():
        return _key(file)
    if (workspace.hidden / STAMPS).is_file():
        raise UsageError(
            f"{file}: the secret is missing, but sites were built here before; a new secret would "
            "change every printed address. Bring the file back from a copy."
        )
    published = [m.parent.name for m in out.glob(f"*/{MARK}")] if out and out.is_dir() else []
    if published:
        raise UsageError(
            f"{file}: the secret is missing, but {out} holds {len(published)} published site(s); "
            "a new secret would change every printed address. Bring the file back from a copy."
        )
    return _made(file)


def _key(file: Path) -> bytes:
    try:
        key = bytes.fromhex(file.read_text("ascii").strip())
    except ValueError:
        key = b""
    if len(key) != KEY_BYTES:
        raise UsageError(f"{file}: the secret is damaged. Bring it back from a copy.")
    return key


def _made(file: Path) -> bytes:
    key = secrets.token_bytes(KEY_BYTES)
    write_whole(file, (key.hex() + "\n").encode(), lasting=True)
    os.chmod(file, 0o600)
    return _key(file)


def slug(key: bytes, code: str) -> str:
    """The 13 letters that name a client's site: a keyed hash (HMAC-SHA-256) of the code."""
    number = int.from_bytes(hmac.digest(key, code.encode(), hashlib.sha256))
    return "".join(LETTERS[(number >> (5 * i)) & 31] for i in range(SLUG_LENGTH))
