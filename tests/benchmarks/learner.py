"""A client who learns, a helper who hears in a way of their own, a therapist who hears better: what
a tablet would keep of their sittings. All numbers are our own choice and say nothing of any child.
"""

from __future__ import annotations

import datetime
import math
import random
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from builder.model.practice_view import PracticeView, RoundView, StepView
from builder.model.program import Role
from builder.model.record import Sitting
from tests.benchmarks.criteria import HELPERS, THERAPIST

MODEL = 0.6  # how much a model helps, in logits, as all that follows
DAY_TO_DAY = 0.3  # standard deviation
WORD_TO_WORD = 0.5
HARDER = 1.0  # is the next step than this one
MOST_TRIES = 60  # of a sitting; its minutes are used then
TRY_MS = 9000
HOURS = {"morning": 8, "evening": 18}


@dataclass
class Learner:
    """able: true accuracy of the step practiced now, in logits; each sitting adds `gain`. helper: a
    name in HELPERS."""

    able: float
    gain: float
    helper: str
    rng: random.Random
    plan: str = ""
    left_off: int = 0  # with which planned try of this plan the next sitting begins

    def moved(self, steps: int) -> None:
        """On to a harder step, or back to an easier one."""
        self.able -= HARDER * steps

    def heard(self, tries: int, model: bool, harder: int = 0) -> int:
        """How many of so many tries the therapist hears as correct."""
        share = logistic(self.able - HARDER * harder + MODEL * model)
        return sum(self._marked(share, THERAPIST) for _ in range(tries))

    def _marked(self, share: float, ear: tuple[float, float]) -> bool:
        right = self.rng.random() < share
        return self.rng.random() < (ear[0] if right else ear[1])

    def sitting(
        self, view: PracticeView, site: str, day: datetime.date, time: str, role: Role
    ) -> Sitting:
        """One whole sitting of all that is practiced now."""
        today = self.able + self.rng.gauss(0, DAY_TO_DAY)
        steps = [step for program in view.programs for step in program.steps if step.current]
        if view.practice_digest != self.plan:
            self.plan, self.left_off = view.practice_digest, 0
        planned = [one for step in steps for one in self._trials(step, today)]
        began, trials = self.left_off, planned[self.left_off :][:MOST_TRIES]
        whole = began + len(trials) >= len(planned)
        self.left_off = 0 if whole else began + len(trials)
        tallies = [self._tally(step, today) for step in steps if step.passage]
        for number, trial in enumerate(trials, 1):
            trial["ms"] = TRY_MS * number + self.rng.randrange(4000)
        self.able += self.gain
        return Sitting.model_validate(
            {
                "record": 1,
                "id": f"{self.rng.getrandbits(128):032x}",
                "site": site,
                "plan": view.digest,
                "practice": view.practice_digest,
                "start": f"{day}T{HOURS[time]:02}:{self.rng.randrange(60):02}:00-06:00",
                "time": time,
                "helper": role,
                "trials": trials,
                "tallies": tallies,
                "began": began,
                "done": len(trials),
                "end": "done" if whole else "time",
            }
        )

    def _trials(self, step: StepView, today: float) -> Iterator[dict[str, Any]]:
        for round_ in step.rounds:
            for _ in range(round_.times):
                if round_.contrast:
                    yield from (self._chosen(step, round_, pair, today) for pair in step.pairs)
                else:
                    yield from (self._said(step, round_, item.id, today) for item in step.items)

    def _said(self, step: StepView, round_: RoundView, item: str, today: float) -> dict[str, Any]:
        word = random.Random(zlib.crc32(f"{step.id} {item}".encode())).gauss(0, WORD_TO_WORD)
        share = logistic(today + word + MODEL * (round_.support != "spontaneous"))
        clear = self._marked(share, HELPERS[self.helper])
        one = _trial(step, round_, item)
        return one | {"mark": "clear" if clear else self.rng.choice(["almost", "missed"])}

    def _chosen(
        self, step: StepView, round_: RoundView, pair: tuple[str, str], today: float
    ) -> dict[str, Any]:
        """A pair: the word with the target is heard as the other one where the target fails."""
        chosen = self.rng.choice(pair)
        heard = pair[0] if chosen == pair[0] and self.rng.random() < logistic(today) else pair[1]
        mark = "clear" if heard == chosen else "missed"
        return _trial(step, round_, chosen) | {"mark": mark, "chosen": chosen, "heard": heard}

    def _tally(self, step: StepView, today: float) -> dict[str, Any]:
        assert step.passage
        targets = step.passage.targets or 20
        slipped = sum(
            not self._marked(logistic(today), HELPERS[self.helper]) for _ in range(targets)
        )
        return {"step": step.id, "targets": targets, "slipped": slipped, "ms": 240_000}


def _trial(step: StepView, round_: RoundView, item: str) -> dict[str, Any]:
    names = {"step": step.id, "round": round_.id, "item": item}
    return names | {"form": round_.form, "support": round_.support}


def logistic(x: float) -> float:
    """From logits to a share."""
    return 1 / (1 + math.exp(-x))
