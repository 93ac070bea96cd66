from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from builder.model.program import Client
from builder.phonetics.lexicon.index import FILE, Index
from builder.survey.collect import survey
from builder.survey.survey import Found
from tests.support.clients import NOTHING, client_of
from tests.support.frequency_index import index_in

TEXT = (
    "sound: k\ncurrent: a\nsteps:\n"
    "  - {name: a, level: word, items: [Key, kiln, keg, kebbo, kites]}\n"
)


@pytest.fixture
def client(tmp_path: Path) -> Client:
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    (tmp_path / "programs").mkdir()
    return replace(client_of(TEXT), folder=str(tmp_path / "programs"))


def test_frequencies_come_from_the_index_of_the_workspace(client: Client, tmp_path: Path) -> None:
    rows = [("key", 5.12, ""), ("kiln", 3.11, ""), ("keg", 0.0, "")]
    forms = [("kites", 2.9, "kite"), ("kite", 3.55, "")]
    index_in(tmp_path / ".practice" / "index", rows + forms)
    assert dict(survey(client).zipf) == {"key": 5.12, "kiln": 3.11, "kites": 3.55}


def test_no_index_is_made_for_a_survey(client: Client, tmp_path: Path) -> None:
    assert survey(client).zipf == {}
    assert not (tmp_path / ".practice").exists()


def test_an_index_of_another_form_is_passed_over_and_let_go(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that stays open cannot be made anew on Windows, and Python 3.13 warns of it."""
    closed: list[Index] = []
    monkeypatch.setattr(Index, "close", lambda index: closed.append(index))
    folder = tmp_path / ".practice" / "index"
    folder.mkdir(parents=True)
    (folder / FILE).write_bytes(b"no index")
    assert survey(client).zipf == {}
    assert len(closed) == 1
    closed[0]._base.close()


def test_outside_a_workspace_nothing_is_known(tmp_path: Path) -> None:
    assert survey(replace(client_of(TEXT), folder=str(tmp_path))).zipf == {}


def test_pictures_that_all_clients_share_come_after_the_clients_own(
    client: Client, tmp_path: Path
) -> None:
    own, shared = (tmp_path / "programs" / name for name in (client.code, "pictures"))
    for folder in (own, shared):
        folder.mkdir()
    for file in (own / "key.jpg", shared / "Key.png", shared / "keg.png"):
        file.write_bytes(b"no picture")
    found = survey(client)
    assert {name: Path(one.path).parent.name for name, one in found.own.items()} == {
        "key.jpg": client.code,
        "keg.png": "pictures",
    }


def test_only_pictures_that_are_shown_are_looked_into(client: Client, tmp_path: Path) -> None:
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    for name in ("keg.png", "holiday.png"):
        (folder / name).write_bytes(b"no picture")
    troubles = {name: bool(found.trouble) for name, found in survey(client).own.items()}
    assert troubles == {"keg.png": True, "holiday.png": False}


def test_a_picture_is_opened_once(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / ".practice").mkdir()
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    Image.new("RGB", (4, 4)).save(folder / "key.png")
    (folder / "keg.png").write_bytes(b"no picture")
    first = survey(client)
    opened: list[str] = []

    def unfit(file: Path) -> str:
        opened.append(file.name)
        return ""

    monkeypatch.setattr("builder.make.pictures.unfit", unfit)
    assert survey(client) == first
    assert opened == []
    Image.new("RGB", (5, 5)).save(folder / "key.png")
    survey(client)
    assert opened == ["key.png"]


def test_the_same_bytes_under_another_ending_are_judged_anew(
    client: Client, tmp_path: Path
) -> None:
    (tmp_path / ".practice").mkdir()
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    Image.new("RGB", (4, 4)).save(folder / "key.png")
    (folder / "keg.svg").write_bytes((folder / "key.png").read_bytes())
    troubles = {name: bool(found.trouble) for name, found in survey(client).own.items()}
    assert troubles == {"key.png": False, "keg.svg": True}


@pytest.mark.parametrize(
    ("name", "given"),
    [("Key.png", ""), ("key.JPG", ""), ("KEY.Jpeg", ""), ("My-Photo.JPG", "my-photo.jpg")],
)
def test_case_of_a_pictures_name_and_ending_does_not_matter(
    client: Client, tmp_path: Path, name: str, given: str
) -> None:
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    (folder / name).write_bytes(b"no picture")
    item = replace(client.programs[0].steps[0].items[0], picture=given)
    found = survey(client).own_picture(item)
    assert found is not None
    assert Path(found.path).name == name


def test_a_picture_in_lower_case_goes_before_one_in_capitals() -> None:
    own = {name: Found(name, "") for name in ("Key.jpg", "key.png", "KEY.png", "Key.png")}
    found = replace(NOTHING, own=own)
    assert found.own_named("key") == Found("key.png", "")


def test_a_name_of_several_words_may_have_blanks(client: Client, tmp_path: Path) -> None:
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    (folder / "Ice Cream.JPG").write_bytes(b"no picture")
    assert survey(client).own_named("ice cream") is not None
    assert survey(client).own_named("ice") is None


def test_what_is_too_large_for_a_picture_is_named_and_not_read(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "programs" / client.code
    folder.mkdir()
    with (folder / "key.png").open("wb") as stream:
        stream.truncate(300_000_000)
    read: list[Path] = []
    monkeypatch.setattr("builder.survey.files.digest_of", read.append)
    found = survey(client).own["key.png"]
    assert found.trouble == "The picture `key.png` has more than 100 MB."
    assert folder / "key.png" not in read


def test_who_has_the_same_animal(client: Client, tmp_path: Path) -> None:
    others = ("finch-11", "wren-11", "finch-3")
    assert survey(replace(client, others=others)).alike == ("finch-11", "finch-3")
    assert survey(replace(client, code="ewe-01", others=("sheep-02",))).alike == ("sheep-02",)
    own = tmp_path / "programs" / "finch-11"
    own.mkdir()
    Image.new("RGB", (5, 5)).save(own / "Finch.png")
    assert survey(replace(client, others=others)).alike == ("finch-3",)
    assert survey(replace(client, code="finch-11", others=("finch-10", "finch-3"))).alike == ()


def test_an_animal_is_drawn_by_the_set_by_us_or_by_the_clinic(
    client: Client, tmp_path: Path
) -> None:
    otter, heron, tapir = (replace(client, code=f"{a}-01") for a in ("otter", "heron", "tapir"))
    assert survey(otter).emblem == ("1F9A6", "otter")
    assert survey(otter).animal is None
    assert (ours := survey(heron).animal)
    assert Path(ours.path).name == "heron.svg"
    assert not survey(heron).undrawn
    assert survey(tapir).undrawn
    (tmp_path / "programs" / "pictures").mkdir()
    Image.new("RGB", (5, 5)).save(tmp_path / "programs" / "pictures" / "Tapir.png")
    assert not survey(tapir).undrawn
