"""Eight invented clients through four weeks: python -m tests.benchmarks.month [--said] [--seed N].

Each Monday `caseload` and `week`, one `visit` a client and week, which asks in turn; between visits
what simulated families (`learner.py`) practiced comes home in files, on paper, or not at all. The
same seed gives the same month. Keys of a visit: every key of the command and of its answers, Enter
too; on one line: those of the same as options. By hand: the fewest signs to type and delete that
make the former program the new one, without finding the places, and `build` and `print`; what
`visit` writes into the log has no other way there. `--said` prints all that was said.
"""

from __future__ import annotations

import argparse
import io
import os
import re
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from builder.program_file.load import clients, program_of
from tests.benchmarks.practice_folder import A_WEEK, MONDAY, Client, PracticeFolder
from tests.benchmarks.typed_visit import Typed, by_hand, one_line
from tests.support.clinics import clinic
from tests.support.places import ROOT

WEEKS = 4
TRIED_ENOUGH = 8  # of ten, before a step is sent home
MODEL_LEVELS = ("isolation", "syllable")
TARGET_S = 10  # of the machine, for a visit
SENTENCE = r"^    .*: ((?:Propose|Ready|Too little).*)$"


@dataclass(frozen=True)
class Row:
    """Of a visit: keys that were typed, on one line, by hand; seconds of processor time."""

    keys: int
    line: int
    hand: int
    seconds: float


class Month(PracticeFolder):
    """The therapist's visits."""

    def __init__(self, folder: Path, seed: int, tell_all: bool) -> None:
        super().__init__(folder, seed, tell_all)
        self.rows: list[Row] = []

    def visited(self, client: Client, week: int) -> None:
        """One visit: each of the client's programs."""
        for file, _, _ in client.invented.programs:
            path = self.space.root / "programs" / file
            before = path.read_text("utf-8")
            (whole,) = clients([path])
            program = program_of(path, whole.clinic)
            step = program.steps[max(program.current)]
            alone = step.level not in MODEL_LEVELS
            tried = client.learner.heard(10, not alone, 1)
            ready = tried >= TRIED_ENOUGH and max(program.current) + 1 < len(program.steps)
            listed = [item.word for items in program.written.words.values() for item in items]
            spare = client.spare.get(program.written.sound, [])
            spare[:] = [word for word in spare if word not in listed]
            changes = alone and bool(listed) and bool(spare)
            next_visit = client.visits + A_WEEK
            answers = {
                "Score": f"{client.learner.heard(20, not alone)}/20",
                "Which step": step.name,
                "Said without": "y" if alone else "",
                "Step to practice next": "",
                "How '": f"{tried}/10",
                "Words that go": listed[week % len(listed)] if changes else "",
                "Words that come": spare.pop(0) if changes else "",
                "Next visit": str(next_visit),
                "Note": client.invented.notes.get(week, ""),
                "Write this": "y",
            }
            easier = f"{client.learner.heard(10, not alone, -1)}/10"
            typed = Typed(io.StringIO(), answers, "on" if ready else "", easier)
            sound = ("--sound", program.written.sound) if len(client.invented.programs) > 1 else ()
            command = ("visit", client.invented.code, *sound, "--make")
            said, seconds = self.type(client.visits, *command, answers=typed)
            typed.keys += len(" ".join(("practice-site", *command))) + 1
            after = path.read_text("utf-8")
            move = {"on": 1, "back": -1}.get(typed.given.get("Step to practice next", ""), 0)
            client.learner.moved(move)
            self.on_paper()
            self._tell(client, said, typed, (before, after), seconds)
        client.visits += A_WEEK

    def _tell(
        self, client: Client, said: str, typed: Typed, texts: tuple[str, str], seconds: float
    ) -> None:
        hand = by_hand(*texts)
        line = one_line(typed)
        self.rows.append(Row(typed.keys, line, hand, seconds))
        sentences = re.findall(r"^    .*?((?:Propose|Ready|Too little).*)$", said, re.MULTILINE)
        code = client.invented.code
        changed = re.findall(rf"^{code}: (?!at home|nothing from|/)(.*)$", said, re.MULTILINE)
        print(
            f"{client.visits:%a %b %-d} {code}: {typed.given.get('Score')}; "
            f"{typed.keys} keys ({line} on one line), {hand} by hand; {seconds:.1f} s | "
            f"{changed[-1] if changed else '?'} | "
            f"{sentences[-1].partition(':')[0] if sentences else 'no proposal'}"
        )

    def sum_up(self) -> None:
        """All visits together."""
        keys, line, hand = (
            [one.keys for one in self.rows],
            [one.line for one in self.rows],
            [one.hand for one in self.rows],
        )
        seconds = [one.seconds for one in self.rows]
        holds = "holds" if max(seconds) <= TARGET_S else "more than"
        print(
            f"\n{len(keys)} visits. Keys: median {median(keys):.0f} (on one line "
            f"{median(line):.0f}, by hand {median(hand):.0f}), in all {sum(keys)} ({sum(line)}, "
            f"{sum(hand)}). The machine, site and sheet made: median {median(seconds):.1f} s, at "
            f"most {max(seconds):.1f} s ({holds} {TARGET_S} s)"
        )


def main() -> None:
    """Print a month."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--said", action="store_true")
    asked.add_argument("--seed", type=int, default=1)
    args = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        os.chdir(name)
        month = opened(Path(name), args.seed, args.said)
        month.started()
        for week in range(WEEKS):
            monday = MONDAY + A_WEEK * week
            said, seconds = month.type(monday, "caseload")
            if not args.said:
                print(f"\nMonday, {monday:%B %-d}: caseload ({seconds:.1f} s)\n{said}", end="")
            said, seconds = month.type(monday, "week")
            print(f"week ({seconds:.1f} s): {said.splitlines()[0]}")
            for client in sorted(month.clients, key=lambda one: one.visits):
                month.practiced(client, week)
                month.visited(client, week)
        os.chdir(ROOT)
    month.sum_up()


def opened(folder: Path, seed: int, tell_all: bool) -> Month:
    """An empty practice folder, its store filled with what was made before."""
    programs = clinic(folder)
    (programs / "finch-10.yaml").unlink()
    with (programs / "clinic.yaml").open("a") as file:
        file.write("voice: embedded\nrecords: [download, copy, code]\n")
    if (kept := ROOT / ".practice" / "store").is_dir():
        shutil.copytree(kept, folder / ".practice" / "store")
    return Month(folder, seed, tell_all)


if __name__ == "__main__":
    main()
