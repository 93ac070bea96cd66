"""Plan -> printed sheets as PDF, by Typst, from data alone.

A sheet holds nothing of a day, a machine or a clock, unless a dated one is asked for: the same
plan gives the same bytes. Tagged for screen readers (PDF/UA-1).
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
from collections.abc import Mapping
from functools import cache
from importlib.metadata import version
from itertools import islice
from pathlib import Path
from typing import Any

from builder.make import drawings, fonts, qr
from builder.make.sheet_week import week_of
from builder.model.plan import Picture, Plan, PlannedItem, PlannedProgram, PlannedStep
from builder.text.templates import folder
from builder.text.wording import wording as wording_of
from builder.workspace.store import Store, digest_of, key_of

PDF = ".pdf"
PACKAGES = ("typst", "fontpkg-abeezee", "fontpkg-noto-sans", "qrcode")
LONG_TOKEN = re.compile(r"\S{24,}")  # a token that may be broken, without a hyphen
WIDE_TOKEN = re.compile(r"\S{15,}")  # the same in half a page, where signs may be wide
BEFORE_SIGN = re.compile(r" (?=[^\w·])")  # a blank, but for those around the dot of a pair
TOKEN_PIECE = re.compile(r"\S{1,12}")  # what stands between its breaks
MAX_TILE_TOKEN_CHARS = 13  # characters in 12 pt under a picture: a sixth of a Letter page
MAX_TILE_CHARS = 14  # at full size under a picture; longer texts are lines
MOST_TILES = {1: 12, 2: 6}  # of words and of pairs: two rows of six, or of three
PAIR_SEPARATOR = " · "  # the two words of a pair
MAX_INLINE_CHARS = 14  # characters; longer texts stand on lines of their own
MAX_HALF_LINE_CHARS = 30  # characters of 16 pt in half a page's width
MAX_UNBROKEN_CHARS = 40  # characters of 12 pt, half the width of the page
REPLACEMENT_CHARACTER = "\ufffd"  # the replacement character, which the faces have

Words = Mapping[str, str]
Data = dict[str, Any]
Entry = tuple[PlannedItem, ...]  # what is practised: one item, or the two words of a pair


def handout(
    plan: Plan,
    pictures: Mapping[str, Path],
    store: Store,
    words: Words | None = None,
    *,
    dated: bool = False,
) -> bytes:
    """The handout with its code and the week's boxes, one page, as PDF.

    pictures: made files by key; an item whose picture is missing there is printed as a word.
    words:    the sheets' wording; None: that of the plan's language.
    dated:    with the program's dates; such a sheet must not be published.
    """
    wording = sheet_words(plan.language, plan.helper) if words is None else words
    data, files = _data(plan, pictures, store, wording, dated)
    template = folder() / "sheets" / "handout.typ"
    key = key_of(
        sheet=template.read_text(encoding="utf-8"),
        data=data,
        files={name: digest_of(file) for name, file in files.items()},
        versions=[version(package) for package in PACKAGES],
    )
    return store.bytes_of(key, PDF, lambda: _pdf(template, data, files))


def sheet_words(language: str, helper: str = "home") -> Words:
    """The wording of the sheets for a BCP 47 language and for who listens, by name."""
    return wording_of(language, helper, "sheets").part("sheets")


def _pdf(template: Path, data: Data, files: Mapping[str, Path]) -> bytes:
    """Compile in a folder of its own. PDF/UA refuses signs without a face: these are replaced."""
    import typst

    with tempfile.TemporaryDirectory(prefix="sheet-") as place:
        for name, file in files.items():
            shutil.copyfile(file, Path(place) / name)
        try:
            return _compiled(template, place, data)
        except typst.TypstError as error:
            if "could not be displayed" not in str(error):
                raise
            return _compiled(template, place, _with_known_signs(data))


def _compiled(template: Path, root: str, data: Data) -> bytes:
    import typst

    return typst.compile(
        template.read_bytes(),
        root=root,
        font_paths=_faces(),
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
        pdf_standards=["ua-1"],
        timestamp=0,
    )


@cache
def _faces() -> Any:
    """The faces of the packages and no others, opened once."""
    import typst

    folders = [str(path) for path in fonts.folder_of_faces()]
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=folders)


def _with_known_signs(data: Data) -> Data:
    """`data` with another sign for every one that no face has."""
    text = json.dumps(data, ensure_ascii=False)
    for sign in fonts.without_sign(text):
        text = text.replace(sign, REPLACEMENT_CHARACTER)
    return dict(json.loads(text))


# What the template is given


def _data(
    plan: Plan, pictures: Mapping[str, Path], store: Store, wording: Words, dated: bool
) -> tuple[Data, dict[str, Path]]:
    """All text of the sheet, and the files it shows by their names in the folder."""
    files: dict[str, Path] = {}
    items = [_entry(entry, pictures, files) for entry in _entries(plan)]
    emblem = _shown(plan.emblem, pictures, files)
    start, visit = plan.dates if dated else ("", "")
    drawn = {pictures.get(p.key) for p in plan.pictures if p.kind == "drawing"}
    data = {
        **_frame(plan, wording),
        "emblem": emblem,
        "code": _code(plan, store, wording, files),
        "address": breakable(qr.spoken(plan.code.address)) if plan.code else "",
        "todo": _todo(plan, wording),
        **week_of(plan, wording, start, visit),
        **_words(items, wording),
        "sounds": [_sound(program, wording) for program in plan.programs],
        "credit": drawings.CREDIT if drawn & {*files.values()} else "",
    }
    return data, files


def _frame(plan: Plan, wording: Words) -> Data:
    """Paper, language and the sentences that stand on every handout."""
    language, _, region = plan.language.partition("-")
    contact = plan.clinic.contact
    lines = (contact.clinic, contact.phone, contact.email, contact.hours)
    misses = max((program.misses for program in plan.programs), default=3)
    return {
        **{name: wording[name] for name in ("title", "for", "open", "what", "reminder", "ask")},
        "paper": "us-letter" if plan.clinic.paper == "letter" else "a4",
        "lang": language,
        "region": region or None,
        "client": plan.client,
        "contact": " · ".join(_whole(clean(line)) for line in lines if line),
        "cautions": wording["cautions"].format(misses=misses),
    }


def _code(plan: Plan, store: Store, wording: Words, files: dict[str, Path]) -> Data | None:
    if plan.code is None:
        return None
    files["code.svg"] = qr.make(plan.code, store)[0]
    return {"file": "code.svg", "alt": wording["code_alt"].format(address=plan.code.address)}


def _todo(plan: Plan, wording: Words) -> list[str]:
    """What to do, in three lines."""
    practise = "todo_practise_one" if plan.minutes == 1 else "todo_practise"
    return [
        wording["todo_open" if plan.code else "todo_open_unpublished"],
        wording[practise].format(minutes=plan.minutes),
        wording["todo_tick"],
    ]


def _words(items: list[Data], wording: Words) -> Data:
    """The items: first those with pictures, as many as have room, then the rest as text."""
    single, pairs = _tiles(items, 1), _tiles(items, 2)
    rest = [item for item in items if item not in single + pairs]
    longest = max((len(item["text"]) for item in rest), default=0)
    return {
        "words": wording["words"],
        "more": wording["more"],
        "items": [{**i, "text": _item_text(i["text"])} for i in single + pairs + rest],
        "pictured": len(single),
        "paired": len(pairs),
        "lines": longest > MAX_INLINE_CHARS,
        "halves": longest <= MAX_HALF_LINE_CHARS,
    }


def _tiles(items: list[Data], words: int) -> list[Data]:
    """Those of so many words that are shown as pictures with a short text below."""
    shown = (item for item in items if len(item["pictures"]) == words)
    fit = (item for item in shown if _fits_tile(item["text"], words))
    return list(islice(fit, MOST_TILES[words]))


def _fits_tile(text: str, words: int) -> bool:
    longest = max(map(len, text.split()), default=0)
    return longest <= MAX_TILE_TOKEN_CHARS and len(text) <= MAX_TILE_CHARS * words


def _sound(program: PlannedProgram, wording: Words) -> Data:
    line = wording["sound" if program.example else "sound_plain"]
    text = clean(line.format(sound=program.sound, ipa=program.ipa, example=program.example))
    return {"sound": text, "reminder": breakable(clean(program.reminder))}


# Items and pictures


def _entries(plan: Plan) -> list[Entry]:
    """What is practiced in the current steps, each text once."""
    steps = (step for program in plan.programs for step in program.steps if step.current)
    entries = (entry for step in steps for entry in _of_step(step))
    return list({tuple(item.text for item in entry): entry for entry in entries}.values())


def _of_step(step: PlannedStep) -> list[Entry]:
    """Its items, then its pairs; a word of a pair stands there alone."""
    said = {item.id: item for item in step.said}
    paired = {one for pair in step.pairs for one in pair}
    single = [(item,) for item in step.items if item.id not in paired]
    return [*single, *((said[one], said[other]) for one, other in step.pairs)]


def _entry(entry: Entry, pictures: Mapping[str, Path], files: dict[str, Path]) -> Data:
    """Its text, and its pictures where every word has one: one of two would not tell whose."""
    whole = all(item.picture and item.picture.key in pictures for item in entry)
    shown = [_shown(item.picture, pictures, files) for item in entry] if whole else []
    return {"text": PAIR_SEPARATOR.join(clean(item.text) for item in entry), "pictures": shown}


def _shown(
    picture: Picture | None, pictures: Mapping[str, Path], files: dict[str, Path]
) -> Data | None:
    """The picture's file in the folder and its text; None without one."""
    if picture is None or picture.key not in pictures:
        return None
    file = pictures[picture.key]
    name = f"picture-{picture.key}{file.suffix}"
    files[name] = file
    return {"file": name, "alt": clean(picture.alt) or picture.key}


def clean(text: str) -> str:
    """Text on one line: blanks for line ends, and no control signs."""
    flat = " ".join(text.split())
    return "".join(sign for sign in flat if sign.isprintable() or sign in "\u200c\u200d")


def _whole(text: str) -> str:
    """A short text that stays on one line; a long one breaks where it must."""
    return text.replace(" ", "\u00a0") if len(text) <= MAX_UNBROKEN_CHARS else breakable(text)


def _item_text(text: str) -> str:
    """An item, which may be broken at every blank, also before a sign that begins no line."""
    return BEFORE_SIGN.sub(" \u200b", breakable(text, WIDE_TOKEN))


def breakable(text: str, long: re.Pattern[str] = LONG_TOKEN) -> str:
    """Text whose very long words may be broken (by signs of no width)."""
    return long.sub(lambda found: "\u200b".join(TOKEN_PIECE.findall(found[0])), text)
