"""What helps an author who wrote something a little wrong: an example for every key, near
names, other words for the same thing. Knows the names of keys and nothing of their checks."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from builder.problems import KeyPath

BLANK = "fill-in"
"""Stands in a new program where only this client's own fact may stand; reading asks for it."""

# As one would type it after the key; shown when the key is missing or holds the wrong thing.
EXAMPLES = {
    "program": "1",
    "client": "heron-07",
    "age": "4",
    "reads": "no",
    "sound": "k",
    "shape": "tip down",
    "error": "t",
    "lacks": "[r, sh]",
    "has": "[or, ar]",
    "position": "initial",
    "mastered": "{syllable: 2026-11-20}",
    "baseline": "{date: 2026-12-03, correct: 17, of: 20}",
    "date": "2026-12-03",
    "correct": "17",
    "of": "20",
    "current": "words",
    "practice": "{times: [morning, evening], days: [mon, wed, fri]}",
    "times": "[morning, evening]",
    "days": "[mon, wed, fri]",
    "from": "2026-12-07",
    "visit": "2026-12-14",
    "minutes": "5",
    "home": "{days: [mon, wed, fri]}",
    "other home": "{days: [sat]}",
    "school": "{days: [mon, wed], times: [midday]}",
    "pause": "[2026-12-21..2027-01-03]",
    "reminder": "Back of the tongue",
    "cues": "{tongue: The back of the tongue goes up.}",
    "tongue": "The back of the tongue goes up.",
    "lips": "Round and open.",
    "air": "A short puff.",
    "voice": "embedded",
    "drawing": "no",
    "words": "[key, cow, cup]",
    "word": "cow",
    "say": "kaʊ",
    "picture": "cow.png",
    "steps": "[{name: words, level: word}]",
    "name": "words",
    "level": "word",
    "cluster": "sk",
    "rounds": "[natural imitation, natural spontaneous]",
    "form": "natural",
    "support": "imitation",
    "show": "picture",
    "items": "[my key, my cow]",
    "vowels": "[ee, ah, oo]",
    "pace": "{imitation: 9, spontaneous: 7}",
    "imitation": "9",
    "delayed": "12",
    "spontaneous": "7",
    "pairs": "14",
    "under_six": "1",
    "under_four": "3",
    "isolation": "-4",
    "syllable": "-2",
    "phrase": "2",
    "sentence": "4",
    "repeats": "10",
    "warm_up": "20",
    "breath": "10",
    "contrast": "[[key, tea], [cape, tape]]",
    "hold": "1.5",
    "passage": "I see a seal in the sun. It sings.",
    "where": "at dinner",
    "with": "Grandpa",
    "id": "two-words",
    "helper": "[home, school]",
    "criteria": "{advance: {percent: 80, days: 3}}",
    "advance": "{percent: 80, days: 3}",
    "step_back": "{percent: 50, days: 2}",
    "percent": "80",
    "misses": "3",
    "client_judges": "yes",
    "hear_yourself": "yes",
    "path": "no",
    "because": "{rule: my reason}",
    "clinic": "1",
    "contact": "{clinic: Riverside Clinic, phone: 555 0100}",
    "phone": "555 0100",
    "email": "desk@example.org",
    "hours": "Mondays to Fridays, 9 to 12",
    "base_url": "https://practice.example.org",
    "paper": "a4",
    "sheet": "{counts: yes}",
    "counts": "yes",
    "records": "[share, copy]",
    "groups": "{tuesday: [wren-01, finch-02]}",
    "language": "en-US",
    "interface": "[en, es]",
    "takes": "takes",
}

# Examples where one key has two meanings.
EXAMPLES_BY_OWNER = {
    ("cues", "voice"): "Off.",
    ("contact", "clinic"): "Riverside Clinic",
    ("steps", "sound"): "ar",
    ("rounds", "times"): "2",
    ("advance", "days"): "3",
    ("step_back", "days"): "2",
}

