"""Plan -> the printed sheet as PDF, by Typst, from data alone.

One sheet of two sides: the front with the boxes and the words, the back with how to practice
without the pages; what finds no room on the front runs on to further pages. A sheet holds nothing
of a day, a machine or a clock, unless a dated one is asked for: the same plan and day give the same
bytes. Tagged for screen readers (PDF/UA-1).
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

from builder.make import drawings, fonts, qr
from builder.make.sheet import roles
from builder.make.sheet.back import back
from builder.make.sheet.text import Data, Shelf, Words, long_date
from builder.make.sheet.week import boxes
from builder.make.sheet.words import groups
from builder.model.plan import Code, Plan
from builder.text.templates import folder
from builder.text.wording import APART, ENGLISH, Wording, is_read, spoken, with_english
from builder.text.wording import wording as wording_of
from builder.workspace.store import Store, digest_of, key_of

PDF = ".pdf"
PARTS = ("base.typ", "front.typ", "words.typ", "back.typ")  # of the template, beside it
PACKAGES = ("typst", "fontpkg-abeezee", "fontpkg-noto-sans", "qrcode")
TAKEN_OUT = f"{APART}{spoken('')}"  # marks that the templates go by and never print
REPLACEMENT_CHARACTER = "\ufffd"  # the replacement character, which the faces have
CAUTIONS = ("sheets.half", "sheets.stop_text", "sheets.cautions", "sheets.school.stop_text")
PAGE_CAUTIONS = ("helper.stop_text.", "helper.half", "mouth.mirror")  # that sheets repeat
SYMBOL_MM = 33  # the code without its quiet zone
MAX_PART_CHARS = 60  # of an address on one line


def handout(
    plan: Plan,
    pictures: Mapping[str, Path],
    store: Store,
    words: Words | None = None,
    *,
    dated: bool = False,
    printed: str = "",
    role: str = "",
    language: str = "",
) -> bytes:
    """The sheet with its code, a box for every planned sitting and the words, as PDF.

    pictures: made files by key; an item whose picture is missing there is printed as a word.
    words:    the sheets' wording; None: that of `language`.
    dated:    with the program's dates; such a sheet must not be published.
    printed:  the day of printing in ISO form, for a dated sheet; "": a line to write it on.
    role:     one of the plan's helpers, whose sheet it is; "": it says nothing of who listens.
    language: one of those of the plan's pages, or the clinic's for a school; "": the first.
    """
    language = language or plan.interface[0]
    wording = sheet_words(language, plan.helper) if words is None else words
    day = printed if dated else ""
    page = cautious(language, plan.helper, "", PAGE_CAUTIONS)
    data, files = _data(plan, Shelf(pictures), store, wording, page, language, dated, day, role)
    data |= lang(plan, language)
    opened = language if language in plan.interface else plan.interface[0]
    data |= roles.headed(plan, role, data, wording, wording_of(opened, plan.helper))
    template = folder() / "sheets" / "handout.typ"
    files |= {name: template.with_name(name) for name in PARTS}
    return typeset_once(template, data, files, store)


def sheet_words(language: str, helper: str = "home", part: str = "sheets") -> Words:
    """The wording of the sheets for a BCP 47 language and for who listens, by name; part: "school"
    for that of the sheet for a school. With what pages say of a talk, under the same names."""
    talk = wording_of(language, helper).part("talk")
    own = cautious(language, helper, part, CAUTIONS).part("sheets")
    return {**own, **{f"talk.{name}": text for name, text in talk.items()}}


def cautious(language: str, helper: str, part: str, cautions: Iterable[str]) -> Wording:
    """A part of the wording, with what begins so in English as well while no speaker has read
    it."""
    words = wording_of(language, helper, part)
    if is_read(language):
        return words
    return with_english(words, wording_of(ENGLISH, helper, part), cautions)


def typeset_once(template: Path, data: Data, files: Mapping[str, Path], store: Store) -> bytes:
    """What `typeset` makes, out of the store where all that decides it is as it was."""
    key = key_of(
        sheet=template.read_text(encoding="utf-8"),
        data=data,
        files={name: digest_of(file) for name, file in files.items()},
        versions=[version(package) for package in PACKAGES],
    )
    return store.bytes_of(key, PDF, lambda: typeset(template, data, files))


def typeset(template: Path, data: Data, files: Mapping[str, Path]) -> bytes:
    """A template with its data and files as PDF, compiled in a folder of its own.

    PDF/UA refuses signs without a face: these are replaced.
    """
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
    for sign in {*fonts.without_sign(text)} - {*TAKEN_OUT}:
        text = text.replace(sign, REPLACEMENT_CHARACTER)
    return dict(json.loads(text))


# What the template is given


def _data(
    plan: Plan,
    shelf: Shelf,
    store: Store,
    words: Words,
    page: Wording,
    language: str,
    dated: bool,
    printed: str,
    role: str,
) -> tuple[Data, dict[str, Path]]:
    """All text of the sheet, and the files it shows by their names in the folder."""
    dates = plan.dates if dated else ("", "")
    drawn = {shelf.pictures.get(p.key) for p in plan.pictures if p.kind == "drawing"}
    data = {
        **_frame(plan, words),
        "emblem": shelf.show(plan.emblem),
        "code": _code(plan.code and plan.code.for_language(language), store, words, shelf.files),
        "open": words["open" if plan.code else "open_unpublished"],
        **boxes(plan, words, dates, printed, role),
        "groups": groups(plan, shelf, words),
        "back": back(plan, words, page, dates[1]),
        "printed": words["printed"].format(date=long_date(printed, words)) if printed else "",
    }
    data["credit"] = drawings.credit(words) if drawn & {*shelf.files.values()} else ""
    return data, shelf.files


PLAIN = ("title", "for", "without", "pair", "more", "more_boxes", "words_title", "boxes_title")
FOOT = ("reminder", "replaces", "printed_on", "page_of")


def _frame(plan: Plan, words: Words) -> Data:
    """Paper and the words that stand on every sheet."""
    return {
        **{name: words[name] for name in (*PLAIN, *FOOT)},
        "paper": "us-letter" if plan.clinic.paper == "letter" else "a4",
        "client": plan.client,
    }


def lang(plan: Plan, language: str) -> Data:
    """The languages of a sheet and of the practiced words on it, as Typst takes them: by these it
    breaks words and a screen reader says them."""
    own, _, region = plan.locale(language).partition("-")
    spoken, _, spoken_region = plan.language.partition("-")
    return {
        "lang": own,
        "region": region or None,
        "spoken": {"lang": spoken, "region": spoken_region or None},
    }


def _code(code: Code | None, store: Store, words: Words, files: dict[str, Path]) -> Data | None:
    """The code and its address, in lines short enough for the page."""
    if code is None:
        return None
    address = code.address
    files["code.svg"] = qr.make(code, store)[0]
    spoken = qr.spoken(address)
    cut = range(0, len(spoken), MAX_PART_CHARS)
    return {
        "file": "code.svg",
        "alt": words["code_alt"].format(address=address),
        "mm": qr.printed_mm(files["code.svg"], SYMBOL_MM),
        "link": address,
        "lines": [spoken[at : at + MAX_PART_CHARS].strip() for at in cut],
    }
