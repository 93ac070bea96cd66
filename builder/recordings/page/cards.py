"""What the page shows of every prompt: the text with its target set off, and what is recorded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from builder.model.program import Form, Level
from builder.recordings.prompts import Prompt
from builder.recordings.takes import Take, Takes
from builder.text.letters import letters_of
from builder.text.slugs import distinct

CardState = Literal["missing", "good", "doubtful", "heard", "again", "unheard"]
Letters = tuple[tuple[str, bool], ...]


@dataclass(frozen=True, kw_only=True)
class Card:
    """One prompt on the page; the same shape stands in site_templates/recording_page/types.d.ts.

    id:      its name in addresses. stem: that of its files, without number and ending.
    letters: the text cut up, true where letters spell the target.
    ipa:     how a syllable is said, in IPA; "" for all else.
    sound:   the target in IPA. holdable: whether it can be held at all.
    state:   of the recording that is used: missing, good, doubtful (not used until somebody has
             heard it), heard (doubtful, but called right), again (not used) or unheard (cut from a
             long recording; not used until somebody has heard it).
    files:   the recordings, the one that is used first. reasons: sentence and figure, of that one.
    digest:  of that one; "" without any.
    current: somebody practices it at present. alone: the sound by itself.
    replaceable: no other prompt shares its files.
    """

    id: str
    stem: str
    text: str
    letters: Letters
    form: Form
    level: Level
    ipa: str
    sound: str
    holdable: bool
    alone: bool
    clients: tuple[str, ...]
    current: bool
    state: CardState
    files: tuple[str, ...]
    reasons: tuple[tuple[str, str], ...]
    digest: str
    replaceable: bool


def by_id(prompts: Sequence[Prompt]) -> dict[str, Prompt]:
    """The prompts by the name that each has in addresses, in their order."""
    return dict(zip(distinct(prompt.stem for prompt in prompts), prompts, strict=True))


def cards(prompts: dict[str, Prompt], takes: Takes) -> tuple[Card, ...]:
    """Every prompt with what is recorded of it."""
    shared = Counter(prompt.stem for prompt in prompts.values())
    return tuple(
        _card(name, prompt, takes.get(prompt.utterance, ()), shared[prompt.stem] == 1)
        for name, prompt in prompts.items()
    )


def _card(name: str, prompt: Prompt, takes: tuple[Take, ...], replaceable: bool) -> Card:
    utterance = prompt.utterance
    focus = (utterance.focus,) if utterance.focus else ()
    return Card(
        id=name,
        stem=prompt.stem,
        text=prompt.text,
        letters=letters_of(prompt.text, utterance.words, focus, alone=utterance.alone),
        form=prompt.form,
        level=prompt.level,
        ipa=prompt.ipa,
        sound=prompt.sound.ipa,
        holdable=prompt.sound.hold == "yes",
        alone=utterance.alone,
        clients=prompt.clients,
        current=prompt.current,
        state=_state(takes),
        files=tuple(Path(take.path).name for take in takes),
        reasons=takes[0].reasons if takes else (),
        digest=takes[0].digest if takes else "",
        replaceable=replaceable,
    )


def _state(takes: tuple[Take, ...]) -> CardState:
    if not takes:
        return "missing"
    best = takes[0]
    if best.verdict == "doubtful" and best.usable:
        return "heard"
    return "unheard" if best.state == "unheard" and best.verdict != "again" else best.verdict