# An entry of a list.
ENTRY_EXAMPLES = {
    "steps": "{name: words, level: word}",
    "words": "cow` or `{word: cow, picture: cow.png}",
    "items": "my cow` or `{word: my cow, picture: cow.png}",
    "rounds": "natural imitation",
    "contrast": "[key, tea]",
    "pause": "2026-12-21..2027-01-03",
}

# What a program must not hold; at its top level these keys get an answer of their own.
PRIVATE_KEYS = {"name", "surname", "birthday", "birthdate", "born", "dob", "diagnosis", "address"}

# Other words for the same thing -> ours.
SYNONYMS = {
    "start": "from",
    "begin": "from",
    "next": "visit",
    "target": "sound",
    "phoneme": "sound",
    "code": "client",
    "patient": "client",
    "child": "client",
    "substitution": "error",
    "location": "position",
    "place": "position",
    "now": "current",
    "schedule": "practice",
    "goal": "reminder",
    "text": "word",
    "ipa": "say",
    "pronunciation": "say",
    "image": "picture",
    "title": "name",
    "stage": "level",
    "story": "passage",
    "topic": "passage",
    "situation": "where",
    "listener": "with",
    "reading": "reads",
    "done": "mastered",
    "beginning": "initial",
    "front": "initial",
    "middle": "medial",
    "end": "final",
    "ending": "final",
    "am": "morning",
    "noon": "midday",
    "pm": "evening",
    "imitate": "imitation",
    "repeat": "imitation",
    "alone": "spontaneous",
    "independent": "spontaneous",
    "short": "natural",
    "held": "long",
    "stretched": "long",
    "sound alone": "isolation",
    "text only": "print",
    "school": "school",
    "parent": "home",
}


def nearest(written: str, known: Iterable[str], cutoff: float = 0.6) -> str:
    """The known name that `written` most likely means, "" when none is near."""
    known = list(known)
    low = written.lower().strip()
    if SYNONYMS.get(low) in known:
        return SYNONYMS[low]
    for name in known:
        if min(len(low), len(name)) >= 3 and (low.startswith(name) or name.startswith(low)):
            return name
    close = difflib.get_close_matches(low[:60], known, n=1, cutoff=cutoff)
    return close[0] if close else ""


def did_you_mean(written: str, known: Iterable[str]) -> str:
    """A remedy: the nearest name, then all of them."""
    known = list(known)
    near = nearest(written, known)
    listed = "It can be " + listing(known) + "."
    return f"Did you mean `{near}`? {listed}" if near else listed


def listing(names: Iterable[str], last: str = "or") -> str:
    """Names in a row: `a`, `b` or `c`."""
    quoted = [f"`{name}`" for name in names]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {last} {quoted[-1]}"


def example(path: KeyPath) -> str:
    """A line as one may type it for the key at `path`, as in `sound: k`; "" when there is none.

    For an entry of a list: the entry.
    """
    names = [part for part in path if isinstance(part, str)]
    if not names:
        return ""
    if isinstance(path[-1], int):
        return ENTRY_EXAMPLES.get(_owner(names), "")
    name, owner = names[-1], names[-2] if len(names) > 1 else ""
    if owner == "mastered":
        return f"{name}: {EXAMPLES['date']}"
    value = EXAMPLES_BY_OWNER.get((owner, name)) or EXAMPLES.get(name)
    return f"{name}: {value}" if value else ""


def _owner(names: list[str]) -> str:
    return "words" if names[0] == "words" else names[-1]


def label(path: KeyPath) -> str:
    """How a sentence names what stands at `path`: `sound`, or entry 2 of `steps`."""
    if not path:
        return "the file"
    if isinstance(path[-1], str):
        return f"`{shorten(path[-1])}`"
    names = [part for part in path if isinstance(part, str)]
    owner = _owner(names)
    if owner not in ENTRY_EXAMPLES:
        return f"`{owner}`"
    return f"entry {path[-1] + 1} of `{owner}`"


def shorten(text: str, most: int = 40) -> str:
    """Foreign text inside a sentence: at most `most` characters."""
    return text if len(text) <= most else text[: most - 1] + "…"
