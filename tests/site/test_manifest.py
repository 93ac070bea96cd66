"""The manifest by W3C (https://www.w3.org/TR/appmanifest/), and the icons that it names."""

from __future__ import annotations

import io
import json

import pytest
from PIL import Image, ImageChops

from builder.site.app.manifest import manifest
from tests.support import plans
from tests.support.places import ROOT

ICONS = ROOT / "site_templates" / "theme" / "assets" / "icons"
DRAWING = ROOT / "site_templates" / "icon" / "icon.svg"


def test_it_opens_todays_page_by_itself_and_tells_nobody_who_or_what() -> None:
    plan = plans.plan()
    text = manifest(plan)
    entries = json.loads(text)
    assert (entries["start_url"], entries["scope"]) == ("./", "./")
    assert entries["display"] == "standalone"
    assert entries["name"] == entries["short_name"] == "Practice"
    for told in (plan.client, plan.slug, "Riverside", "speech", "otter", "example"):
        assert told.lower() not in text.lower()
    assert text == manifest(plans.plan(plans.program_sh())), "all clients have the same"


def test_its_icons_are_there_in_their_sizes_for_every_shape() -> None:
    icons = json.loads(manifest(plans.plan()))["icons"]
    assert {(icon["sizes"], icon["purpose"]) for icon in icons} == {
        (size, purpose) for size in ("192x192", "512x512") for purpose in ("any", "maskable")
    }
    for icon in icons:
        with Image.open(ROOT / "site_templates" / "theme" / icon["src"]) as image:
            assert f"{image.width}x{image.height}" == icon["sizes"]


@pytest.mark.parametrize("side", [180, 192, 512])
def test_icons_are_as_they_are_drawn_and_stay_inside_a_round_mask(side: int) -> None:
    import resvg_py

    text = DRAWING.read_text("utf-8")
    drawn = resvg_py.svg_to_bytes(svg_string=text, width=side, height=side)
    whole = Image.open(io.BytesIO(drawn)).convert("RGB")
    ours = Image.open(ICONS / f"icon-{side}.png").convert("RGB")
    differs = ImageChops.difference(whole, ours).convert("L")
    assert not any(differs.histogram()[32:])  # of 255: few colors, no dithering
    # The standard's safe zone: a circle of 40 % of the side about the middle ("Icon masks").
    ground = Image.new("RGB", ours.size, ours.getpixel((0, 0)))
    left, top, right, bottom = ImageChops.difference(ours, ground).getbbox() or (0, 0, 0, 0)
    half = side / 2
    corner = max(half - left, right - half) ** 2 + max(half - top, bottom - half) ** 2
    assert 0 < corner <= (0.4 * side) ** 2
