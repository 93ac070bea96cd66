"""Has anything changed since the last build? Answered from names, sizes and times of files alone.

Loads nothing heavy: a build with nothing to do ends here. One pass over the folder of programs
serves all clients, so that the time grows with their number and no faster.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Iterable

from builder.workspace.program_files import CLINIC, PICTURES, by_code, code_of

FILE = os.path.join(".practice", "stamps.json")
JOURNAL = os.path.join(".practice", "visit under way.json")  # there while a visit is written
VIEWS = "views"  # folder in the hidden one: the kept view of each published plan, by site
REMOVED = "removed"  # in the place of a state of files: the site was taken away on purpose
ENTRY_KEYS = {"takes", "inputs", "site", "plan", "files"}


def root_of(path: str) -> str:
    """The workspace around a file, "" when there is none."""
    return root_around(os.path.dirname(os.path.abspath(path)))


def root_around(folder: str) -> str:
    """The workspace that a folder, given whole, is or lies in; "" when there is none."""
    while not os.path.isfile(os.path.join(folder, "mkdocs.yml")):
        parent = os.path.dirname(folder)
        if parent == folder:
            return ""
        folder = parent
    return folder


class Stamps:
    """What the last builds were made of, by client, output folder and base address."""

    def __init__(self, files: list[str], out: str, base_url: str) -> None:
        self.root = root_of(files[0])
        self.out, self.base_url = os.path.abspath(out), base_url
        self.shared = _digest(_shared(self.root))
        self.file = os.path.join(self.root, FILE)
        self.known = _read(self.file)
        self._programs: dict[str, dict[str, list[str]]] = {}
        self._clients: dict[str, tuple[str, str]] = {}
        self._shared_folders: dict[str, str] = {}

    def unchanged(self, file: str) -> str:
        """The folder of the site of this program's client when it is as it should be, and so is
        the kept view of its plan, else ""."""
        folder, code = self._client_of(file)
        entry = self.known.get(self._name(folder, code))
        if not code or not entry or entry["inputs"] != self._inputs(folder, code, entry["takes"]):
            return ""
        view = os.path.join(self.root, ".practice", VIEWS, entry["site"], f"{entry['plan']}.json")
        if not os.path.isfile(view):
            return ""  # no record of it could be understood
        site = os.path.join(self.out, entry["site"])
        try:
            with open(os.path.join(site, "practice.json"), encoding="utf-8") as stream:
                same = json.load(stream)["plan"] == entry["plan"]
            return site if same and _listing(site) == entry["files"] else ""
        except (OSError, ValueError, KeyError, TypeError):  # TypeError: JSON of another shape
            return ""

    def published(self, file: str) -> bool:
        """Whether this program's client has a site, be it of now or of before."""
        return bool(self.site(file))

    def of_files_as_they_are(self, file: str) -> bool:
        """Whether the site of this program's client was built from the files as they are; the
        site's own files are not looked at."""
        folder, code = self._client_of(file)
        entry = self.known.get(self._name(folder, code))
        if not entry:
            return False
        return entry["inputs"] == self._inputs(folder, code, entry["takes"])

    def site(self, file: str) -> str:
        """The folder of the site of this program's client, be it of now or of before; "" where
        there is none."""
        entry = self.known.get(self._name(*self._client_of(file)))
        site = os.path.join(self.out, entry["site"]) if entry else ""
        return site if os.path.isdir(site) else ""

    def elsewhere(self, folder: str, code: str) -> str:
        """Another folder from which this client's site was built, and still could be; else ""."""
        for name in self.known:
            out, base_url, other, whose = json.loads(name)
            if (out, base_url, whose) != (self.out, self.base_url, code) or other == folder:
                continue
            if os.path.isdir(other) and code in self._codes(other):
                return str(other)
        return ""

    def removed(self, file: str) -> bool:
        """Whether the site of this program's client was taken away on purpose, and not built
        since."""
        entry = self.known.get(self._name(*self._client_of(file)))
        return bool(entry and entry["inputs"] == REMOVED)

    def remove(self, code: str) -> None:
        """Remember that a client's site was taken away; `save` writes it down."""
        for name, entry in self.known.items():
            out, *_, whose = json.loads(name)
            if (out, whose) == (self.out, code):
                entry["inputs"] = REMOVED

    def before(self, folder: str, code: str, takes: str) -> dict[str, str]:
        """The stamp of a client as of now; taken before a build, recorded after it."""
        return {"takes": takes, "inputs": self._inputs(folder, code, takes)}

    def record(self, folder: str, code: str, entry: dict[str, str], site: str, plan: str) -> None:
        """Remember a finished build; `save` writes it down."""
        files = _listing(os.path.join(self.out, site))
        built = {"site": site, "plan": plan, "files": files}
        self.known[self._name(folder, code)] = entry | built

    def save(self) -> None:
        """Write everything that was recorded, whole or not at all."""
        os.replace(self._write(), self.file)

    def try_to_write(self) -> None:
        """Raise OSError where `save` could not write either: better before a build than after."""
        os.remove(self._write())

    def _write(self) -> str:
        """Write everything beside the file; the path."""
        temporary = f"{self.file}.{os.getpid()}"
        os.makedirs(os.path.dirname(self.file), mode=0o700, exist_ok=True)
        with open(temporary, "w", encoding="utf-8") as stream:
            json.dump(self.known, stream)
        return temporary

    def _client_of(self, file: str) -> tuple[str, str]:
        """The folder and the code of a program; read once."""
        if file not in self._clients:
            self._clients[file] = os.path.dirname(os.path.abspath(file)), code_of(file)
        return self._clients[file]

    def _name(self, folder: str, code: str) -> str:
        return json.dumps([self.out, self.base_url, folder, code])

    def _inputs(self, folder: str, code: str, takes: str) -> str:
        programs = self._codes(folder).get(code, [])
        own = [os.path.join(folder, CLINIC), *programs, os.path.join(folder, code)]
        states = [_state(part) for part in own]
        for every in (takes, os.path.join(folder, PICTURES)):
            if every not in self._shared_folders:
                self._shared_folders[every] = _digest(_state(every))
            states.append([self._shared_folders[every]])
        return _digest([self.shared, self.base_url, states])

    def _codes(self, folder: str) -> dict[str, list[str]]:
        if folder not in self._programs:
            self._programs[folder] = by_code(folder)
        return self._programs[folder]


