"""The data block of the exercise for the ear of whoever listens."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.make.clips import Facts
from builder.model.clinic import Strict
from builder.model.plan import Clip, Plan, PlannedProgram
from builder.model.program import DISTORTIONS, ERROR_KINDS
from builder.site.blocks.embed import relative_address
from builder.text.wording import Wording, spoken


class EarWord(Strict):
    """One word both ways. right, wrong: addresses of its clips; told: what the wrong one is;
    between: a distortion, where the line between almost and missed is the therapist's."""

    word: str
    sound: str
    right: str
    wrong: str
    told: str
    between: bool


class EarData(Strict):
    """The exercise: words to hear as they should be and as they may come out now. language: of
    these words."""

    language: str
    words: tuple[EarWord, ...]
    wording: dict[str, str]


def ear_data(plan: Plan, facts: Mapping[str, Facts], root: str, words: Wording) -> EarData | None:
    """What the helper's page needs; None where no word can be heard both ways in one voice: by the
    voice alone one could tell which is which. root: the way from the page to the top."""
    found = tuple(_words(plan, facts, root, words))
    marks = {f"marks.{key}": text for key, text in words.part("rounds.marks").items()}
    if not found:
        return None
    return EarData(language=plan.language, words=found, wording=words.part("ear") | marks)


def _words(plan: Plan, facts: Mapping[str, Facts], root: str, words: Wording) -> Iterator[EarWord]:
    for program in plan.programs:
        for word, right, wrong in program.wrong:
            if _alike(facts, right, wrong):
                yield EarWord(
                    word=word,
                    sound=program.sound,
                    right=relative_address(right.path, root),
                    wrong=relative_address(wrong.path, root),
                    told=_told(program, words),
                    between=program.error in DISTORTIONS,
                )


def _alike(facts: Mapping[str, Facts], right: Clip, wrong: Clip) -> bool:
    return facts[right.key].voice == facts[wrong.key].voice


def _told(program: PlannedProgram, words: Wording) -> str:
    kind = program.error if program.error in ERROR_KINDS else "sound"
    missed = words["rounds.marks.missed"]
    key, sound = f"helper.ear_said.{kind}", spoken(program.sound)
    return words.fill(key, error=program.error, sound=sound, missed=missed)
