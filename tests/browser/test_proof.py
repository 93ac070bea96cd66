"""The proof opens from the disk, is sound for axe-core, and plays its clips one after the other."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from builder import pipeline
from builder.__main__ import main
from builder.audio.io.wav import wav
from builder.program_file.load import clients
from builder.workspace.folder import find
from tests.browser.axe import found
from tests.browser.conftest import LYING, watch
from tests.commands.test_split import FILE, PROGRAM
from tests.support.clinics import clinic
from tests.support.degraded import NEAR, echoing
from tests.support.once import made_once
from tests.support.places import EXAMPLES, ROOT
from tests.support.read_lists import RATE, ListRecording, read
from tests.support.stock import copy_stock

pytestmark = pytest.mark.browser
WORDS = ["cow", "comb", "key"]
OUT_OF_ORDER = ["cow", "comb", "camel", "key"]
MASTERED = PROGRAM.replace("current:", "mastered: {syllable: 2026-11-02}\ncurrent:")


@pytest.fixture(scope="module")
def proof(run_folder: Path, stock: Path) -> str:
    """The address of a proof on the disk, of a program with one fault."""
    folder = made_once(run_folder / "proof", lambda empty: make_proof(empty, stock))
    return (folder / "proof" / "heron-07" / "index.html").as_uri()


def make_proof(folder: Path, stock: Path) -> None:
    copy_stock(stock, folder)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(EXAMPLES, folder / "programs")
    file = folder / "programs" / "heron-07.yaml"
    file.write_text(file.read_text("utf-8").replace("candle", "knee"), "utf-8")
    (checked,) = map(pipeline.check_client, clients([file]))
    pipeline.proof(checked, find(file), folder / "proof", lambda what, done, total: None)


def test_the_page_is_sound(browser: Browser, proof: str, axe: str) -> None:
    context = browser.new_context(viewport=LYING)
    watched = watch(context, "")
    page = watched.open(proof)
    assert found(page, axe) == []
    assert watched.errors == []
    assert watched.hosts == {""}
    context.close()


def test_a_finding_stands_in_the_card_of_its_word(browser: Browser, proof: str) -> None:
    page = browser.new_page(viewport=LYING)
    page.goto(proof)
    card = page.get_by_role("listitem").filter(has=page.get_by_text("knee", exact=True))
    expect(card.first).to_contain_text("without /k/")
    page.close()


def test_everything_is_heard_one_after_the_other(browser: Browser, proof: str) -> None:
    page = browser.new_page(viewport=LYING)
    page.goto(proof)
    page.get_by_role("button", name="Hear everything").click()
    expect(page.locator(".playing audio").first).to_have_attribute("aria-label", "kee, natural")
    expect(page.locator(".playing audio").first).to_have_attribute("aria-label", "kah, natural")
    page.get_by_role("button", name="Stop").click()
    expect(page.locator(".playing")).to_have_count(0)
    assert page.evaluate("[...document.querySelectorAll('audio')].every(a => a.paused)")
    page.close()


def test_what_was_cut_is_heard_on_the_proof_then_used(
    browser: Browser, tmp_path: Path, stock: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    takes = clinic(tmp_path, MASTERED) / "takes"
    copy_stock(stock, tmp_path)
    said = read(ListRecording(31, ""), OUT_OF_ORDER).samples(snr=50)
    quiet_room = echoing(said, RATE, NEAR, 31)
    (tmp_path / "reading.wav").write_bytes(wav(quiet_room, RATE))
    monkeypatch.chdir(tmp_path)
    assert main(["split", FILE, "reading.wav"]) == 0
    assert main(["proof", FILE, "--quiet"]) == 0
    page = browser.new_page(viewport=LYING)
    page.goto((tmp_path / "proof" / "finch-10" / "index.html").as_uri())
    expect(page.get_by_text("3 recordings cut from a long one are not used yet")).to_be_visible()
    expect(page.get_by_text("camel.wav is not used: the cut is doubtful")).to_be_visible()
    expect(page.get_by_text("It was said out of order.")).to_be_visible()
    for word in (*WORDS, "camel"):
        cut = page.get_by_label(f"{word}, {word}.wav, not used", exact=True)
        assert cut.evaluate("async a => { await a.play(); return a.duration }") > 0.3
    page.close()
    doubtful = takes / "doubtful" / "camel.wav"
    assert doubtful.exists()
    assert list(takes.glob("*.wav")) == []
    assert main(["proof", FILE, "--heard"]) == 0
    assert doubtful.exists()
    assert main(["proof", FILE, "--heard", "--right", "camel"]) == 0
    (checked,) = map(pipeline.check_client, clients([Path(FILE)]))
    used = {asked.stem for asked, found in checked.survey.takes.items() if found[0].usable}
    assert used == {*WORDS, "camel"}
