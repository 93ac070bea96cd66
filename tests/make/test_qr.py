"""Codes: what is drawn is read back by another program; the address as it is spoken."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest
import typst
import zxingcpp
from PIL import Image

from builder.make import qr
from builder.model.plan import Code
from builder.workspace.store import Store

SITE = "https://practice.example.org/7k2m9qrt4xbpz/"
ADDRESSES = [
    pytest.param(SITE, id="a site"),
    pytest.param(SITE + "k-words/", id="a step"),
    pytest.param(SITE + "#k=kncopSp3xTeLK-NT-9eieA", id="with a key"),
    pytest.param(SITE + "a" * 37, id="the longest that is advised"),
    pytest.param("http://127.0.0.1:8000/7k2m9qrt4xbpz/", id="on the own machine"),
    pytest.param("https://übung.example.org/é/", id="letters beyond ASCII"),
]


def read(image: Image.Image) -> list[str]:
    return [code.text for code in zxingcpp.read_barcodes(image)]


@pytest.mark.parametrize("address", ADDRESSES)
def test_the_png_is_read_back(address: str) -> None:
    image = Image.open(io.BytesIO(qr.png(address)))
    assert read(image) == [address]


@pytest.mark.parametrize("address", ADDRESSES)
def test_the_svg_is_read_back(address: str, tmp_path: Path) -> None:
    (tmp_path / "code.svg").write_bytes(qr.svg(address))
    page = tmp_path / "page.typ"
    page.write_text('#set page(width: auto, height: auto, margin: 0pt)\n#image("code.svg")')
    drawn = typst.compile(page, format="png", ppi=150)
    assert read(Image.open(io.BytesIO(drawn))) == [address]


def test_the_svg_is_one_path_of_runs() -> None:
    text = qr.svg(SITE).decode()
    dark = sum(map(sum, qr.modules(SITE)))
    assert text.count("<path") == 2, "the ground and the code"
    assert text.count("M") < dark * 0.6
    assert 'width="30mm" height="30mm"' in text


@pytest.mark.parametrize("length", [25, 40, 60, 80])
def test_the_png_says_its_size(length: int) -> None:
    address = (SITE + "a" * 80)[:length]
    image = Image.open(io.BytesIO(qr.png(address)))
    assert image.mode == "1"
    assert image.info["dpi"] == pytest.approx((300, 300), abs=0.01)
    assert 30 <= image.width / 300 * 25.4 < 34  # mm


def test_an_address_beyond_all_codes() -> None:
    with pytest.raises(ValueError, match="3000 characters fits no QR code"):
        qr.svg("a" * 3000)


@pytest.mark.parametrize(
    ("address", "spoken"),
    [
        pytest.param(SITE, "practice.example.org / 7k2m 9qrt 4xbp z", id="a site"),
        pytest.param(
            SITE + "k-words/", "practice.example.org / 7k2m 9qrt 4xbp z / k-words", id="a step"
        ),
        pytest.param(
            "https://example.org/clinic/7k2m9qrt4xbpz",
            "example.org / clinic / 7k2m 9qrt 4xbp z",
            id="a host shared with others",
        ),
        pytest.param("http://localhost:8000/", "localhost:8000", id="no slug"),
        pytest.param("", "", id="nothing"),
    ],
)
def test_spoken(address: str, spoken: str) -> None:
    assert qr.spoken(address) == spoken


def test_make_stores_both_once(tmp_path: Path) -> None:
    code, store = Code("c" * 32, "codes/site", SITE, "site"), Store(tmp_path)
    svg, png = qr.make(code, store)
    assert (svg.suffix, png.suffix) == (".svg", ".png")
    assert svg.read_bytes() == qr.svg(SITE)
    os.utime(svg, (1, 1))
    assert qr.make(code, store) == (svg, png)
    assert svg.stat().st_mtime == 1