def tell_of_a_build(root: str) -> bool:
    """Whether a site was ever built in the workspace `root`. A build in which every program had a
    fault remembers none; of a damaged file nobody can say that there was none."""
    try:
        with open(os.path.join(root, FILE), encoding="utf-8") as stream:
            return bool(json.load(stream) != {})
    except FileNotFoundError:
        return False
    except (OSError, ValueError, RecursionError):
        return True


def forget(root: str, code: str) -> None:
    """Remember no build of a client any more: the next one makes its site anew."""
    file = os.path.join(root, FILE)
    known = _read(file)
    left = {name: entry for name, entry in known.items() if json.loads(name)[3] != code}
    if left != known:
        temporary = f"{file}.{os.getpid()}"
        with open(temporary, "w", encoding="utf-8") as stream:
            json.dump(left, stream)
        os.replace(temporary, file)


def _read(file: str) -> dict[str, dict[str, str]]:
    try:
        with open(file, encoding="utf-8") as stream:
            known = json.load(stream)
    except (OSError, ValueError, RecursionError):
        return {}
    if not isinstance(known, dict):
        return {}
    return {name: entry for name, entry in known.items() if _is_name(name) and _is_entry(entry)}


def _is_name(name: str) -> bool:
    """Whether this names a client as `Stamps` does; an older form, or a damaged one, does not."""
    try:
        parts = json.loads(name)
    except (ValueError, RecursionError):
        return False
    return isinstance(parts, list) and len(parts) == 4 and _all_texts(parts)


def _is_entry(entry: object) -> bool:
    return isinstance(entry, dict) and entry.keys() == ENTRY_KEYS and _all_texts(entry.values())


def _all_texts(values: Iterable[object]) -> bool:
    return all(isinstance(value, str) for value in values)


def _shared(root: str) -> list[object]:
    """What every site depends on: this program, the templates, the packages installed."""
    here = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    beside = os.path.join(os.path.dirname(here), "site_templates")
    installed = [
        name
        for folder in sys.path
        if folder and os.path.isdir(folder)
        for name in sorted(os.listdir(folder))
        if name.endswith(".dist-info")
    ]
    settings = _state(os.path.join(root, "mkdocs.yml"))
    return [sys.version, installed, _state(here), _state(beside), settings]


def _state(path: str) -> list[object]:
    """Name, size and time of everything under a file or folder, in order."""
    if os.path.isfile(path):
        return [_facts(path)]
    found: list[object] = []
    for folder, folders, files in os.walk(path):
        folders[:] = sorted(name for name in folders if name != "__pycache__")
        found += [_facts(os.path.join(folder, name)) for name in sorted(files)]
    return found


def _facts(path: str) -> list[object]:
    try:
        facts = os.stat(path)
    except OSError:  # a link to nothing, or gone since it was listed
        return [path]
    return [path, facts.st_size, facts.st_mtime_ns]


def _listing(site: str) -> str:
    """The digest of the names, sizes and times of all files of a site."""
    found, folders = [], [(site, "")]
    while folders:
        folder, name = folders.pop()
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_dir():
                    folders.append((entry.path, f"{name}{entry.name}/"))
                else:
                    facts = entry.stat()
                    found.append((name + entry.name, facts.st_size, facts.st_mtime_ns))
    return _digest(sorted(found))


def _digest(value: object) -> str:
    return hashlib.sha256(json.dumps(value).encode()).hexdigest()
