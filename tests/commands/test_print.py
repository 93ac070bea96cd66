"""The front desk's folder, as the desk meets it: twelve clients of one week."""

from __future__ import annotations

import datetime
import os
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pypdfium2 as pdfium
import pytest
import zxingcpp

from builder.__main__ import main
from builder.phonetics.lexicon.index import Index
from builder.wordbank import suggest
from tests.support.clinics import PROGRAM, clinic
from tests.support.stock import copy_stock
from tests.support.wordbank_index import few, many

pytestmark = pytest.mark.slow

PDFIUM: Any = pdfium  # it has no types
NAMES = "otter heron wren fox owl badger bear duck frog goat horse koala"
CODES = sorted(f"{animal}-{number:02}" for number, animal in enumerate(NAMES.split(), 1))
BOUND, LIST = Path("desk/sheets to print.pdf"), Path("desk/list for the desk.pdf")
DAY = "2026-12-07"
QR = zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])


@pytest.fixture
def programs(tmp_path: Path, stock: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = clinic(tmp_path)
    copy_stock(stock, tmp_path)
    monkeypatch.chdir(tmp_path)
    (folder / "finch-10.yaml").unlink()
    return folder


def client(programs: Path, code: str, **changed: str) -> None:
    text = PROGRAM.replace("finch-10", code)
    for old, new in changed.items():
        text = text.replace({"start": DAY, "visit": "2026-12-14", "word": "coin"}[old], new)
    (programs / f"{code}.yaml").write_text(text)


def later(monkeypatch: pytest.MonkeyPatch, day: str) -> None:
    noon = datetime.datetime.fromisoformat(f"{day}T12:00+00:00")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(noon.timestamp())))


def pages(file: Path) -> list[str]:
    return [page.get_textpage().get_text_range() for page in PDFIUM.PdfDocument(file)]


def marks(file: Path) -> dict[str, int]:
    toc = PDFIUM.PdfDocument(file).get_toc()
    return {mark.get_title(): mark.get_dest().get_index() for mark in toc}


def test_twelve_clients_of_one_week(programs: Path) -> None:
    """A sheet could reach the wrong child by the back of another one's leaf, by a code or an
    address that is not its own, by a list in another order. None does."""
    for code in CODES:
        client(programs, code)
    assert main(["print"]) == 0
    files = {file.name for file in Path("desk").iterdir()}
    assert files == {BOUND.name, LIST.name, *(f"{code} {DAY}.pdf" for code in CODES)}
    texts, starts = pages(BOUND), marks(BOUND)
    assert list(starts) == CODES
    assert all(start % 2 == 0 for start in starts.values()), "the front of a leaf"
    ends = [*list(starts.values())[1:], len(texts)]
    bound, addresses = PDFIUM.PdfDocument(BOUND), set()
    for (code, start), end in zip(starts.items(), ends, strict=True):
        for text in filter(None, texts[start:end]):
            assert [one for one in CODES if one in text] == [code]
        image = bound[start].render(scale=2).to_pil().convert("L")
        (found,) = zxingcpp.read_barcodes(image)
        single = PDFIUM.PdfDocument(f"desk/{code} {DAY}.pdf")[0].render(scale=2).to_pil()
        (own,) = zxingcpp.read_barcodes(single.convert("L"), formats=QR)
        assert found.text == own.text
        addresses.add(found.text)
    assert len(addresses) == len(CODES)
    listed = "".join(pages(LIST)).replace("\u00a0", " ")
    assert sorted(CODES, key=listed.index) == CODES
    assert listed.count("/k/") == listed.count("key · cow") == len(CODES)


