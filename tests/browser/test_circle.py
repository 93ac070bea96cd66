"""The whole way from a visit to home and back, once: drafted, checked, built, practiced by touch,
handed back in three ways, taken in once, moved on, built, seen by the same tablet, printed.
"""

from __future__ import annotations

import datetime
import io
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice, repeat
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from builder.__main__ import main
from builder.model.criteria import Criteria
from builder.model.record import Sitting
from builder.phonetics.lexicon.index import Index
from builder.practice.figures.client_log import ClientLog, client_log
from builder.practice.figures.proposal.counting import Asked
from builder.practice.figures.proposal.move import propose
from builder.program_file.load import program_of
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from tests.browser.conftest import TABLET, Watched, serving, watch
from tests.browser.sitting import MOMENT_MS, by_hand, kept, until
from tests.support.clinics import clinic
from tests.support.drafting_index import Few
from tests.support.photographs import data, photographed
from tests.support.stock import copy_stock

pytestmark = pytest.mark.browser

CODE = "wren-11"
ASKED = ("--sound", "k", "--position", "initial", "--age", "4", "--error", "t")
FILLED_IN = {  # what she writes into the draft: a short sitting of ten tries
    r"^baseline: fill-in.*$": "baseline: {date: 2026-12-07, correct: 9, of: 10}",
    r"^# practice: .*$": "practice: {minutes: 2, from: 2026-12-08, visit: 2026-12-14}",
    r"vowels: \[.*\]": "vowels: [ee, ay, ah, oo, oh]",
    r"support: imitation, times: 6": "support: imitation, times: 2",
}
FIRST_VISIT, NEXT_VISIT = datetime.date(2026, 12, 7), datetime.date(2026, 12, 14)
MARKS = ("clear", "clear", "missed", *["clear"] * 20)


@dataclass(frozen=True)
class Clinic:
    """A practice folder that is the current one, and the client's site in it."""

    folder: Path
    site: str
    monkeypatch: pytest.MonkeyPatch
    capsys: pytest.CaptureFixture[str]

    def type(self, day: datetime.date, *words: str) -> str:
        """What a command says on a day; it must do what it was asked to."""
        noon = datetime.datetime.combine(day, datetime.time(12), datetime.UTC)
        self.monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(noon.timestamp())))
        self.capsys.readouterr()
        assert main([*words]) == 0, self.capsys.readouterr()
        return self.capsys.readouterr().out

    def log(self) -> ClientLog:
        """All that came of the client."""
        return client_log(Workspace(self.folder), self.site)

    def sheet(self) -> tuple[str, str]:
        """The words of the sheet on the desk, and the address in its code."""
        library: Any = pypdfium2
        (file,) = (self.folder / "desk").glob(f"{CODE} *.pdf")
        with library.PdfDocument(file) as pages:
            text = " ".join(page.get_textpage().get_text_bounded() for page in pages)
            picture = pages[0].render(scale=2).to_pil().convert("L")
        (code,) = zxingcpp.read_barcodes(picture)
        return text, code.text


