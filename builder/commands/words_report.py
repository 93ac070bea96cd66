"""Words that were found, as a table for a therapist, JSON, CSV, or a line for a program file."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass
from typing import Literal

from builder.phonetics.inventory import ipa_of
from builder.phonetics.position import cluster_ipa
from builder.wordbank import suggest
from builder.wordbank.filters import Cluster, Query
from builder.wordbank.probes import ONE_IN
from builder.wordbank.ranking import LESS_KNOWN

COLUMNS = (
    "word",
    "said",
    "position",
    "syllables",
    "complexity",
    "zipf",
    "picture",
    "rank",
    "notes",
)
Offers = tuple[suggest.Offer, ...]
Form = Literal["table", "json", "csv", "yaml"]


@dataclass(frozen=True)
class Shown:
    """The words of one query that are shown, how many there are, and why so few ("" for enough)."""

    query: Query
    offers: Offers
    total: int
    why: str


def printed(shown: list[Shown], form: Form, *, probe: bool) -> str:
    """The words of all queries. probe: they are probe words, and the table says so."""
    if form == "yaml":
        return _yaml(shown)
    if form == "table":
        return "\n\n".join(_table(one, probe) for one in shown)
    rows = [_row(each.query, one) for each in shown for one in each.offers]
    return json.dumps(rows, ensure_ascii=False, indent=1) if form == "json" else _csv(rows)


def _row(query: Query, one: suggest.Offer) -> dict[str, object]:
    return {
        "word": one.word,
        "said": ipa_of(one.phones),
        "position": query.position,
        "syllables": one.syllables,
        "complexity": one.complexity,
        "zipf": round(one.zipf, 2),
        "picture": one.picture,
        "rank": round(one.rank, 1),
        "notes": list(one.notes),
    }


def _csv(rows: list[dict[str, object]]) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    for row in rows:
        notes = row["notes"] if isinstance(row["notes"], list) else []
        picture = "yes" if row["picture"] else "no"
        writer.writerow(row | {"notes": "; ".join(notes), "picture": picture})
    return out.getvalue().rstrip("\n")


def _yaml(shown: list[Shown]) -> str:
    """A line to paste into a program; with several positions a list for each."""
    lists = {one.query.position: _list(one.offers) for one in shown}
    if len(lists) == 1:
        return f"words: {next(iter(lists.values()))}"
    return "\n".join(["words:", *(f"  {position}: {words}" for position, words in lists.items())])


def _list(offers: Offers) -> str:
    doubtful = ", ".join(o.word for o in offers if not o.known)
    note = f"   # {LESS_KNOWN}: {doubtful}" if doubtful else ""
    return f"[{', '.join(_scalar(o.word) for o in offers)}]{note}"


def _scalar(word: str) -> str:
    """A word that YAML would read as something else stands in quotes."""
    return f'"{word}"' if word in ("yes", "no", "on", "off", "true", "false", "null") else word


def _table(one: Shown, probe: bool) -> str:
    query, offers = one.query, one.offers
    where = f"/{query.sound.ipa}/ {query.position}{_grouped(query.cluster)}"
    if not offers:
        return f"{where}: no word fits what you asked for. {one.why}".rstrip()
    if probe:
        head = f"{where}: {len(offers)} probe words, kept out of practice and never offered"
    else:
        first = f"the first {len(offers)} of " if one.total > len(offers) else ""
        plural = "s" if one.total > 1 else ""
        head = f"{where}: {first}{one.total} word{plural} (--explain WORD tells why)"
    lines = [
        head,
        f"{'':2}{'word':14} {'said':16} {'syllables':>9} {'complexity':>10} "
        f"{'frequency':>9}  {'picture':7}  worth a look",
    ]
    lines += [_line(one) for one in offers]
    lines += [one.why] if one.why else []
    if not probe and one.total >= suggest.MIN_WORDS:
        lines.append(f"One word in {ONE_IN} is kept for your own test: `--probe N` lists N.")
    return "\n".join(lines)


def _grouped(cluster: Cluster) -> str:
    if cluster is None:
        return ", alone or in a cluster"
    return f" in {cluster_ipa(cluster)}" if cluster else ", alone"


def _line(one: suggest.Offer) -> str:
    said, picture = ipa_of(one.phones), "yes" if one.picture else "no"
    return (
        f"  {one.word:14} {said:16} {one.syllables:9} {one.complexity:10} {one.zipf:9.1f}  "
        f"{picture:7}  {', '.join(one.notes)}"
    ).rstrip()
