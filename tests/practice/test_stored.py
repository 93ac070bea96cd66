"""What was made for one client goes out of the store, and nothing else does."""

from __future__ import annotations

from pathlib import Path

import typst

from builder.make import qr
from builder.model.plan import Code
from builder.practice.stored import take_out
from builder.workspace.store import Store
from tests.support.from_home import CODE, OTHER_SITE, SITE

ADDRESS = "https://practice.example.org"


def pdf(title: str, text: str) -> bytes:
    """A PDF as the sheets are made: its title can be read in its bytes, its text is packed."""
    source = f'#set document(title: "{title}")\n{text}'.encode()
    made = typst.compile(source)
    assert isinstance(made, bytes)
    return made


def test_what_names_a_client_goes(tmp_path: Path) -> None:
    store = Store(tmp_path)
    sheet = pdf(f"Practice · {CODE}", "words")
    several = pdf("Sheets", f"wren-01, {CODE}, owl-02")
    assert CODE.encode() not in several, "so that its text must be read"
    gone = {"a": sheet, "b": several, "c": b"%PDF-1.7 half of one"}
    left = {
        "d": pdf(f"Practice · {CODE}1", "words"),
        "e": pdf("Practice · wren-01", "words"),
        "f": pdf("Sheets", "wren-01, owl-02"),
    }
    for key, data in (gone | left).items():
        store.put(key * 32, ".pdf", data)
    for key, site in (("1", SITE), ("2", OTHER_SITE)):
        qr.make(Code(key * 32, "code", f"{ADDRESS}/{site}/k-words/", "words"), store)
    store.put("9" * 32, ".mp3", b"moo")
    assert take_out(tmp_path, CODE, SITE) == 4
    assert [key for key in gone if store.has(key * 32, ".pdf")] == []
    assert all(store.has(key * 32, ".pdf") for key in left)
    assert not store.has("1" * 32, ".svg")
    assert not list((tmp_path / "11").iterdir())
    assert store.has("2" * 32, ".svg", ".png")
    assert store.has("9" * 32, ".mp3")
    assert take_out(tmp_path, CODE, SITE) == 0
