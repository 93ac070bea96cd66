"""How often another sound in the target's place is noticed, and a right one taken for another.

    python -m tests.benchmarks.substitutions

Said with another sound: for every pair of the table of substitutions one word for each place in
the word. Said rightly: the words of the alignment benchmark.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.audio.align.forced import align, frame_likelihoods
from builder.audio.align.substitutions import SUBSTITUTIONS, likely_substitution
from builder.audio.speech import Speech
from builder.audio.voices import embedded, natural
from builder.phonetics.position import Words
from tests.benchmarks.alignment import words
from tests.benchmarks.voice_survey import Asked, asked


def noticed(voice: str) -> tuple[int, int]:
    """Of how many words said with another sound it is noticed that it is another, and of all."""
    pairs = list(_pairs())
    found = [_taken_for(voice, one, other) for one, other in pairs]
    return sum(bool(one) for one in found), len(pairs)


def mistaken(voice: str) -> tuple[int, int]:
    """How many words said rightly are taken for words with another sound, and of all."""
    table = list(words())
    found = [_heard(_say(voice, (w.phones,), w.at), (w.phones,), w.at, w.sound) for w in table]
    return sum(bool(one) for one in found), len(table)


def _pairs() -> Iterator[tuple[Asked, str]]:
    for symbol, others in SUBSTITUTIONS.items():
        first = {one.position: one for one in reversed(asked()) if one.sound.symbol == symbol}
        yield from ((one, other) for other in others for one in first.values())


def _taken_for(voice: str, one: Asked, other: str) -> str:
    said = (*one.phones[: one.first], other, *one.phones[one.past :])
    return _heard(_say(voice, (said,), one.first), (one.phones,), one.first, one.sound.symbol)


def _say(voice: str, said: Words, at: int) -> Speech:
    return embedded.speak(said, (0, at, at + 1)) if voice == "embedded" else natural.speak(said)


def _heard(speech: Speech, expected: Words, at: int, symbol: str) -> str:
    """What is heard in the target's place; "" for the target, or for nothing at all."""
    frames = frame_likelihoods(speech.samples, speech.rate)
    found = align(speech.samples, speech.rate, expected, frames)
    if frames is None or found is None:
        return ""
    return likely_substitution(frames, expected, (0, at, at + 1), symbol, found)


def main() -> None:
    """Print a line for each voice."""
    for voice in ("embedded", "natural"):
        (seen, said), (wrong, right) = noticed(voice), mistaken(voice)
        print(
            f"{voice:9} another sound noticed in {seen} of {said} ({seen / said:.0%}), "
            f"a right one taken for another in {wrong} of {right}"
        )


if __name__ == "__main__":
    main()
