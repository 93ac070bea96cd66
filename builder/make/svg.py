"""Drawings: those of the set as tidied SVG, own ones checked and drawn into pixels.

Only what draws is let through, and ids clash with nothing else on a page.

Knows nothing of programs or files. What cannot be used raises `UnfitError`, whose text goes on
after 'The picture x.svg'.
"""

from __future__ import annotations

import io
import os
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from builder.make.svg_size import REFERENCE, TooDeepError, refers, shapes

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from PIL.Image import Image

OPENMOJI_SIDE = 72  # width and height of an OpenMoji drawing, in its own units
MAX_BYTES = 1_000_000
MAX_DEPTH = 60  # elements inside one another
MAX_SIDE = 100_000  # units
MAX_SHAPES = 20_000  # drawn in one second
MAX_SECONDS = 20  # for what no count foresees
MAX_SIDE_PX = 1024  # pixels; twice the width at which a tablet shows one
RENDERER = Path(__file__).with_name("draw_svg.py")

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
ALLOWED_ELEMENTS = {
    "svg",
    "g",
    "defs",
    "symbol",
    "use",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "linearGradient",
    "stop",
    "radialGradient",
    "clipPath",
    "mask",
    "pattern",
    "marker",
    "style",
    "switch",
}
# Drop out without a change to what is seen; a title could tell whose picture it is.
DROPPED_ELEMENTS = {"metadata", "title", "desc"}
DROPPED_ATTRIBUTES = ("aria-", "data-")
# In style sheets and attributes: addresses other than an id of the same file, and ways to hide one.
EXTERNAL_REFERENCE = re.compile(
    r"url\(\s*['\"]?(?!\s*['\"]?#)|\\|@|//|image-set|src\(|expression\(|javascript:", re.I
)
NUMBER = r"\d*\.?\d+(?:e[+-]?\d{1,2})?"
BOX = rf"-?{NUMBER}[\s,]+-?{NUMBER}[\s,]+({NUMBER})[\s,]+({NUMBER})"
REFERS_OUTSIDE = "refers to something outside itself"


class UnfitError(Exception):
    """Why a picture cannot be used: the rest of a sentence that begins with its name."""


def drawing(data: bytes, code: str) -> bytes:
    """An OpenMoji drawing at 72 x 72 units; `code` makes its ids its own."""
    root = _parsed(data)
    root.set("width", str(OPENMOJI_SIDE))
    root.set("height", str(OPENMOJI_SIDE))
    return _written(root, f"d{code}-")


def own(data: bytes) -> Image:
    """A drawing from elsewhere in pixels, its longer side MAX_SIDE_PX; none of its code is left."""
    if len(data) > MAX_BYTES:
        raise UnfitError("is an SVG file of more than 1 MB")
    root = _parsed(data)
    width, height = _size(root)
    root.set("viewBox", root.get("viewBox", f"0 0 {width} {height}"))
    root.set("width", str(width))
    root.set("height", str(height))
    _require_few_shapes(root)
    return _drawn(_written(root, "p-"), "width" if width >= height else "height")


def _require_few_shapes(root: Element) -> None:
    try:
        few = shapes(root, MAX_DEPTH) <= MAX_SHAPES
    except TooDeepError:
        raise UnfitError(f"nests more than {MAX_DEPTH} groups and references") from None
    if not few:
        raise UnfitError(f"draws more than {MAX_SHAPES:,} shapes")


def _drawn(data: bytes, longer: str) -> Image:
    """The pixels, by a process of its own that can be stopped."""
    import subprocess

    from PIL import Image as Images
    from PIL import UnidentifiedImageError

    from builder.make.fonts import files_of_faces

    faces = map(str, files_of_faces())
    command = [sys.executable, "-P", str(RENDERER), str(MAX_SIDE_PX), longer, *faces]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    try:
        run = subprocess.run(
            command, input=data, capture_output=True, check=True, timeout=MAX_SECONDS, env=env
        )
        image = Images.open(io.BytesIO(run.stdout), formats=("PNG",))
        image.load()
    except subprocess.TimeoutExpired:
        raise UnfitError(f"takes more than {MAX_SECONDS} seconds to draw") from None
    except (subprocess.CalledProcessError, UnidentifiedImageError):
        raise UnfitError("cannot be drawn") from None
    return image


def size_of(data: bytes) -> tuple[int, int]:
    """Width and height of an SVG file in its own units, rounded."""
    return _size(_parsed(data))


