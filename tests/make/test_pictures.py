"""Pictures: rasters come out clean, SVG files hold nothing but a drawing, bad files are told."""

from __future__ import annotations

import os
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from builder.make import pictures, svg
from builder.model.plan import Picture
from builder.problems import ProgramError
from builder.workspace.store import Store
from tests.support.plans import drawing

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10">{}</svg>'
RED, BLUE = (220, 30, 30), (20, 40, 200)


def own(file: Path) -> Picture:
    return Picture("k" * 32, "pictures/kkk.webp", "own", str(file), "key")


def made(file: Path, tmp_path: Path) -> Path:
    return pictures.make(own(file), Store(tmp_path / "store"))


def test_a_photograph_loses_its_metadata_stands_upright_and_fits(tmp_path: Path) -> None:
    image = Image.new("RGB", (3000, 1500), RED)
    image.paste(BLUE, (0, 0, 1500, 1500))
    exif = Image.Exif()
    exif[0x0112] = 6  # orientation: turn by 90 degrees clockwise
    exif[0x013B] = "A Name"  # artist
    image.save(tmp_path / "a.jpg", exif=exif, comment=b"A Name")
    result = made(tmp_path / "a.jpg", tmp_path)
    with Image.open(result) as out:
        assert out.size == (512, 1024)
        assert out.getexif() == {}
        red, _, blue = out.convert("RGB").getpixel((256, 100))  # type: ignore[misc]
        assert blue > red, "the left half is on top now"
    assert b"A Name" not in result.read_bytes()


def test_a_drawing_stays_exact_and_see_through(tmp_path: Path) -> None:
    image = Image.new("RGBA", (40, 30), (0, 0, 0, 0))
    image.paste((*RED, 255), (0, 0, 20, 30))
    image.save(tmp_path / "a.png")
    with Image.open(made(tmp_path / "a.png", tmp_path)) as out:
        assert out.convert("RGBA").getpixel((5, 5)) == (*RED, 255)
        assert out.convert("RGBA").getpixel((35, 5))[3] == 0  # type: ignore[index]


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "WEBP"])
@pytest.mark.parametrize("mode", ["L", "P", "RGB"])
def test_other_kinds(kind: str, mode: str, tmp_path: Path) -> None:
    file = tmp_path / f"a.{kind.lower()}"
    Image.new("RGB", (8, 6), BLUE).convert(mode).save(file, kind)
    with Image.open(made(file, tmp_path)) as out:
        assert out.size == (8, 6)


def png_head(width: int, height: int) -> bytes:
    """A PNG that promises a size and holds next to nothing."""
    body = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = b""
    for name, data in ((b"IHDR", body), (b"IDAT", zlib.compress(b"\0" * 9)), (b"IEND", b"")):
        chunks += struct.pack(">I", len(data)) + name + data
        chunks += struct.pack(">I", zlib.crc32(name + data))
    return b"\x89PNG\r\n\x1a\n" + chunks


