"""What the clinic's voice is asked to record: every item of the current programs once, in each form
that a round needs, so that one recording serves every client with that word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from builder.model.program import Client, Form, Item, Level, Program, Step
from builder.phonetics.inventory import Sound, ipa_of
from builder.phonetics.position import Focus, Words
from builder.program_file.pronounce import of_step
from builder.text.slugs import cut, stem_of

LONG_SUFFIX, NATURAL_SUFFIX = "-long", "-natural"


class Utterance(NamedTuple):
    """What is to be said: all that decides whether a recording is it.

    name:  the file's name without its ending; a long form adds LONG to it.
    words: the phones of every word; focus: (word, first phone, past the last) of the target.
    sound: its symbol. alone: the sound by itself, without a word.
    """

    name: str
    form: Form
    words: Words
    focus: Focus | None
    sound: str
    alone: bool

    @property
    def stem(self) -> str:
        """The name of its file without ending: `cow`, `cow-long`.

        `so-long` is 'so', held; the phrase 'so long' is `so-long-natural`.
        """
        if self.form == "long":
            return self.name + LONG_SUFFIX
        unclear = self.name.endswith((LONG_SUFFIX, NATURAL_SUFFIX))
        return self.name + NATURAL_SUFFIX if unclear else self.name


def short_stem(stem: str) -> str:
    """The stem of a long sentence as it was once cut, by which recordings may still be named."""
    name = stem.removesuffix(LONG_SUFFIX)
    return cut(name) + stem[len(name) :]


@dataclass(frozen=True)
class Prompt:
    """One thing to record.

    clients: whose programs need it; current: one of them practices it at present.
    """

    utterance: Utterance
    text: str
    level: Level
    sound: Sound
    clients: tuple[str, ...]
    current: bool

    @property
    def form(self) -> Form:
        """natural, or long: with the target held."""
        return self.utterance.form

    @property
    def ipa(self) -> str:
        """How a syllable is said: `as` is a word of another sound; "" for all else."""
        return ipa_of(self.utterance.words[0]) if self.level == "syllable" else ""

    @property
    def stem(self) -> str:
        """The name of its file without ending."""
        return self.utterance.stem

    @property
    def key(self) -> tuple[str, Form, object]:
        """What two prompts share that one recording serves. A held target is a matter of its
        sound: `lesson` held for /l/ does not serve who practices /s/."""
        name, form, _, focus, *_ = self.utterance
        return (name, form, focus if form == "long" else None)


def prompts(clients: Iterable[Client]) -> tuple[Prompt, ...]:
    """Every prompt once: what is practiced now first, then what most clients need, then in the
    order of the programs. Long forms come after the natural ones, of which they can be made."""
    found: dict[tuple[str, Form, object], Prompt] = {}
    for client in clients:
        for program in client.programs:
            for prompt in _program_prompts(client.code, program):
                known = found.get(prompt.key)
                found[prompt.key] = _merged(known, prompt) if known else prompt
    return tuple(sorted(found.values(), key=_sort_key))


def client_prompts(client: Client) -> tuple[Prompt, ...]:
    """Everything that the client's site may speak, whatever files it shares."""
    every = (p for one in client.programs for p in _program_prompts(client.code, one))
    return tuple({prompt.utterance: prompt for prompt in every}.values())


def item_utterance(program: Program, step: Step, item: Item, form: Form) -> Utterance:
    """What is to be said for an item of a step."""
    alone = step.level == "isolation"
    symbol = of_step(program, step).sound.symbol
    return Utterance(stem_of(item.text), form, item.phones_by_word, item.focus, symbol, alone)


def sound_utterance(sound: Sound) -> Utterance:
    """The sound by itself, for the page that tells how it is made."""
    form: Form = "long" if sound.stays_alone else "natural"
    phones = sound.phones[0]
    return Utterance(
        stem_of(sound.spelled), form, (phones,), (0, 0, len(phones)), sound.symbol, True
    )


def _sort_key(prompt: Prompt) -> tuple[bool, bool, int]:
    """What is practiced now, natural before long (which can be made of it), most clients."""
    held = prompt.form == "long" and not prompt.utterance.alone
    return (not prompt.current, held, -len(prompt.clients))


def _merged(known: Prompt, more: Prompt) -> Prompt:
    clients = tuple(dict.fromkeys((*known.clients, *more.clients)))
    return replace(known, clients=clients, current=known.current or more.current)


def _program_prompts(client: str, program: Program) -> Iterator[Prompt]:
    sound = program.sound
    if sound.kind == "consonant":
        yield Prompt(
            sound_utterance(sound), sound.spelled, "isolation", sound, (client,), current=True
        )
    published = {step.id for step in program.published_steps}
    for step in program.steps:
        sound = of_step(program, step).sound
        held: tuple[Form, ...] = ("long",) if any(r.form == "long" for r in step.rounds) else ()
        practised = set(step.items)
        for item in step.said:
            if not item.phones:
                continue  # a fault of its own; it cannot be judged
            for form in ("natural", *(held if item in practised and item.focus else ())):
                utterance = item_utterance(program, step, item, form)
                yield Prompt(
                    utterance, item.text, step.level, sound, (client,), step.id in published
                )