def _parsed(data: bytes) -> Element:
    """The root of an SVG file in which only what draws is left."""
    from xml.etree.ElementTree import ParseError

    from defusedxml import ElementTree, EntitiesForbidden

    try:
        root: Element = ElementTree.fromstring(data)
    except EntitiesForbidden:
        raise UnfitError("declares entities, which a drawing does not need") from None
    except (ParseError, ValueError, LookupError):
        raise UnfitError("cannot be read as SVG") from None
    if root.tag != f"{{{SVG}}}svg":
        raise UnfitError("cannot be read as SVG")
    _clean(root)
    return root


def _clean(root: Element) -> None:
    """Check every element; drop what editors leave. A stack, since files may be deep."""
    waiting = [(root, 1)]
    while waiting:
        element, depth = waiting.pop()
        _clean_element(element)
        for child in list(element):
            if _by_editor(child):
                element.remove(child)
            elif depth == MAX_DEPTH:
                raise UnfitError(f"nests more than {MAX_DEPTH} groups")
            else:
                waiting.append((child, depth + 1))


def _by_editor(child: Element) -> bool:
    space, _, name = child.tag.rpartition("}")
    return name in DROPPED_ELEMENTS or space != f"{{{SVG}"


def _clean_element(element: Element) -> None:
    name = element.tag.rpartition("}")[2]
    if name == "script":
        raise UnfitError("holds a script")
    if name not in ALLOWED_ELEMENTS:
        raise UnfitError(f"holds <{name}>, which could do more than draw")
    if name == "style" and EXTERNAL_REFERENCE.search("".join(element.itertext())):
        raise UnfitError(REFERS_OUTSIDE)
    for key in list(element.attrib):
        _clean_attribute(element, key)


def _clean_attribute(element: Element, key: str) -> None:
    space, _, name = key.rpartition("}")
    value = element.attrib[key]
    if space not in ("", f"{{{XLINK}") or name.lower().startswith(DROPPED_ATTRIBUTES):
        del element.attrib[key]
    elif name.lower().startswith("on"):
        raise UnfitError("holds a script")
    elif (name == "href" and not value.startswith("#")) or EXTERNAL_REFERENCE.search(value):
        raise UnfitError(REFERS_OUTSIDE)


def _size(root: Element) -> tuple[int, int]:
    """Width and height; by the view box where they are missing or relative."""
    sides = [re.fullmatch(rf"({NUMBER})(?:px)?", root.get(s, "")) for s in ("width", "height")]
    box = re.fullmatch(rf"\s*{BOX}\s*", root.get("viewBox", ""))
    if sides[0] and sides[1]:
        wide, high = float(sides[0][1]), float(sides[1][1])
    elif box:
        wide, high = float(box[1]), float(box[2])
    else:
        raise UnfitError("does not say how large it is")
    if not (0 < wide < MAX_SIDE and 0 < high < MAX_SIDE):
        raise UnfitError("does not say how large it is")
    return max(1, round(wide)), max(1, round(high))


def _written(root: Element, prefix: str) -> bytes:
    """The bytes of a drawing. Ids that nothing refers to go; the others get `prefix`."""
    from xml.etree import ElementTree

    ElementTree.register_namespace("", SVG)
    ElementTree.register_namespace("xlink", XLINK)
    if root.find(f".//{{{SVG}}}style") is None:  # a style sheet may name ids
        _own_ids(root, prefix)
    if root.find(f".//{{{SVG}}}text") is None:  # else blanks are seen
        _close_up(root)
    data: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=False)
    return data


def _close_up(root: Element) -> None:
    """No blanks and line ends between elements."""
    for element in root.iter():
        element.text = element.text if (element.text or "").strip() else None
        element.tail = None


def _own_ids(root: Element, prefix: str) -> None:
    values = [v for e in root.iter() for k, v in e.attrib.items() if k != "id"]
    used = {name for value in values for name in REFERENCE.findall(value)}
    for element in root.iter():
        for key, value in list(element.attrib.items()):
            if key == "id":
                _own_id(element, value in used, prefix)
            elif refers(key, value):
                element.set(key, REFERENCE.sub(rf"#{prefix}\1", value))


def _own_id(element: Element, used: bool, prefix: str) -> None:
    if used:
        element.set("id", prefix + element.attrib["id"])
    else:
        del element.attrib["id"]
