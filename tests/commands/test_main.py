"""The commands as a therapist types them: what is printed, the exit code, and never a traceback."""

from __future__ import annotations

import json
import os
import re
import shutil
from html import unescape
from pathlib import Path

import pytest
import soundfile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builder.__main__ import COMMANDS, main
from builder.commands.serve_command import _again, _without_removed
from builder.problems import UsageError
from tests.support.clinics import PROGRAM, clinic
from tests.support.degraded import recorded
from tests.support.places import EXAMPLES, ROOT
from tests.support.stock import copy_stock

pytestmark = pytest.mark.slow


@pytest.fixture
def programs(tmp_path: Path, stock: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clinic's folder with one program, as the current folder."""
    folder = clinic(tmp_path)
    copy_stock(stock, tmp_path)
    monkeypatch.chdir(tmp_path)
    return folder


def test_a_good_program(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "programs/finch-10.yaml"]) == 0
    said = capsys.readouterr().out
    assert (
        "finch-10: a sitting has 30 tries, about 5 minutes (10 planned); 300 tries a week" in said
    )
    assert "/k/: now 'words', tries of a sitting: 30" in said
    assert "0 faults, 0 pieces of advice, 0 accepted" in said


def test_findings_as_json(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(file.read_text().replace("comb", "knee"))
    assert main(["check", "--json", str(file)]) == 1
    (found,) = json.loads(capsys.readouterr().out)
    assert (found["rule"], found["degree"], found["line"]) == ("no-target", "fault", 10)


@pytest.mark.parametrize(
    ("argv", "code"),
    [
        (["check", "programs/nobody.yaml"], 2),
        (["check", "programs"], 2),
        (["check", "finch-11"], 2),
        (["check", "finch-10"], 0),
        (["check"], 0),
        (["check", "programs/clinic.yaml"], 2),
        (["check", "programs/clinic.yaml", "programs/finch-10.yaml"], 0),
        (["build", "programs/nobody.yaml"], 2),
        (["new", "Anna", "--like", "finch-10"], 2),
        (["new", "wren-11", "--like", "owl-01"], 2),
        (["new", "finch-10", "--like", "finch-10"], 2),
        (["schema", "--to", "nowhere"], 2),
        (["rules"], 0),
    ],
)
def test_exit_codes(
    programs: Path, capsys: pytest.CaptureFixture[str], argv: list[str], code: int
) -> None:
    assert main(argv) == code
    assert ("practice-site: " in capsys.readouterr().err) == (code == 2)


@pytest.mark.parametrize("argv", [["chek"], ["split"], ["serve", "x", "--port", "many"]])
def test_misused_commands(argv: list[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(argv)
    assert stop.value.code == 2


def test_a_fault_keeps_the_old_site(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = programs / "finch-10.yaml"
    assert main(["build", str(file)]) == 0
    (site,) = [p for p in Path("public").iterdir() if p.is_dir()]
    before = sorted((f, f.stat().st_mtime_ns) for f in site.rglob("*"))
    file.write_text(file.read_text().replace("comb", "knee"))
    assert main(["build", str(file)]) == 1
    assert "without /k/" in capsys.readouterr().err
    assert sorted((f, f.stat().st_mtime_ns) for f in site.rglob("*")) == before


def test_a_first_build_that_ends_with_a_fault_stands_in_no_later_one_s_way(programs: Path) -> None:
    text = (programs / "finch-10.yaml").read_text()
    (programs / "finch-10.yaml").write_text(f"{text}bogus: 1\n")
    assert main(["build"]) == 1
    (programs / "finch-10.yaml").write_text(text)
    assert main(["build"]) == 0


def test_build_writes_whole_sites_and_then_nothing(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["build", "programs/finch-10.yaml"]) == 0
    (site,) = [p for p in Path("public").iterdir() if p.is_dir()]
    assert len(site.name) == 13
    names = {str(f.relative_to(site)) for f in site.rglob("*") if f.is_file()}
    assert {"index.html", "k-words/index.html", "codes/site.svg", "practice.json"} <= names
    assert not {n for n in names if "sitemap" in n or n.endswith(".map") or "two-words" in n}
    assert (Path("public") / "robots.txt").read_text().endswith("Disallow: /\n")
    capsys.readouterr()
    assert main(["build", "programs/finch-10.yaml"]) == 0
    assert capsys.readouterr().out.startswith("nothing changed: ")


def test_a_step_that_is_gone_leads_to_todays_page(programs: Path) -> None:
    file = programs / "finch-10.yaml"
    text = file.read_text()
    assert main(["build", str(file)]) == 0
    file.write_text(
        text.replace("name: words", "name: first words").replace(
            "current: words", "current: first words"
        )
    )
    assert main(["build", str(file)]) == 0
    (old,) = Path("public").glob("*/k-words/index.html")
    assert 'href="../"' in old.read_text()
    assert list(Path("public").glob("*/k-first-words/index.html"))


def test_every_published_plan_is_kept_by_its_hash(programs: Path) -> None:
    """Records name it; the hash is that of the plan as published, wherever the clinic lies."""
    file = programs / "finch-10.yaml"
    assert main(["build", str(file)]) == 0
    assert main(["build", str(file.resolve()), "--out", "elsewhere"]) == 0
    marks = [json.loads(f.read_text()) for f in Path().glob("*/*/practice.json")]
    digests = {mark["plan"] for mark in marks}
    assert (len(marks), len(digests)) == (2, 1)
    file.write_text(file.read_text().replace("coin]", "cage]"))
    assert main(["build", str(file)]) == 0
    views = {f.stem: f.read_text() for f in Path(".practice/views").rglob("*.json")}
    assert digests < views.keys()
    assert len(views) == 2
    assert [("cage" in text, "coin" in text) for _, text in sorted(views.items())].count(
        (True, True)
    ) == 0


def test_the_clinics_telephone_number_is_no_part_of_the_plan(programs: Path) -> None:
    file, clinic_file = "programs/finch-10.yaml", programs / "clinic.yaml"
    assert main(["build", file]) == 0
    (mark,) = Path("public").glob("*/practice.json")
    before = mark.read_text()
    clinic_file.write_text(clinic_file.read_text().replace("555-0100", "555-0199"))
    assert main(["build", file]) == 0
    assert mark.read_text() == before
    (page,) = Path("public").glob("*/about/index.html")
    assert "555-0199" in page.read_text()


def test_nothing_private_is_published(programs: Path) -> None:
    assert main(["build", "programs/finch-10.yaml"]) == 0
    for file in Path("public").rglob("*"):
        if file.suffix in (".html", ".json", ".svg"):
            text = file.read_text("utf-8")
            assert "2026-1" not in text, file
            assert str(programs) not in text, file
            assert "18 of 20" not in text, file


def test_sheets_do_not_go_into_the_published_folder(programs: Path) -> None:
    assert main(["print", "programs/finch-10.yaml", "--to", "public/sheets"]) == 2
    assert not Path("public").exists()


def test_the_next_client(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "wren-11", "--like", "finch-10"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "client: wren-11" in text
    assert main(["check", "programs/wren-11.yaml"]) == 1
    assert "`age` is still to be filled in" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("finch-11", "finch-10 has the same animal"),
        ("tapir-11", "there is no drawing of the animal 'tapir'"),
        ("wren-11", ""),
    ],
)
def test_the_next_clients_animal(
    programs: Path, capsys: pytest.CaptureFixture[str], code: str, told: str
) -> None:
    assert main(["new", code, "--like", "finch-10"]) == 0
    said = capsys.readouterr().err
    assert told in said if told else said == ""


def test_proof_shows_faults_and_says_so(programs: Path) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(file.read_text().replace("comb", "knee"))
    assert main(["proof", str(file), "--quiet"]) == 1
    html = (Path("proof") / "finch-10" / "index.html").read_text()
    assert "without /k/" in html
    assert html.count("<audio") > 4


NASTY = [
    '"',
    "'",
    "<script>alert(1)</script>",
    "😀",
    "שלום",
    "`code`",
    "{{ x }}",
    "{% x %}",
    "# h",
    "&amp;",
    "</script>",
    "\\",
    "$x$",
    "*a*",
    "](x)",
]


def test_any_word_is_shown_as_text(programs: Path) -> None:
    nasty = ", ".join(f"{{word: {json.dumps(w, ensure_ascii=False)}, say: koʊm}}" for w in NASTY)
    text = PROGRAM.replace("comb", nasty)
    (programs / "finch-10.yaml").write_text(text, "utf-8")
    assert main(["build", "programs/finch-10.yaml"]) == 0
    (page,) = Path("public").glob("*/k-words/index.html")
    html = page.read_text("utf-8")
    assert "<script>alert" not in html
    assert set(NASTY) <= shown(html)


def shown(html: str) -> set[str]:
    """The texts of a page's words, as a reader sees them."""
    spans = re.findall(r'<span class="word"[^>]*>(.*?)</span>(?=\s*<)', html, re.DOTALL)
    return {unescape(re.sub(r"</?span[^>]*>", "", span)) for span in spans}


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=st.text(max_size=200))
def test_any_text_gives_findings_never_a_traceback(
    programs: Path, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    file = programs / "any.yaml"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    assert main(["check", str(file)]) == 1
    assert "any.yaml" in capsys.readouterr().out


def test_the_second_build_of_all_files_has_nothing_to_do(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    both = ["programs/clinic.yaml", "programs/finch-10.yaml"]
    assert main(["build", *both]) == 0
    assert main(["build", *both]) == 0
    assert "nothing changed" in capsys.readouterr().out
    (clip, *_) = Path("public").glob("*/clips/*.mp3")
    clip.unlink()
    assert main(["build", *both]) == 0
    assert clip.is_file()


def test_a_proof_never_replaces_what_is_not_a_proof(programs: Path) -> None:
    (programs / "finch-10").mkdir()
    (programs / "finch-10" / "key.svg").write_bytes((EXAMPLES / "heron-07/comb.svg").read_bytes())
    assert main(["proof", "programs/finch-10.yaml", "--quiet", "--to", "programs"]) == 2
    assert (programs / "finch-10" / "key.svg").is_file()


def test_proof_and_clips_need_no_secret(programs: Path) -> None:
    assert main(["proof", "programs/finch-10.yaml", "--quiet"]) == 0
    assert main(["clips", "programs/finch-10.yaml"]) == 0
    assert not Path(".practice/secret").exists()


def test_another_computers_secret_changes_no_address(
    programs: Path, stock: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["build", "programs/finch-10.yaml"]) == 0
    before = sorted(Path("public").rglob("*"))
    shutil.rmtree(".practice")  # as on a new computer
    copy_stock(stock, Path())
    assert main(["build", "programs/finch-10.yaml", "--out", "demo/public"]) == 0
    capsys.readouterr()
    assert main(["build", "programs/finch-10.yaml"]) == 2
    assert "made with another secret" in capsys.readouterr().err
    assert sorted(Path("public").rglob("*")) == before


def outside_practice() -> list[Path]:
    """All files and folders but those in .practice."""
    return [path for path in sorted(Path().rglob("*")) if ".practice" not in path.parts]


@pytest.mark.parametrize("out", [".", "programs", "website"])
def test_only_a_folder_for_sites_alone_is_published_into(
    programs: Path, capsys: pytest.CaptureFixture[str], out: str
) -> None:
    Path("website").mkdir()
    Path("website/index.html").write_text("welcome")
    before = outside_practice()
    assert main(["build", "programs/finch-10.yaml", "--out", out]) == 2
    assert "Choose a folder for the sites alone" in capsys.readouterr().err
    assert outside_practice() == before
    assert Path("website/index.html").read_text() == "welcome"


def test_what_cannot_be_remembered_is_not_published(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    in_the_way = Path(f".practice/stamps.json.{os.getpid()}")
    in_the_way.mkdir(parents=True)  # as where .practice is read-only
    assert main(["build", "programs/finch-10.yaml"]) == 2
    assert "stamps.json" in capsys.readouterr().err
    assert not Path("public").exists()


def test_a_secret_that_others_can_read_is_remarked_upon(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path(".practice").chmod(0o755)
    Path(".practice/secret").write_text("ab" * 32)
    Path(".practice/secret").chmod(0o644)
    assert main(["build", "programs/finch-10.yaml"]) == 0
    said = capsys.readouterr().err
    assert "other users of this computer can read the secret" in said
    assert f"`chmod 700 {Path.cwd() / '.practice'}`.\n" in said


def test_a_clients_site_is_removed(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "programs/finch-10.yaml"]) == 0
    capsys.readouterr()
    assert main(["remove", "finch-10"]) == 0
    said = capsys.readouterr().out
    assert "Its program is still programs/finch-10.yaml: delete or move it, else the next" in said
    assert not list(Path("public").glob("*/practice.json"))
    file = Path("programs/finch-10.yaml")
    with pytest.raises(UsageError, match="all sites were removed"):
        _without_removed([file], Path("public"))
    _again([file], Path("public"), every=True)  # as while others are edited
    assert not list(Path("public").glob("*/practice.json"))
    assert main(["remove", "finch-10"]) == 2
    assert main(["build", "programs/finch-10.yaml"]) == 0
    assert _without_removed([file], Path("public")) == [file]


def test_a_site_is_removed_wherever_it_can_be_built(
    programs: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path_factory.mktemp("outside") / "public"
    assert main(["build", "programs/finch-10.yaml", "--out", str(out)]) == 0
    assert main(["remove", "finch-10", "--out", str(out)]) == 0
    assert not list(out.glob("*/practice.json"))
    assert main(["build", "programs/finch-10.yaml"]) == 0
    inside = Path("public").resolve()
    monkeypatch.chdir(out.parent)  # outside, with the sites inside
    assert main(["remove", "finch-10", "--out", str(inside)]) == 0


def test_a_recording_that_is_none_is_told_by_the_check(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    takes = programs / "takes"
    takes.mkdir()
    (takes / "comb.wav").write_bytes(b"")
    (takes / "kee.wav").write_bytes(b"")
    assert main(["check", "programs/finch-10.yaml"]) == 0
    said = capsys.readouterr().out
    assert "Recording `comb.wav` is not used." in said
    assert "the file is empty; record it again" in said


def test_one_clients_faults_stop_no_other_when_all_are_meant(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (programs / "wren-11.yaml").write_text(
        PROGRAM.replace("finch-10", "wren-11").replace("age: 7", "age: fill-in")
    )
    wrong = PROGRAM.replace("finch-10", "lark-12").replace("comb", "knee")
    answered = "cues: {tongue: Emma goes up.}\nbecause: {name: Emma is a doll}\n"
    (programs / "lark-12.yaml").write_text(wrong + answered)
    for command in ("build", "print", "clips"):
        assert main([command]) == 1
        said = capsys.readouterr()
        assert "finch-10" in said.out
        assert "wren-11" not in said.out
        assert "wren-11.yaml:3:6: fault: `age` is still to be filled in" in said.err
        assert "lark-12.yaml:10:24: fault:" in said.err
        assert "Emma" not in said.err, "what is answered keeps nobody back"
        assert "left as it is" in said.err
    sheets = ["finch-10 2026-12-07.pdf", "list for the desk.pdf", "sheets to print.pdf"]
    assert sorted(file.name for file in Path("desk").iterdir()) == sheets
    assert len(list(Path("public").glob("*/practice.json"))) == 1
    assert main(["check"]) == 1
    said = capsys.readouterr()
    assert "/k/: now" in said.out
    assert "`age` is still to be filled in" in said.out
    assert main(["proof", "--quiet"]) == 1
    capsys.readouterr()
    assert sorted(one.name for one in Path("proof").iterdir()) == ["finch-10", "lark-12"]
    assert main(["build", "finch-10", "lark-12"]) == 1
    assert "left as it is" not in capsys.readouterr().err


def test_a_check_leaves_no_trace(programs: Path) -> None:
    shutil.rmtree(programs.parent / ".practice")
    (programs / "takes").mkdir()
    said = recorded("comb", "K")
    soundfile.write(programs / "takes" / "comb.wav", said.samples, said.rate)
    (programs / "finch-10").mkdir()
    shutil.copy(EXAMPLES / "heron-07/comb.svg", programs / "finch-10")
    before = sorted(programs.parent.rglob("*"))
    assert main(["check", "programs/finch-10.yaml"]) == 0
    assert sorted(programs.parent.rglob("*")) == before


@pytest.mark.parametrize("error", ["t", "lateral"])
def test_a_recorded_wrong_example_is_heard_on_the_page_of_the_helper(
    programs: Path, capsys: pytest.CaptureFixture[str], error: str
) -> None:
    file = programs / "finch-10.yaml"
    file.write_text(file.read_text("utf-8").replace("sound: k", f"sound: k\nerror: {error}"))
    folder = programs / "takes" / "wrong" / error
    folder.mkdir(parents=True)
    said = recorded("toe", "T")
    soundfile.write(folder / "cow.wav", said.samples, said.rate)
    assert main(["build", str(file)]) == 0
    capsys.readouterr()
    assert main(["clips", str(file), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    (mine,) = [row for row in rows if row["error"] and row["voice"] == "recorded"]
    assert mine["text"] == "cow"
    pages = [p for p in Path("public").rglob("*.html") if Path(mine["file"]).name in p.read_text()]
    assert len(pages) == 1
    assert "helper" in pages[0].parent.name


def test_the_readme_lists_every_command() -> None:
    rows = [line for line in (ROOT / "README.md").read_text("utf-8").splitlines() if "|" in line]
    listed = {name for row in rows for name in re.findall(r"`practice-site (\w+)", row)}
    assert set(COMMANDS) <= listed
