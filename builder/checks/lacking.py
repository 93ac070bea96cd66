"""Sounds besides the target: the one that the client says instead, those that are not there yet or
are taken to be missing with it."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, listed, quoted, verb
from builder.checks.items import WORD_LEVELS, words_in_sentence_case
from builder.model.program import Client, Item, Program
from builder.phonetics.features import voicing_partner
from builder.phonetics.inventory import Sound
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.position import holds, occurrences
from builder.problems import Finding
from builder.program_file.pronounce import sounds_taught
from builder.survey.survey import Survey
from builder.wordbank.needs import missing


def check_lacking(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Sounds that the client does not have, or says instead of the target."""
    for program in client.programs:
        items = [i for step in program.steps if step.level in WORD_LEVELS for i in step.items]
        yield from _with_error_sound(program, items)
        yield from _with_lacking_sounds(program, items)
        yield from _with_voicing_partner(program, items)
        yield from _with_family(program, items)


def _with_error_sound(program: Program, items: list[Item]) -> Iterator[Finding]:
    """Words whose own other sound pulls the target over to what is said instead."""
    error = program.error
    if isinstance(error, str) or error.kind != "consonant" or error == program.sound:
        return
    held = [
        (name, item.path)
        for item in items
        if item.focus
        for name, word in words_in_sentence_case(item)[item.focus[0] :][:1]
        if occurrences(word.phones, error)
    ]
    if held:
        words = list(dict.fromkeys(name for name, _ in held))
        yield finding(
            program,
            held[0][1],
            "error-sound",
            f"{quoted(words)} also {_has(words)} the /{error.ipa}/ that the client says for "
            f"/{program.sound.ipa}/.",
            "Begin with words without it; add these once the others are secure.",
        )


def _with_lacking_sounds(program: Program, items: list[Item]) -> Iterator[Finding]:
    lacking = missing(program.sound, program.lacks, _there(program))
    told = [s for s in lacking if s != program.error and s not in _presumed(program)]
    held = _content_words_with(items, told)
    words = list(held)
    if words:
        named = [f"'{word}' (/{sound.ipa}/)" for word, (sound, _) in held.items()]
        yield finding(
            program,
            held[words[0]][1].path,
            "lacks",
            f"{listed(named)} {_has(words)} "
            f"{'a sound' if len(words) == 1 else 'sounds'} that the client does not have yet.",
            "Choose words whose other sounds the client can say: one hard thing at a time.",
        )


def _there(program: Program) -> tuple[Sound, ...]:
    """What is there or is taught in the program itself: none of it counts as missing."""
    return (*program.has, *sounds_taught(program))


def _presumed(program: Program) -> tuple[Sound, ...]:
    """Other vowels with r: who learns one of them is taken not to have these either."""
    told = missing(program.sound, (), _there(program))
    return tuple(s for s in told if s not in program.lacks)


def _with_family(program: Program, items: list[Item]) -> Iterator[Finding]:
    """Words with a second vowel with r, which is mostly missed in the same way."""
    held = _content_words_with([i for i in items if i.focus], list(_presumed(program)))
    words = list(held)
    if words and program.sound.kind == "rhotic":
        named = [f"'{word}' (/{sound.ipa}/)" for word, (sound, _) in held.items()]
        typed = listed(sound.typed for sound, _ in held.values())
        yield finding(
            program,
            held[words[0]][1].path,
            "partner",
            f"{listed(named)} {_has(words)} another vowel with r, which is often missed as "
            f"/{program.sound.ipa}/ is.",
            f"Choose other words; or, if the client can say {typed}, write it after `has:`.",
        )


def _with_voicing_partner(program: Program, items: list[Item]) -> Iterator[Finding]:
    """What goes wrong without voice mostly goes wrong with it, unless the program answers."""
    partner = voicing_partner(program.sound)
    if partner is None or not program.written.error:
        return
    if partner in (*program.lacks, *program.has, program.error):
        return
    held = _content_words_with(items, [partner])
    words = list(held)
    if words:
        voice = "voiced" if partner.voiced else "voiceless"
        yield finding(
            program,
            held[words[0]][1].path,
            "partner",
            f"{quoted(words)} {_has(words)} /{partner.ipa}/, the {voice} counterpart of "
            f"/{program.sound.ipa}/, which is often missed in the same way.",
            f"Choose other words; or, if the client can say /{partner.ipa}/, write it after "
            "`has:`.",
        )


def _content_words_with(items: list[Item], lacking: list[Sound]) -> dict[str, tuple[Sound, Item]]:
    """The content words that hold one of the sounds, with the first that they hold, in order.

    The small words of a sentence are left out: said weakly, and hardly to be avoided.
    """
    held: dict[str, tuple[Sound, Item]] = {}
    for item in items:
        for name, word in words_in_sentence_case(item):
            found = next((s for s in lacking if holds(word.phones, s)), None)
            if found and not is_function_word(word.text):
                held.setdefault(name, (found, item))
    return held


def _has(words: list[str]) -> str:
    return verb(words, "has", "have")