@pytest.fixture
def at_work(
    tmp_path: Path, stock: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Clinic:
    """A clinic without a client, which takes a record in every way."""
    programs = clinic(tmp_path)
    (programs / "finch-10.yaml").unlink()
    with (programs / "clinic.yaml").open("a") as file:
        file.write("voice: embedded\nrecords: [share, download, copy, code]\n")
    copy_stock(stock, tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(Index, "open", lambda *_: Few())
    space = Workspace(tmp_path)
    return Clinic(tmp_path, slug(secret(space), CODE), monkeypatch, capsys)


@pytest.fixture
def tablet(browser: Browser, at_work: Clinic) -> Iterator[Watched]:
    """A family's tablet, on a Tuesday morning: fingers, sharp dots, a clock that is ours."""
    (public := at_work.folder / "public").mkdir()
    with serving(public) as address:
        context = browser.new_context(
            viewport=TABLET, has_touch=True, device_scale_factor=2, timezone_id="America/Chicago"
        )
        context.grant_permissions(["clipboard-read", "clipboard-write"])
        watched = watch(context, f"{address}{at_work.site}/")
        by_hand(watched.page, at_work.site)
        watched.page.clock.install(time="2026-12-08T08:00:00-06:00")
        yield watched
        context.close()


def tap(page: Page, name: str) -> None:
    """Put a finger on a button."""
    page.get_by_role("button", name=name, exact=True).tap()


def practiced(page: Page) -> None:
    """A whole sitting by touch: the first word is heard, the others are said without hearing."""
    page.locator("[data-key=start]").tap()
    page.locator(".task").wait_for()
    tap(page, "Hear it")
    page.locator(".marks:not(.sleeping)").wait_for()
    page.clock.pause_at((page.evaluate("Date.now()") + MOMENT_MS) / 1000)
    marks = iter(MARKS)
    key = page.locator("[data-key=clear], [data-key=go-on], .summary").first
    while (now := key.get_attribute("data-key")) is not None:
        if now == "go-on":
            key.tap()
        else:
            marked(page, next(marks))
    page.clock.run_for(MOMENT_MS)


def marked(page: Page, kind: str) -> None:
    """Mark a try by touch, after a word of one's own where one is offered."""
    if (decline := page.locator("[data-key=decline]")).count():
        decline.tap()
    page.clock.run_for(MOMENT_MS)
    page.locator(f"[data-key={kind}]").tap()
    page.clock.run_for(MOMENT_MS)
    if kind == "missed":
        page.locator(".task [data-key=go-on]").tap()
        page.clock.run_for(MOMENT_MS)  # else the next tap would be the second one of a double tap


def handed_back(page: Page, folder: Path) -> tuple[Path, str, list[Path]]:
    """The record as a file, as a text, and as photographs of the codes on the screen."""
    tap(page, "Copy it")
    expect(page.get_by_text("Copied.")).to_be_visible()
    copied = str(page.evaluate("navigator.clipboard.readText()"))
    with page.expect_download() as download:
        tap(page, "Save it as a file")
    saved = folder / download.value.suggested_filename
    download.value.save_as(saved)
    tap(page, "Show it as codes")
    page.locator("dialog.codes svg").wait_for()
    photos = [folder / "IMG_0001.jpg"]
    while True:
        screen = Image.open(io.BytesIO(page.screenshot())).convert("L")
        photos[-1].write_bytes(data(photographed(screen)))
        if page.get_by_role("button", name="Done", exact=True).count():
            break
        tap(page, "Next code")
        photos.append(folder / f"IMG_{len(photos) + 1:04}.jpg")
    tap(page, "Done")
    return saved, copied, photos


def filled_in(file: Path) -> None:
    """The draft with what only she knows."""
    text = file.read_text("utf-8")
    for found, written in FILLED_IN.items():
        text, times = re.subn(found, written, text, count=1, flags=re.MULTILINE)
        assert times == 1, found
    file.write_text(text, "utf-8")


def test_from_a_visit_home_and_back(
    at_work: Clinic, tablet: Watched, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    file = at_work.folder / "programs" / f"{CODE}.yaml"
    at_work.type(FIRST_VISIT, "new", CODE, *ASKED)
    filled_in(file)
    assert "0 faults" in at_work.type(FIRST_VISIT, "check", CODE)
    at_work.type(FIRST_VISIT, "build", CODE)
    at_work.type(FIRST_VISIT, "print", CODE)
    _, address = at_work.sheet()
    assert address == f"https://practice.example.org/{at_work.site}/"

    page = tablet.open("")
    expect(page.get_by_role("heading", name="This morning")).to_be_visible()
    practiced(page)
    page.locator("summary").tap()
    page.get_by_label("A few words for your therapist").fill("Liked the cow.")
    page.clock.run_for(MOMENT_MS)
    until(page, "Object.values(localStorage).some((kept) => kept.includes('Liked'))")
    (sitting,) = kept(page)
    assert sitting.end == "done"
    heard, *others = [trial.support for trial in sitting.trials]
    assert (heard, {*others}) == ("imitation", {"spontaneous"}), "as it was, not as planned"

    page.clock.resume()
    page = tablet.open("visit/")
    saved, copied, photos = handed_back(page, tmp_path)
    pasted = SimpleNamespace(buffer=io.BytesIO(copied.encode()), isatty=lambda: False)
    monkeypatch.setattr(sys, "stdin", pasted)
    tries = sum(trial.counts for trial in sitting.trials)
    told = [
        at_work.type(NEXT_VISIT, "receive", *map(str, files))
        for files in ([saved], [], [*reversed(photos)])
    ]
    assert told == [
        f"{CODE}: 1 new sitting, {tries} tries, 2026-12-08\n",
        *repeat(f"{CODE}: nothing new, 1 in the log already\n", 2),
    ]
    known(at_work, sitting)

    out = program_of(file, None).written.words["initial"][-1].word
    said = at_work.type(
        *(NEXT_VISIT, "visit", CODE, "--score", "18/20", "--to", "words", "--tried", "9/10"),
        *("--drop", out, "--add", "cave", "--next", "2026-12-21", "--note", "calm", "--yes"),
    )
    assert said.startswith(
        f"{CODE}: at home since 2026-12-07 practiced on 1 of 4 planned days; {tries} tries in 1 "
        f"sitting\n    'with a vowel': clear "
    )
    with_score = f"home marked {tries - 1} of {tries} (90 %) clear on the last day of practice, and"
    assert f"with this score: Propose staying: {with_score} you heard 18 of 20" in said
    assert "This moves on to 'words', though the figures" in said
    assert "1 word out, 1 in; now 'words'; baseline 9 of 10" in said
    assert [(s.step, s.correct, s.of) for s in at_work.log().scores] == [
        ("k-with-a-vowel", 18, 20),
        ("k-words", 9, 10),
    ]
    assert "0 faults" in at_work.type(NEXT_VISIT, "check", CODE)
    at_work.type(NEXT_VISIT, "build", CODE)
    at_work.type(NEXT_VISIT, "print", CODE)
    text, now = at_work.sheet()
    assert now == address, "the code on the refrigerator still leads there"
    assert re.search(r"\bcave\b", text)
    assert not re.search(rf"\b{out}\b", text)

    page.clock.set_fixed_time("2026-12-15T08:00:00-06:00")
    page = tablet.open("")
    expect(page.get_by_role("heading", name="This morning")).to_be_visible()
    expect(page.get_by_role("link", name="k: words")).to_be_visible()
    assert kept(page) == [sitting], "the old record stays"
    page = tablet.open("k-words/")
    expect(page.locator("main")).to_contain_text("cave")
    assert tablet.errors == []


def known(at_work: Clinic, sitting: Sitting) -> None:
    """The log, its figures and what they propose agree with what was marked by hand above."""
    log = at_work.log()
    assert log.sittings == (sitting,)
    assert [note.text for note in log.notes] == ["Liked the cow."]
    given = [*islice(MARKS, len(sitting.trials))]
    assert [trial.mark for trial in sitting.trials] == given
    clear = sum(one.clear for one in log.tries)
    assert (clear, sum(one.tries for one in log.tries)) == (given.count("clear"), len(given))
    (step,) = {one.step for one in log.tries}
    asked = Asked(step, "syllable", Criteria.model_validate({}))
    proposed = propose(asked, log.tries, log.scores, NEXT_VISIT)
    assert proposed.move == "too little"
    assert f"home marked {clear} of {len(given)}" in proposed.sentence
