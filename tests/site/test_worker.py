"""What the worker keeps: all that a family's pages ask for, in the version that is there."""

from __future__ import annotations

import hashlib
import json
import posixpath
import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

import pytest

from builder.problems import SiteError
from builder.site.app import worker
from builder.site.generate import MICROPHONE_FILES
from tests.support import plans
from tests.support.building import built_once

HOST = "https://host.example/"
IN_CSS = re.compile(r'url\("([^"]+)"\)')
# Modules name each other so, those that one asks for in a list without the ending, style sheets so.
IN_JS = re.compile(r"""(?:from|import\()\s*["'](\./[\w/-]+\.js)["']""")
STYLES = re.compile(r'new URL\("([^"]+\.css)", import\.meta\.url\)')
LISTED = re.compile(r"const LEAD = \[(.*?)\]", re.DOTALL)


@pytest.fixture(scope="module")
def site(run_folder: Path, stock: Path) -> Path:
    """As the browser tests have it."""
    plan = plans.plan(plans.program_k(), plans.program_sh())
    return built_once(plan, run_folder / "site", stock)


def kept(site: Path) -> dict[str, str]:
    """Path -> digest, out of the worker's own text."""
    (listed,) = re.findall(r"new Map\(Object\.entries\((.*)\)\);", (site / "sw.js").read_text())
    found: dict[str, str] = json.loads(listed)
    return found


class Links(HTMLParser):
    """Every address in a page, those of its data blocks and of forms for print among them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """href, src."""
        self.found |= {value for name, value in attrs if name in ("href", "src") and value}

    def handle_data(self, data: str) -> None:
        """ "src" in JSON."""
        self.found |= set(re.findall(r'"src":"([^"]+)"', data))
        self.found |= set(re.findall(r'"(?:s|sh)":"(\.[^"]+)"', data))


def asked_for(site: Path, file: str) -> set[str]:
    """The addresses that a file names, as it names them."""
    path = site / file
    if path.suffix == ".html":
        return Links(path.read_text("utf-8")).found
    if path.suffix == ".css":
        return set(IN_CSS.findall(path.read_text("utf-8")))
    if path.suffix == ".js":
        text = path.read_text("utf-8")
        listed = {
            f"./{name}.js"
            for names in LISTED.findall(text)
            for name in re.findall(r'"([\w-]+)"', names)
        }
        return {*IN_JS.findall(text), *STYLES.findall(text), *listed}
    if path.suffix == ".webmanifest":
        entries = json.loads(path.read_text("utf-8"))
        return {entries["start_url"], *(icon["src"] for icon in entries["icons"])}
    return set()


def reached(site: Path) -> set[str]:
    """All files to which a way leads from today's page."""
    found: set[str] = set()
    left = {"index.html"}
    while left:
        file = left.pop()
        found.add(file)
        page = HOST + (posixpath.dirname(file) + "/" if file.endswith("index.html") else file)
        for address in asked_for(site, file):
            whole = urlsplit(urljoin(page.replace("//", "/").replace(":/", "://"), address))
            if f"{whole.scheme}://{whole.netloc}/" == HOST:
                path = unquote(whole.path).lstrip("/")
                path = f"{path}index.html" if path == "" or path.endswith("/") else path
                left |= {path} - found - {*MICROPHONE_FILES}  # no program here asks for one
    return found


@pytest.mark.slow
def test_it_keeps_all_that_pages_ask_for_and_nothing_else(site: Path) -> None:
    there = reached(site)
    assert {"visit/index.html", "assets/js/lead.js", "assets/js/vendor/lean-qr.js"} <= there
    assert {"practice-sheet.pdf", "clips/cow-natural.mp3", "assets/fonts/letters.woff2"} <= there
    assert there <= kept(site).keys()
    # An icon where nobody has drawn the animal, and what trains an ear where there are words.
    unused = {"assets/favicon.svg", "assets/js/ear.js", "assets/js/practice-ear.js"}
    assert kept(site).keys() - there == unused


@pytest.mark.slow
def test_it_keeps_them_as_they_are(site: Path) -> None:
    for path, digest in kept(site).items():
        assert hashlib.sha256((site / path).read_bytes()).hexdigest().startswith(digest), path
        assert len(digest) == 16


@pytest.mark.slow
def test_what_is_only_for_the_clinic_or_leads_on_stays_away(site: Path) -> None:
    for name in (
        "practice.json",
        "sw.js",
        "k-old-step/index.html",
        "assets/fonts/abeezee-licence.txt",
    ):
        assert (site / name).is_file()
        assert name not in kept(site)


def test_the_same_files_make_the_same_worker_and_another_file_another(tmp_path: Path) -> None:
    (tmp_path / "visit").mkdir()
    for name in ("visit/index.html", "index.html"):
        (tmp_path / name).write_text("a")
    made = []
    for text in ("a", "a", "b"):
        (tmp_path / "index.html").write_text(text)
        worker.write_worker(tmp_path, "7k2mz9qd4wthc", ())
        made.append((tmp_path / "sw.js").read_bytes())
    assert made[0] == made[1] != made[2]
    assert list(kept(tmp_path)) == ["index.html", "visit/index.html"]


def test_a_template_without_its_places_makes_no_site(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker, "PLACES", ("const NOWHERE = 0;", worker.PLACES[1]))
    with pytest.raises(SiteError, match="NOWHERE"):
        worker.write_worker(tmp_path, "7k2mz9qd4wthc", ())
    assert not (tmp_path / "sw.js").exists()
