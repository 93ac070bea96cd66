"""The front desk's folder: a file a client, what waits to be printed, and what was written before.

What was written is kept in the hidden folder, by folder and client. An entry that is lost or
damaged costs paper only: its sheet counts as changed.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Collection, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any, Literal, get_args

from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.store import digest_of, write_whole

FOLDER = "desk"  # in the practice folder, unless told otherwise
LEDGER = "desk.json"  # in the hidden folder
BOUND = "sheets to print.pdf"
LIST = "list for the desk.pdf"
Further = Literal["guide", "cards", "score", "school"]  # what is printed on request
FURTHER: tuple[Further, ...] = get_args(Further)
SHEET = re.compile(  # as `file_of` writes it
    rf"(?P<code>[^ ]+)( \d{{4}}-\d\d-\d\d)?( (?P<kind>{'|'.join(FURTHER)}))?\.pdf"
)
GROUP = re.compile(r"group (?P<name>[a-z]+(-[a-z]+)*)\.pdf")  # as `group_file` writes it


@dataclass(frozen=True)
class Sheet:
    """A client's sheet as it was written last.

    file: its name; digest: of its contents; made: the day, in ISO form; checked: when it was found
    to be as it should be (ns since 1970); waiting: whether it is in the bound file, which nobody
    has taken away yet; fresh: what was made on request since somebody took the list away; asked:
    what lay there on request when a visit that is over took it away, to be made again.
    """

    file: str
    digest: str
    made: str
    checked: int
    waiting: bool
    fresh: tuple[Further, ...] = ()
    asked: tuple[Further, ...] = ()


def file_of(code: str, first_day: str, kind: str = "") -> str:
    """The name of a client's file; first_day: in ISO form, "" where the sheet has no dates; kind:
    of what is printed on request, "" for the sheet."""
    return " ".join(filter(None, (code, first_day, kind))) + ".pdf"


def kinds_of(folder: Path, code: str) -> tuple[Further, ...]:
    """What was printed on request for a client, and still lies there."""
    named = (SHEET.fullmatch(file.name) for file in folder.glob("*.pdf"))
    found = {one["kind"] for one in named if one and one["code"] == code}
    return tuple(kind for kind in FURTHER if kind in found)


def group_file(name: str) -> str:
    """The name of the list of a group, for the adult who runs its sitting."""
    return f"group {name}.pdf"


def group_lists(folder: Path) -> dict[str, Path]:
    """The lists in a folder by their groups."""
    named = ((GROUP.fullmatch(file.name), file) for file in sorted(folder.glob("group *.pdf")))
    return {found["name"]: file for found, file in named if found}


def written(workspace: Workspace, folder: Path) -> dict[str, Sheet]:
    """What was written into `folder` before, by client. Once the bound file is gone none waits, and
    without the list nothing is fresh."""
    found = _read(workspace).get(str(folder.resolve()))
    there, has_list = (folder / BOUND).is_file(), (folder / LIST).is_file()
    sheets = {}
    for code, entry in found.items() if isinstance(found, dict) else ():
        if (sheet := _sheet(entry)) and _is_name(sheet.file, code):
            fresh = sheet.fresh if has_list else ()
            sheets[code] = replace(sheet, waiting=sheet.waiting and there, fresh=fresh)
    return sheets


def keep(workspace: Workspace, folder: Path, sheets: Mapping[str, Sheet]) -> None:
    """Remember what `folder` holds now; written last, so that what a killed run left counts as
    changed."""
    known = _read(workspace)
    known[str(folder.resolve())] = {code: asdict(sheet) for code, sheet in sorted(sheets.items())}
    _write(workspace, known)


def _write(workspace: Workspace, known: Mapping[str, Any]) -> None:
    text = json.dumps(known, sort_keys=True, indent=1) + "\n"
    write_whole(workspace.hidden / LEDGER, text.encode())


def forget(workspace: Workspace, code: str) -> None:
    """Remember nothing of a client any more."""
    known = _read(workspace)
    naming = [one for one in known.values() if isinstance(one, dict) and code in one]
    for sheets in naming:
        del sheets[code]
    if naming:
        _write(workspace, known)


def digest(pdf: bytes) -> str:
    """What tells a sheet from every other, as `digest_of` a file."""
    return hashlib.sha256(pdf).hexdigest()[:32]


def is_whole(folder: Path, sheet: Sheet) -> bool:
    """Whether its file lies in the folder as it was written."""
    file = folder / sheet.file
    return file.is_file() and digest_of(file) == sheet.digest


def remove_others(folder: Path, current: Mapping[str, Collection[str]]) -> list[str]:
    """Delete all other files of the clients whose files are `current`; their names."""
    gone = []
    for file in sorted(folder.glob("*.pdf")):
        found = SHEET.fullmatch(file.name)
        if found and file.name not in current.get(found["code"], (file.name,)):
            file.unlink()
            gone.append(file.name)
    return gone


def _read(workspace: Workspace) -> dict[str, Any]:
    try:
        known = json.loads((workspace.root / HIDDEN_FOLDER / LEDGER).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return known if isinstance(known, dict) else {}


def _sheet(entry: object) -> Sheet | None:
    kinds = {"file": str, "digest": str, "made": str, "checked": int, "waiting": bool}
    if not isinstance(entry, dict) or entry.keys() - {"fresh", "asked"} != kinds.keys():
        return None
    good = all(type(entry[key]) is kind for key, kind in kinds.items())
    fresh, asked = _further(entry.get("fresh")), _further(entry.get("asked"))
    return Sheet(**{**entry, "fresh": fresh, "asked": asked}) if good else None


def _further(told: object) -> tuple[Further, ...]:
    return tuple(kind for kind in FURTHER if isinstance(told, list) and kind in told)


def _is_name(file: str, code: str) -> bool:
    """Whether a file may be called so: what is remembered is never a way out of the folder."""
    found = SHEET.fullmatch(file)
    return bool(
        found
        and found["code"] == code
        and not found["kind"]
        and "/" not in file
        and "\\" not in file
    )
