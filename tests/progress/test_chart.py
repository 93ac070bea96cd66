"""The chart: what it shows is told by shape, its bars are intervals, the same input gives the same
bytes."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
from matplotlib import get_data_path
from PIL import ImageFont

from builder.make.fonts import TEXT, file_of
from builder.progress.charts.chart import chart
from builder.progress.charts.looks import GROUND, LOOKS, SIZE
from builder.progress.gather import Section, progress_of
from tests.support.invented import BADGER, HERON, OTTER, TODAY, Invented

pytestmark = pytest.mark.slow

SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"


@cache
def section(who: Invented) -> Section:
    found = progress_of(who.client, who.log(), TODAY)
    assert found
    return found.sections[0]


@cache
def drawn(who: Invented) -> ElementTree.Element:
    return ElementTree.fromstring(chart(section(who), "one"))


def groups(svg: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [g for g in svg.iter(f"{SVG}g") if g.get("id") == f"one-{name}"]


def style(one: ElementTree.Element) -> dict[str, str]:
    pairs = (part.split(":") for part in (one.get("style") or "").split(";") if part.strip())
    return {name.strip(): value.strip() for name, value in pairs}


def test_who_does_not_see_it_is_told_the_same() -> None:
    svg = drawn(HERON)
    assert svg.get("role") == "img"
    title, told = svg.find(f"{SVG}title"), svg.find(f"{SVG}desc")
    assert title is not None
    assert told is not None
    assert svg.get("aria-labelledby") == f"{title.get('id')} {told.get('id')}"
    assert title.text == "Clear-rate of /k/ initial by day"
    assert told.text
    assert "Move on: 80 % or more on 3 days in a row." in told.text
    assert (
        "words, without a model, you: 2026-11-30 10 of 20 (50 %) to 2026-12-14 17 of 20"
        in told.text
    )


def test_criteria_are_lines_with_words_and_dashes_of_their_own() -> None:
    svg = drawn(HERON)
    lines = [
        path
        for name in ("criterion move on", "criterion step back")
        for group in groups(svg, name)
        for path in group.iter(f"{SVG}path")
    ]
    assert len(lines) == 2
    dashes = [style(path)["stroke-dasharray"] for path in lines]
    assert len(set(dashes)) == 2
    words = {text.text for text in svg.iter(f"{SVG}text")}
    assert {"80 %: move on", "50 %: step back"} <= words
    assert {"with a vowel", "words", "two words"} <= words  # the steps
    assert len(groups(svg, "step changed")) == 2


def test_dates_are_written_as_iso_8601() -> None:
    words = [text.text or "" for text in drawn(HERON).iter(f"{SVG}text")]
    dates = [word for word in words if re.fullmatch(r"\d{4}-\d\d-\d\d", word)]
    assert dates[:2] == ["2026-11-09", "2026-11-16"]


def test_no_two_series_are_told_apart_by_color_alone() -> None:
    shapes = [(marker, filled) for marker, filled, _ in LOOKS.values()]
    assert len(set(shapes)) == len(shapes)
    looks: dict[str, set[tuple[str, bool]]] = {}
    for who in (HERON, OTTER):
        svg = drawn(who)
        markers = {p.get("id"): p.get("d") for p in svg.iter(f"{SVG}path") if p.get("id")}
        for name in (f"{whose} {how}" for whose, how in LOOKS):
            for group in groups(svg, name):
                for use in group.iter(f"{SVG}use"):
                    shape = markers[use.get(HREF, "")[1:]] or ""
                    if "C" in shape or "z" in shape or shape.count("L") > 1:  # no cap of a bar
                        filled = style(use).get("fill") != GROUND
                        looks.setdefault(name, set()).add((shape, filled))
    assert len(looks) == 5
    for name, one in looks.items():
        assert len(one) == 1, name
        assert not any(one & others for other, others in looks.items() if other != name), name


def test_bars_are_the_intervals_of_scipy() -> None:
    from scipy.stats import binomtest  # type: ignore[import-untyped]

    svg = drawn(HERON)
    (points,) = (
        line.points
        for lane in section(HERON).lanes
        for one in lane
        for line in one.lines
        if (one.step.name, line.who, line.how) == ("words", "you", "without a model")
    )
    heights = _per_cent(svg)
    bars = [
        [heights(float(y)) for y in re.findall(r"[ML] \S+ (\S+)", path.get("d", ""))]
        for group in groups(svg, "you without a model")
        for path in group.findall(f"{SVG}path")
        if len(re.findall(r"[ML]", path.get("d", ""))) == 2
    ]
    wanted = [
        binomtest(p.rate.clear, p.rate.tries).proportion_ci(0.95, method="wilson") for p in points
    ]
    assert len(wanted) == 2
    for bar, interval in zip(bars, wanted, strict=True):
        assert sorted(bar) == pytest.approx([100 * interval.low, 100 * interval.high], abs=0.05)


def _per_cent(svg: ElementTree.Element) -> Callable[[float], float]:
    """From a height on the drawing to per cent, by the criteria lines."""
    ends = {}
    for percent, name in ((80, "criterion move on"), (50, "criterion step back")):
        (group,) = groups(svg, name)
        path = next(group.iter(f"{SVG}path"))
        ends[percent] = float(re.findall(r"M \S+ (\S+)", path.get("d", ""))[0])
    each = (ends[50] - ends[80]) / 30
    return lambda y: 80 - (y - ends[80]) / each


def test_the_same_section_gives_the_same_bytes() -> None:
    assert chart(section(BADGER), "one") == chart(section(BADGER), "one")


def test_several_stand_in_one_page() -> None:
    text = chart(section(BADGER), "two")
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert all(one.startswith("two-") for one in ids)
    named = re.findall(r'(?:href="#|url\(#)([^")]+)', text)
    assert set(named) <= set(ids)
    assert "<style" not in text  # it would reach all of the page


def test_steps_practiced_at_once_stand_below_one_another() -> None:
    axes = [g for g in drawn(BADGER).iter(f"{SVG}g") if (g.get("id") or "").startswith("one-axes")]
    assert len(axes) == len(section(BADGER).lanes) == 2


@pytest.mark.parametrize(
    "name", ["long words that nobody reads aloud in one breath, or two", "w" * 60]
)
def test_names_of_steps_never_run_into_one_another(name: str) -> None:
    one = section(HERON)
    lanes = tuple(
        tuple(replace(drawn, step=replace(drawn.step, name=name)) for drawn in lane)
        for lane in one.lanes
    )
    svg = ElementTree.fromstring(chart(replace(one, lanes=lanes), "one"))
    face = ImageFont.truetype(str(file_of(TEXT)), SIZE + 1)
    ends = []
    for group in groups(svg, "step"):
        texts = list(group.iter(f"{SVG}text"))
        assert len(texts) <= 2
        begins = [float(re.findall(r"[-\d.]+", t.get("transform", ""))[-2]) for t in texts]
        widths = [face.getlength(t.text or "") for t in texts]
        ends.append((min(begins), max(b + w for b, w in zip(begins, widths, strict=True))))
    assert len(ends) == 3
    assert all(end <= begin for (_, end), (begin, _) in zip(ends, ends[1:], strict=False))
    assert ends[-1][1] <= float(svg.get("viewBox", "").split()[2])


@pytest.mark.parametrize("roles", [("home", "other home"), ("home", "other home", "school")])
def test_names_in_the_key_never_run_into_the_next_mark(roles: tuple[str, ...]) -> None:
    """Not even in a wide face, since a reader's computer may lack ours: DejaVu Sans."""
    one = section(HERON)
    several = replace(one, listeners=tuple((role, one.listeners[0][1]) for role in roles))
    svg = ElementTree.fromstring(chart(several, "one"))
    face = ImageFont.truetype(str(Path(get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"), 9)
    (key,) = groups(svg, "legend_1")
    marks = [(float(u.get("x", "")), float(u.get("y", ""))) for u in key.iter(f"{SVG}use")]
    names = list(key.iter(f"{SVG}text"))
    assert len(names) == len(marks)
    for name in names:
        begin, base = float(name.get("x", "")), float(name.get("y", ""))
        end = begin + face.getlength(name.text or "")
        after = [x for x, y in marks if abs(y - base) < 9 and x > begin]
        assert all(end < x - 12 for x in after), name.text
        assert end <= float(svg.get("viewBox", "").split()[2])