def test_a_sheet_is_named_by_its_first_box(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # By a printed calendar: 5 December 2026 is a Saturday.
    client(programs, "otter-01", start="2026-12-05")
    assert main(["print"]) == 0
    front = pages(Path("desk", f"otter-01 {DAY}.pdf"))[0]
    assert "December 7, 2026" in front
    assert "December 5" not in front + pages(LIST)[0]
    assert "December 7" in pages(LIST)[0]


def test_what_did_not_change_is_not_made_again(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for code in ("otter-01", "heron-02"):
        client(programs, code)
    assert main(["print"]) == 0
    files = [Path("desk", f"{code} {DAY}.pdf") for code in ("otter-01", "heron-02")]
    before = [(file.stat().st_mtime_ns, file.read_bytes()) for file in files]
    bound = BOUND.read_bytes()
    later(monkeypatch, "2026-12-08")
    assert main(["print"]) == 0
    assert "as before: 2 sheets" in capsys.readouterr().out
    assert [(file.stat().st_mtime_ns, file.read_bytes()) for file in files] == before
    assert BOUND.read_bytes() == bound, "nobody took it away: all of it still waits"
    BOUND.unlink()
    assert main(["print"]) == 0
    assert not BOUND.exists()
    client(programs, "heron-02", word="cane")
    assert main(["print"]) == 0
    assert marks(BOUND) == {"heron-02": 0}
    assert "otter-01" not in "".join(pages(LIST))
    assert "December 8" in "".join(pages(files[1]))


def test_what_waits_is_bound_anew_with_what_changed_since(programs: Path) -> None:
    for code in ("otter-01", "heron-02"):
        client(programs, code)
    assert main(["print"]) == 0
    client(programs, "heron-02", word="cane")
    assert main(["print", "otter-01"]) == 0
    assert list(marks(BOUND)) == ["heron-02", "otter-01"]
    assert "cane" in "".join(pages(BOUND)), "the bound file holds no sheet that is out of date"
    assert "cane" in "".join(pages(Path("desk", f"heron-02 {DAY}.pdf")))


def test_no_sheet_runs_ahead_of_a_site_that_nobody_named(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for code in ("otter-01", "heron-02"):
        client(programs, code)
    assert main(["build"]) == 0
    assert main(["print"]) == 0
    sheet = Path("desk", f"heron-02 {DAY}.pdf")
    before = sheet.read_bytes()
    client(programs, "heron-02", word="cane")
    capsys.readouterr()
    assert main(["print", "otter-01"]) == 0
    assert "heron-02: changed since its site was built" in capsys.readouterr().err
    assert list(marks(BOUND)) == ["otter-01"]
    assert sheet.read_bytes() == before
    client(programs, "heron-02")  # as it was: its sheet is right again, and still to be printed
    assert main(["print", "otter-01"]) == 0
    assert list(marks(BOUND)) == ["heron-02", "otter-01"]


def test_a_sheet_of_other_days_goes(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    client(programs, "otter-01")
    assert main(["print"]) == 0
    Path("desk/notes of ours.pdf").touch()
    Path("desk/otter-01 2026-11-02.pdf").touch()
    client(programs, "otter-01", start="2026-12-09")
    assert main(["print"]) == 0
    assert "out of date" in capsys.readouterr().out
    files = {file.name for file in Path("desk").iterdir()}
    assert files == {BOUND.name, LIST.name, "otter-01 2026-12-09.pdf", "notes of ours.pdf"}
    (programs / "otter-01.yaml").unlink()
    client(programs, "heron-02")
    assert main(["print"]) == 0
    assert not Path("desk/otter-01 2026-12-09.pdf").exists()
    assert list(marks(BOUND)) == ["heron-02"]


def the_visit_of_one_is_over(programs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of otter-01; that of heron-02 is to come."""
    client(programs, "otter-01")
    client(programs, "heron-02", visit="2026-12-21")
    assert main(["print"]) == 0
    later(monkeypatch, "2026-12-15")


def test_a_visit_that_is_past_has_no_sheet(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    the_visit_of_one_is_over(programs, monkeypatch)
    assert main(["print"]) == 1
    said = capsys.readouterr().err
    assert "The visit (2026-12-14) is past" in said
    assert "left as it was" not in said
    assert {f.name for f in Path("desk").iterdir()} == {
        BOUND.name,
        LIST.name,
        f"heron-02 {DAY}.pdf",
    }
    assert list(marks(BOUND)) == ["heron-02"]


def test_of_who_was_not_named_a_past_visit_is_no_failure(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    the_visit_of_one_is_over(programs, monkeypatch)
    assert main(["print", "heron-02"]) == 0
    assert "is past" not in capsys.readouterr().err
    assert list(marks(BOUND)) == ["heron-02"]
    client(programs, "heron-02", visit="2026-12-21", word="tea")
    client(programs, "wren-03", visit="2026-12-21")
    assert main(["print", "wren-03"]) == 0  # a fault of heron-02 is told, and keeps it alone back
    assert "heron-02.yaml" in capsys.readouterr().err
    assert main(["print", "heron-02"]) == 1


def test_what_was_asked_for_comes_again_with_the_sheet_after_a_visit(
    programs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    client(programs, "otter-01")
    assert main(["print", "--also", "guide"]) == 0
    later(monkeypatch, "2026-12-15")
    assert main(["print"]) == 1
    assert list(Path("desk").glob("otter-01*")) == []
    client(programs, "otter-01", start="2026-12-16", visit="2026-12-21")
    assert main(["print"]) == 0
    assert Path("desk/otter-01 2026-12-16 guide.pdf").is_file()
    Path("desk/otter-01 2026-12-16 guide.pdf").unlink()
    assert main(["print"]) == 0
    assert len(list(Path("desk").glob("otter-01*"))) == 1


@pytest.mark.parametrize(
    "damage",
    ["not JSON", "[]", '{"FOLDER": {"otter-01": {"file": "../../x.pdf"}}}', '{"FOLDER": 7}'],
)
def test_a_damaged_memory_costs_paper_only(programs: Path, damage: str) -> None:
    client(programs, "otter-01")
    assert main(["print"]) == 0
    whole = BOUND.read_bytes()
    file = Path(".practice/desk.json")
    file.write_text(damage.replace("FOLDER", os.fspath(Path("desk").resolve())))
    BOUND.unlink()
    assert main(["print"]) == 0
    assert BOUND.read_bytes() == whole, "same input and day, same bytes"


GUIDE, SCORE = f"otter-01 {DAY} guide.pdf", f"otter-01 {DAY} score.pdf"
PROBES = ("kettle", "cable", "cube")  # our own


@pytest.fixture
def no_index(monkeypatch: pytest.MonkeyPatch) -> None:
    """A word bank of few words, none of which is made for seconds."""
    offers = [SimpleNamespace(word=word, two_ways=False) for word in PROBES]
    monkeypatch.setattr(Index, "open", lambda *_: few())
    monkeypatch.setattr(suggest, "probes", lambda *asked: offers)


@pytest.mark.usefixtures("no_index")
def test_what_is_asked_for_lies_beside_the_sheet_and_is_kept_up_to_date(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    client(programs, "otter-01")
    client(programs, "heron-02")
    assert main(["print"]) == 0
    bound = BOUND.read_bytes()
    assert main(["print", "otter-01", "--also", "score,guide"]) == 0
    names = {file.name for file in Path("desk").iterdir()}
    assert {GUIDE, SCORE} <= names
    assert not any("heron-02" in name and "guide" in name for name in names)
    assert BOUND.read_bytes() == bound, "a score sheet is not for families"
    text = "".join(pages(Path("desk", SCORE)))
    assert all(word in text for word in PROBES)
    before = Path("desk", GUIDE).stat().st_mtime_ns
    capsys.readouterr()
    assert main(["print"]) == 0
    assert "guide" not in capsys.readouterr().out
    assert Path("desk", GUIDE).stat().st_mtime_ns == before
    Path("desk", SCORE).unlink()
    client(programs, "otter-01", start="2026-12-09", word="cane")
    assert main(["print"]) == 0
    names = {file.name for file in Path("desk").iterdir()}
    assert "otter-01 2026-12-09 guide.pdf" in names
    assert not names & {GUIDE, SCORE}, "a file of other days goes, and what was deleted stays away"
    (programs / "otter-01.yaml").unlink()
    assert main(["print"]) == 0
    assert not [file for file in Path("desk").iterdir() if "otter-01" in file.name]


@pytest.mark.usefixtures("no_index")
def test_what_is_made_after_the_sheets_are_taken_is_listed(programs: Path) -> None:
    for code in CODES[:3]:
        client(programs, code)
    assert main(["print"]) == 0
    BOUND.unlink()  # it is printed
    assert main(["print", CODES[0], "--also", "guide,score"]) == 0
    assert not BOUND.exists()
    (listed,) = pages(LIST)
    assert "New in the folder, to print from there: guide, score sheet" in listed
    assert [code in listed for code in CODES[:3]] == [True, False, False]
    assert main(["print", CODES[1], "--also", "school"]) == 0
    (listed,) = pages(LIST)
    assert [code in listed for code in CODES[:3]] == [True, True, False], "nobody took the first"
    LIST.unlink()  # all of it is handed over
    assert main(["print"]) == 0
    assert not LIST.exists(), "nothing is new"
    assert main(["print", CODES[2], "--also", "guide"]) == 0
    (listed,) = pages(LIST)
    assert [code in listed for code in CODES[:3]] == [False, False, True]


def test_what_makes_no_sense_for_a_client_is_told(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    client(programs, "otter-01")
    file = programs / "otter-01.yaml"
    file.write_text(file.read_text() + "helper: self\n")
    assert main(["print", "--also", "school"]) == 0
    assert "otter-01: no school: the client practices alone" in capsys.readouterr().out
    assert not [file for file in Path("desk").iterdir() if "school" in file.name]


def test_each_who_listens_has_a_sheet_of_its_own(programs: Path) -> None:
    """Role words alone: no sheet tells where a child lives, or at which school it is."""
    client(programs, "otter-01")
    file = programs / "otter-01.yaml"
    file.write_text(file.read_text() + "helper: [home, other home, school]\n")
    client(programs, "heron-02")
    assert main(["print"]) == 0
    found = [text for text in pages(Path(f"desk/otter-01 {DAY}.pdf")) if text]
    titles = ("Practice at home", "Practice at the other home", "Practice at school")
    fronts = [text for text in found if "One box for each practice" in text]
    assert [next(line for line in titles if line in text) for text in fronts] == list(titles)
    assert all("Each place has its own sheet." in text for text in fronts)
    chosen = [text.replace("\r\n", " ") for text in fronts]
    assert "Show at the visit" not in chosen[0], "a tablet takes the first one for granted"
    assert "choose “At the other home”" in chosen[1]
    assert "choose “At school”" in chosen[2]
    assert "Who listened" not in "".join(found), "the head says it"
    assert "Who listened" in "".join(pages(Path(f"desk/heron-02 {DAY}.pdf")))
    assert "3 sheets: home, other home, school" in "".join(pages(LIST)).replace("\r\n", " ")
    assert list(marks(BOUND)) == ["heron-02", "otter-01"]


def test_the_desk_reads_the_names_of_languages(programs: Path) -> None:
    """Not their BCP 47 codes, which only a computer needs."""
    client(programs, "otter-01")
    file = programs / "otter-01.yaml"
    file.write_text(file.read_text() + "interface: [en, es]\n")
    assert main(["print"]) == 0
    assert "2 sheets: English, Español" in "".join(pages(LIST))


@pytest.mark.parametrize("typed", ["guides", ""])
def test_another_kind_is_refused(
    programs: Path, typed: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["print", "--also", typed])
    assert "guide, cards, score, school or group" in capsys.readouterr().err


def test_a_sheet_that_is_gone_is_made_again(programs: Path) -> None:
    client(programs, "otter-01")
    assert main(["print"]) == 0
    BOUND.unlink()
    Path(f"desk/otter-01 {DAY}.pdf").unlink()
    assert main(["print"]) == 0
    assert Path(f"desk/otter-01 {DAY}.pdf").is_file()
    assert list(marks(BOUND)) == ["otter-01"]


def test_a_sheet_that_the_site_does_not_match_is_told(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    client(programs, "otter-01")
    assert main(["print"]) == 0
    told = capsys.readouterr().err
    assert "the code on its sheet leads nowhere: `practice-site build otter-01`" in told
    assert main(["build"]) == 0
    capsys.readouterr()
    assert main(["print"]) == 0
    assert capsys.readouterr().err == ""
    client(programs, "otter-01", word="cane")
    assert main(["print"]) == 0
    assert "otter-01: the site is older than this sheet: `practice-site build otter-01`" in (
        capsys.readouterr().err
    )


def test_the_sheets_go_with_the_site(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for code in ("otter-01", "heron-02"):
        client(programs, code)
    assert main(["build"]) == 0
    assert main(["print"]) == 0
    capsys.readouterr()
    assert main(["remove", "otter-01"]) == 0
    said = capsys.readouterr().out
    assert "sheets to print.pdf: the sheet of otter-01 is still in" in said
    assert "list for the desk.pdf: otter-01 is still on this list" in said
    assert "otter-01" not in Path(".practice/desk.json").read_text()
    assert not Path(f"desk/otter-01 {DAY}.pdf").exists()
    assert main(["print"]) == 0
    assert "otter-01: its site was removed" in capsys.readouterr().out
    assert list(marks(BOUND)) == ["heron-02"]
    (programs / "otter-01.yaml").unlink()
    assert main(["print"]) == 0
    assert list(marks(BOUND)) == ["heron-02"]


def test_the_list_says_what_the_sheet_says(programs: Path) -> None:
    """Words in the order of the sheet, dates in its form, the day, what else lies there."""
    client(programs, "otter-01")
    file = programs / "otter-01.yaml"
    file.write_text(file.read_text().replace("[key, cow,", "[keep, cow,"))
    assert main(["print", "--also", "guide"]) == 0
    listed = " ".join("".join(pages(LIST)).split())
    sheet = pages(Path("desk", f"otter-01 {DAY}.pdf"))[0]
    assert sheet.rindex("cow") < sheet.rindex("cup") < sheet.rindex("keep")
    assert "cow · cup" in listed.replace("\u00a0", " ")
    assert "December 7, 2026" in listed
    assert "December 14, 2026" in listed
    assert "Printed on " in listed
    assert "Also in the folder: guide" in listed


TURNS = Path("desk/group tuesday.pdf")


def grouped(programs: Path, *codes: str) -> None:
    """A clinic file with these clients in one group."""
    file = programs / "clinic.yaml"
    kept = file.read_text().partition("groups:")[0]
    file.write_text(f"{kept}groups: {{tuesday: [{', '.join(codes)}]}}\n")


def test_who_runs_a_group_has_its_clients_in_turn(
    programs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Index, "open", lambda *_: many())
    codes = ["wren-03", "heron-02", "heron-12"]
    for code in (*codes, "otter-01"):
        client(programs, code)
    grouped(programs, *codes)
    assert main(["print", "tuesday", "--also", "group,score"]) == 0
    made = {file.name for file in Path("desk").glob("*.pdf")}
    assert made == {
        TURNS.name,
        BOUND.name,
        LIST.name,
        *(f"{code} {DAY}{kind}.pdf" for code in codes for kind in ("", " score")),
    }
    (text,) = pages(TURNS)
    heads = [f"{number}. {code}" for number, code in enumerate(codes, 1)]
    assert sorted(heads, key=text.index) == heads
    assert "Same animal as heron-12: see that the page says heron-02." in text
    assert "Same animal as wren-03" not in text
    assert "otter-01" not in text
    page = PDFIUM.PdfDocument(TURNS)[0].render(scale=300 / 72).to_pil().convert("L")
    leads = {code.text for code in zxingcpp.read_barcodes(page)}
    own = {
        code.text
        for name in codes
        for code in zxingcpp.read_barcodes(
            PDFIUM.PdfDocument(f"desk/{name} {DAY}.pdf")[0].render(scale=2).to_pil().convert("L"),
            formats=QR,
        )
    }
    assert leads == own
    assert len(leads) == len(codes)
    scores = ["".join(pages(Path(f"desk/{code} {DAY} score.pdf"))) for code in codes]
    assert all("collar" in text for text in scores), "words that are never practiced"
    bound = "".join(pages(BOUND)) + "".join(pages(LIST))
    assert "tuesday" not in bound, "the list is for whoever runs the sitting alone"


def test_the_list_of_a_group_is_right_or_not_there(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for code in ("wren-03", "heron-02"):
        client(programs, code)
    grouped(programs, "wren-03", "heron-02")
    assert main(["print", "tuesday", "--also", "group"]) == 0
    before = TURNS.read_bytes()
    assert main(["print"]) == 0
    assert TURNS.read_bytes() == before
    client(programs, "wren-03", word="cane")
    assert main(["print"]) == 0
    assert TURNS.is_file(), "all of the group are known in this run"
    client(programs, "wren-03", word="can")
    assert main(["print", "wren-03"]) == 0
    assert TURNS.is_file(), "who waits in the bound file is known as well"
    BOUND.unlink()
    client(programs, "wren-03", word="cone")
    capsys.readouterr()
    assert main(["print", "wren-03"]) == 0
    assert "group tuesday.pdf: deleted, since it is out of date" in capsys.readouterr().out
    assert not TURNS.exists()


def test_a_list_of_no_group_is_refused(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    client(programs, "wren-03")
    for names in ([], ["wren-03"]):
        assert main(["print", *names, "--also", "group"]) == 2
        assert "Name the group whose list is asked for" in capsys.readouterr().err
    assert not Path("desk").exists()


def test_the_list_of_a_group_goes_with_a_site_on_it(programs: Path) -> None:
    for code in ("wren-03", "heron-02"):
        client(programs, code)
    grouped(programs, "wren-03", "heron-02")
    assert main(["build"]) == 0
    assert main(["print", "tuesday", "--also", "group"]) == 0
    assert main(["remove", "heron-02"]) == 0
    assert not TURNS.exists()


def test_no_site_names_two_clients_of_a_group(programs: Path) -> None:
    for code in ("wren-03", "heron-02"):
        client(programs, code)
    grouped(programs, "wren-03", "heron-02")
    assert main(["build", "tuesday"]) == 0
    sites = [site for site in Path("public").iterdir() if (site / "practice.json").is_file()]
    assert len(sites) == 2
    for site in sites:
        texts = [
            file.read_text("utf-8", errors="replace")
            for file in site.rglob("*")
            if file.suffix in {".html", ".json", ".js", ".txt", ".webmanifest"}
        ]
        assert "tuesday" not in "".join(texts)
        named = {code for code in ("wren-03", "heron-02") if any(code in text for text in texts)}
        assert len(named) == 1
