"""Progress in the terminal, as lines. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builder.progress import texts
from builder.progress.gather import Progress, Section


def lines(progress: Progress) -> Iterator[str]:
    """All that stands on the page, clear-rates by week."""
    yield f"{progress.code}, {progress.first} to {progress.last}"
    yield from _block("For your notes", texts.copied(progress))
    weeks = [*map(str, progress.practice.weeks), texts.in_all(progress), *texts.besides(progress)]
    yield from _block("What was practiced when", weeks)
    for section in progress.sections:
        yield from _section(section)
    notes = (f"{one.day} {texts.who_wrote(one)}: {one.text}" for one in progress.notes)
    yield from _block("Words of the family, and yours", list(notes))
    if progress.apart:
        yield ""
        yield texts.apart_told(progress)


def _section(section: Section) -> Iterator[str]:
    yield ""
    yield f"{section.heading}. {texts.criteria_told(section.criteria)}"
    if proposals := texts.proposals_told(section):
        yield f"  {texts.PROPOSED}"
        yield from (f"    {one}" for one in proposals)
    heads, weeks = texts.by_week(section)
    if weeks:
        yield from _table(f"Practice by week: {texts.CLEAR}", heads, weeks)
    if told := texts.listeners_told(section):
        yield f"  {told}"
    if told := texts.judged_told(section.judged):
        yield f"  {told}"
    if section.thirds:
        yield f"  {texts.thirds_told(section.thirds)}"
    words = [(text, step, texts.brief(rate)) for step, text, rate in section.words]
    if words:
        yield from _table(f"Words that fail: {texts.CLEAR}", (), words)
    if section.pairs:
        yield "  Pairs"
        yield from (f"    {texts.pair_told(one, section)}" for one in section.pairs)
    heads, rows = texts.beside_rows(section)
    if rows:
        yield from _table(f"Your scores beside practice: {texts.CLEAR}", heads, rows)
    if section.moves:
        yield "  Moves from step to step"
        yield from (f"    {texts.move_told(one, section)}" for one in section.moves)


def _block(title: str, told: Sequence[str]) -> Iterator[str]:
    if told:
        yield ""
        yield title
        yield from (f"  {one}" for one in told)


def _table(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as what stands in them."""
    yield f"  {title}"
    every = [*([heads] if heads else []), *rows]
    wide = [max(map(len, column)) for column in zip(*every, strict=True)]
    for row in every:
        padded = (cell.ljust(width) for cell, width in zip(row, wide, strict=True))
        yield "    " + "  ".join(padded).rstrip()
