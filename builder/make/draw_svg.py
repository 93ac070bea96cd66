"""Draws one SVG file as PNG: run as a process of its own, so that it can be stopped.

    python draw_svg.py SIDE width|height FACE ... < drawing.svg > drawing.png

Text is drawn in the faces that are handed in, so that it looks alike on every machine.
"""

from __future__ import annotations

import sys


def main(side: str, which: str, *faces: str) -> None:
    """Draw standard input with `side` pixels along `which` (width or height)."""
    import resvg_py

    sizes = {which: int(side)}
    family = "Noto Sans"
    drawn = resvg_py.svg_to_bytes(
        svg_string=sys.stdin.buffer.read().decode("utf-8"),
        skip_system_fonts=True,
        font_files=list(faces),
        font_family=family,
        sans_serif_family=family,
        serif_family=family,
        cursive_family="ABeeZee",
        fantasy_family="ABeeZee",
        monospace_family=family,
        width=sizes.get("width"),
        height=sizes.get("height"),
    )
    sys.stdout.buffer.write(drawn)


if __name__ == "__main__":
    main(*sys.argv[1:])