@pytest.mark.parametrize(
    ("name", "data", "sentence"),
    [
        pytest.param("a.png", b"", "`a.png` cannot be read as a picture.", id="an empty file"),
        pytest.param("a.png", b"no picture", "`a.png` cannot be read as a picture.", id="text"),
        pytest.param("a.png", png_head(60000, 60000), "more than 60 million pixels", id="a bomb"),
        pytest.param("a.png", png_head(9000, 9000), "more than 60 million pixels", id="huge"),
        pytest.param("a.png", png_head(100, 100), "`a.png` is damaged", id="broken off"),
        pytest.param("a.heic", b"x", "`a.heic` is of a kind", id="an unknown kind"),
        pytest.param("a.svg", b"<svg", "cannot be read as SVG", id="broken SVG"),
        pytest.param("a.svg", b"<html/>", "cannot be read as SVG", id="another XML"),
        pytest.param("a.svg", b" " * 1_000_001, "more than 1 MB", id="a huge SVG"),
    ],
)
def test_a_bad_file_is_told_in_one_sentence(
    name: str, data: bytes, sentence: str, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(ProgramError) as caught:
        made(tmp_path / name, tmp_path)
    (finding,) = caught.value.findings
    assert sentence in finding.sentence
    assert finding.place.file == str(tmp_path / name)
    assert pictures.told(name, pictures.unfit(tmp_path / name)) == finding.sentence


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(ProgramError, match=r"The picture `gone\.png` cannot be read\."):
        made(tmp_path / "gone.png", tmp_path)


@pytest.mark.parametrize(
    ("inside", "reason"),
    [
        pytest.param("<script>alert(1)</script>", "holds a script", id="a script"),
        pytest.param('<g onclick="x()"/>', "holds a script", id="a handler"),
        pytest.param("<foreignObject/>", "<foreignObject>", id="foreign content"),
        pytest.param('<image href="https://a.example/x.png"/>', "<image>", id="an image"),
        pytest.param('<a href="https://a.example"/>', "<a>", id="a link"),
        pytest.param('<use href="other.svg#a"/>', "outside", id="a reference to another file"),
        pytest.param(
            '<g fill="url(https://a.example/#b)"/>', "outside", id="a fill from elsewhere"
        ),
        pytest.param('<g style="fill:u\\72l(//a.example)"/>', "outside", id="a hidden address"),
        pytest.param("<style>@import 'a.css';</style>", "outside", id="an imported style"),
        pytest.param(
            "<style><title/>@import 'a.css';</style>", "outside", id="one after a child element"
        ),
        pytest.param("<animate/>", "<animate>", id="a movement"),
        pytest.param("<g>" * 99 + "</g>" * 99, "nests more than 60", id="a deep nest"),
    ],
)
def test_an_svg_may_only_draw(inside: str, reason: str) -> None:
    with pytest.raises(svg.UnfitError, match=reason):
        svg.own(SVG.format(inside).encode())


@pytest.mark.parametrize("coding", ["utf-8", "utf-16", "utf-16be"])
def test_entities_are_refused_in_every_coding(coding: str) -> None:
    head = f'<?xml version="1.0" encoding="{coding}"?><!DOCTYPE svg [<!ENTITY a "b">]>'
    with pytest.raises(svg.UnfitError, match="entities"):
        svg.own((head + SVG.format("<title>&a;</title>")).encode(coding))


def test_a_document_type_alone_does_no_harm() -> None:
    head = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://a.example/svg11.dtd">'
    assert svg.own((head + SVG.format("<path d='M0 0h1'/>")).encode())


def test_an_own_svg_is_published_as_pixels_and_none_of_its_code(tmp_path: Path) -> None:
    inside = (
        "<!-- by A Name --><metadata>A Name</metadata>"
        '<e:view xmlns:e="urn:editor" e:author="A Name"/>'
        '<defs><linearGradient id="g"><stop stop-color="#dc1e1e"/></linearGradient></defs>'
        '<rect width="10" height="10" fill="url(#g)"/>'
    )
    (tmp_path / "a.svg").write_text(SVG.format(inside))
    result = made(tmp_path / "a.svg", tmp_path)
    assert b"A Name" not in result.read_bytes()
    with Image.open(result) as out:
        assert (out.format, out.size) == ("WEBP", (1024, 512))
        assert out.convert("RGBA").getpixel((256, 256)) == (*RED, 255)
        assert out.convert("RGBA").getpixel((768, 256))[3] == 0  # type: ignore[index]


def test_text_in_an_own_svg_is_drawn_with_the_faces_of_the_tool() -> None:
    text = '<text x="1" y="9" font-size="9" font-family="No Such Face">Ab</text>'
    assert svg.own(SVG.format(text).encode()).getbbox()


def test_a_tall_svg_fits_too() -> None:
    tall = SVG.replace("20 10", "10 20").format("<rect width='10' height='20'/>")
    assert svg.own(tall.encode()).size == (512, 1024)


def nested_use(levels: int) -> str:
    """10 to the power of `levels` squares in a few lines."""
    groups = "".join(
        f'<g id="l{n}">' + f'<use href="#l{n - 1}"/>' * 10 + "</g>" for n in range(1, levels + 1)
    )
    return f'<defs><rect id="l0" width="1" height="1"/>{groups}</defs><use href="#l{levels}"/>'


def test_nested_use_is_counted_before_anything_is_drawn() -> None:
    assert svg.own(SVG.format(nested_use(2)).encode()).getbbox()
    with pytest.raises(svg.UnfitError, match="draws more than 20,000 shapes"):
        svg.own(SVG.format(nested_use(9)).encode())


def test_a_drawing_that_refers_to_itself_ends() -> None:
    loop = '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'
    with pytest.raises(svg.UnfitError, match="nests more than 60"):
        svg.own(SVG.format(loop).encode())


def test_a_drawing_that_takes_too_long_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(svg, "MAX_SECONDS", 0)
    with pytest.raises(svg.UnfitError, match="seconds to draw"):
        svg.own(SVG.format("<path d='M0 0h1'/>").encode())


@pytest.mark.parametrize(
    ("head", "size"),
    [
        pytest.param('width="30" height="40px"', (30, 40), id="pixels"),
        pytest.param('width="100%" viewBox="0 0 7 9"', (7, 9), id="by the view box"),
        pytest.param('viewBox="-1 -2.5 12.4,3e1"', (12, 30), id="all ways to write a number"),
        pytest.param("", None, id="nothing said"),
        pytest.param('viewBox="0 0 0 5"', None, id="no width"),
        pytest.param('width="9e99" height="5"', None, id="beyond all measure"),
    ],
)
def test_size_of_an_svg(head: str, size: tuple[int, int] | None) -> None:
    data = f'<svg xmlns="http://www.w3.org/2000/svg" {head}/>'.encode()
    if size is not None:
        assert svg.size_of(data) == size
        return
    with pytest.raises(svg.UnfitError, match="how large"):
        svg.size_of(data)


def test_a_drawing_is_tidied(tmp_path: Path) -> None:
    file = pictures.make(drawing("1F404", "cow"), Store(tmp_path))
    text = file.read_text("utf-8")
    assert svg.size_of(file.read_bytes()) == (72, 72)
    assert 'viewBox="0 0 72 72"' in text
    assert ' id="' not in text, "the set's own ids would clash on a page"


def test_a_picture_is_made_once(tmp_path: Path) -> None:
    store = Store(tmp_path)
    first = pictures.make(drawing("1F404", "cow"), store)
    os.utime(first, (1, 1))
    assert pictures.make(drawing("1F404", "cow"), store).stat().st_mtime == 1


def test_a_drawing_that_is_not_in_the_set(tmp_path: Path) -> None:
    with pytest.raises(ProgramError, match="not in the set"):
        pictures.make(drawing("0000", "x"), Store(tmp_path))
