"""Runs MkDocs in this process over a finished project, takes out what no page needs, and looks
into what was written: a generator's own word is never trusted."""

from __future__ import annotations

import logging
import os
import re
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from builder.problems import SiteError

# What the theme writes and our pages never load: its style sheets, scripts, icons, maps.
UNUSED_THEME_FILES = (
    "sitemap.xml",
    "sitemap.xml.gz",
    "404.html",
    "assets/javascripts",
    "assets/images",
    "assets/stylesheets",
)

# What opens a microphone: only on sites whose program asks for it.
MICROPHONE_FILES = (
    "assets/js/hear-yourself.js",
    "assets/js/microphone.js",
    "assets/js/own-try.js",
    "assets/worklets",
)

OURS = ("assets/*.css", "assets/js/*.js", "assets/worklets/*.js")
# Whole lines alone: what stands behind code stays, so that no text in quotes is ever looked into.
_COMMENT = re.compile(r"^[ \t]*(?://[^\n]*|/\*(?:(?!\*/).)*\*/[ \t]*)\n", re.MULTILINE | re.DOTALL)
_INDENT = re.compile(r"^[ \t]+|^\n", re.MULTILINE)


def generate(project: Path, site: Path, cache: Path) -> None:
    """Build the MkDocs project into `site`. `cache`: folder for compiled templates."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    config: Any = load_config(str(project / "mkdocs.yml"), site_dir=str(site))
    _hasten(config.theme, cache)
    build(config)


def _hasten(theme: Any, cache: Path) -> None:
    """Compiling the theme's templates is half of a small build: the second site finds them. A
    tenth of what is left is a look at 14,000 icons in a hidden folder, of which no site gets any.
    """
    from jinja2 import FileSystemBytecodeCache

    plain = theme.get_env

    def quick() -> Any:
        cache.mkdir(parents=True, exist_ok=True)
        env = plain()
        env.bytecode_cache = FileSystemBytecodeCache(str(cache))
        env.list_templates = lambda filter_func: sorted(filter(filter_func, _names(theme.dirs)))
        return env

    theme.get_env = quick


def _names(folders: Iterable[str]) -> set[str]:
    """The files of a theme by their paths in it, but for those in hidden folders."""
    names = set()
    for folder in folders:
        for place, inner, files in os.walk(folder):
            inner[:] = [name for name in inner if not name.startswith(".")]
            within = Path(place).relative_to(folder)
            names |= {(within / file).as_posix() for file in files}
    return names


def prune(site: Path, unused: Iterable[str] = ()) -> None:
    """Delete what no page needs, `unused` of it by this site; a sitemap would tell robots the
    way."""
    for pattern in (*UNUSED_THEME_FILES, *unused):
        for found in site.glob(pattern):
            if found.is_dir():
                shutil.rmtree(found)
            else:
                found.unlink()


def lighten(site: Path) -> None:
    """Take comments that have lines of their own, indentation and empty lines out of our scripts
    and style sheets: nearly a third of what a tablet fetched of them, compressed."""
    for pattern in OURS:
        for file in site.glob(pattern):
            file.write_text(lightened(file.read_text("utf-8")), "utf-8", newline="\n")


def lightened(text: str) -> str:
    """The same of one, in which no text in quotes spans lines."""
    return _INDENT.sub("", _COMMENT.sub("", text))


def verify(site: Path, pages: Iterable[str], files: Iterable[str]) -> None:
    """SiteError unless every page carries its mark and every file holds something."""
    for page in pages:
        file = site / page / "index.html"
        if not file.is_file() or f'data-page="{page}"' not in file.read_text("utf-8"):
            raise SiteError(f"the page '{page or 'today'}' was not written as planned")
    for name in files:
        file = site / name
        if not file.is_file() or file.stat().st_size == 0:
            raise SiteError(f"the file '{name}' is missing or empty in the site")
