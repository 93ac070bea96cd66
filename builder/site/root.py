"""The root of the published folder: a page that lists nobody, a word to robots, and
the way to today's page for addresses that are gone (a static host shows 404.html for those).
Whoever comes here has typed something amiss, so each page speaks all languages of the sites."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from builder.text.templates import environment, folder
from builder.text.wording import Wording, languages, wording
from builder.workspace import published
from builder.workspace.published import FOLDER_MARK, written_by_us
from builder.workspace.store import write_whole


class Told(NamedTuple):
    """A language with its words."""

    language: str
    w: Wording


def write_root(out: Path, interface: Iterable[str] = ()) -> None:
    """Write what the root needs, where they are missing or old; a file of the clinic's own stays.

    interface: languages of the pages, as in "es", the clinic's first; those of the sites that
    lie in `out` follow. Without any it is the language that words are written in first.

    In a folder from before there was a mark no file says whose it is: there all are replaced.
    """
    out.mkdir(parents=True, exist_ok=True)
    marked = (out / FOLDER_MARK).is_file()
    names = dict.fromkeys([*interface, *published.languages(out)])
    there = [name for name in names if name in languages()] or languages()[:1]
    told = [Told(name, wording(name)) for name in there]
    for source in sorted((folder() / "root").iterdir()):
        # A name that begins with a dot would be lost in some packages.
        target = out / (".nojekyll" if source.name == "nojekyll" else source.name)
        data = source.read_bytes()
        if source.suffix == ".html":
            data = environment("root").get_template(source.name).render(told=told).encode()
        ours = not target.exists() or not marked or written_by_us(target)
        if ours and not (target.is_file() and target.read_bytes() == data):
            write_whole(target, data)
