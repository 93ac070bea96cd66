"""Photographs of codes: drawn by one library, read by another."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from PIL import Image

from builder.practice.handed_over import read_codes
from builder.practice.photos import by_message, codes_in, is_picture
from builder.problems import UsageError
from tests.practice.test_handed_over import kept, sent, week
from tests.support.handed_over import written
from tests.support.photographs import data, drawn, photographed

__all__ = ["kept", "sent"]  # fixtures


def together(images: list[Image.Image]) -> Image.Image:
    wide = sum(image.width for image in images)
    page = Image.new("L", (wide, max(image.height for image in images)), 255)
    left = 0
    for image in images:
        page.paste(image, (left, 0))
        left += image.width
    return page


WAYS: dict[str, Callable[[Image.Image], bytes]] = {
    "screenshot": lambda image: data(image, "PNG"),
    "photograph": lambda image: data(photographed(image)),
    "webcam": lambda image: data(photographed(image).reduce(2), "WEBP"),
}


@pytest.mark.parametrize("way", WAYS)
def test_codes_are_read_in_any_order(way: str, sent: dict[str, Any], kept: object) -> None:
    pictures = [WAYS[way](drawn(code)) for code in reversed(sent["codes"])]
    assert all(map(is_picture, pictures))
    assert read_codes(code for picture in pictures for code in codes_in(picture)) == kept


def test_all_codes_of_one_picture_are_read_and_others_left_out(
    sent: dict[str, Any], kept: object
) -> None:
    address = drawn("https://practice.example.org/7k2mz9qd4wthc/")
    found = codes_in(data(together([address, *map(drawn, sent["codes"])]), "PNG"))
    assert len(found) == len(sent["codes"])
    assert read_codes(found) == kept


def test_codes_of_two_tablets_are_told_apart(sent: dict[str, Any]) -> None:
    other = written(week()[:1])["codes"]
    mixed = [sent["codes"][1], *other, *sent["codes"][2:], sent["codes"][0].lower()]
    first, second = by_message(mixed)
    assert {code.upper() for code in first} == {*sent["codes"]}
    assert [*second] == other


@pytest.mark.parametrize(
    ("picture", "message"),
    [
        (lambda: data(Image.new("L", (400, 300), 90)), "No code of a practice record"),
        (
            lambda: data(drawn("https://practice.example.org"), "PNG"),
            "No code of a practice record",
        ),
        (lambda: data(Image.new("L", (400, 300)))[:200], "damaged"),
        (lambda: b"\0\0\0\x18ftypheic" + bytes(40), "HEIC.*JPEG"),
        (lambda: data(Image.new("1", (20000, 10000)), "PNG"), "far too large"),
    ],
    ids=["a wall", "another code", "half a picture", "a form of one maker", "a bomb"],
)
def test_what_holds_no_record_is_said(picture: Callable[[], bytes], message: str) -> None:
    found = picture()
    assert is_picture(found)
    with pytest.raises(UsageError, match=message):
        codes_in(found)


@pytest.mark.parametrize("text", [b"", b"Practice record of heron-07", "PR1/".encode("utf-16")])
def test_a_text_is_no_picture(text: bytes) -> None:
    assert not is_picture(text)
