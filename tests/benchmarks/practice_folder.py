"""The practice folder of a month (`month.py`): clients drafted and filled in, commands typed on a
day, what families practiced sent to the clinic."""

from __future__ import annotations

import datetime
import io
import os
import random
import re
import time
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from builder.__main__ import main as practice_site
from builder.model.practice_view import PracticeView
from builder.model.record import Sitting
from builder.practice import kept_views
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from tests.benchmarks.eight_clients import CLIENTS, Invented
from tests.benchmarks.learner import Learner
from tests.benchmarks.typed_visit import Typed
from tests.support.handed_over import written

MONDAY = datetime.date(2027, 1, 11)
A_DAY, A_WEEK = datetime.timedelta(days=1), datetime.timedelta(days=7)


@dataclass
class Client:
    """One of the eight, in the practice folder."""

    invented: Invented
    learner: Learner
    spare: dict[str, list[str]]
    visits: datetime.date


class PracticeFolder:
    """The practice folder and who comes to it."""

    def __init__(self, folder: Path, seed: int, tell_all: bool) -> None:
        self.space, self.tell_all = Workspace(folder), tell_all
        self.clients = [
            Client(
                one,
                Learner(one.able, one.gain, one.helper, random.Random(f"{seed} {one.code}")),
                {sound: list(words) for sound, words in one.spare.items()},
                MONDAY + A_DAY * (1 + at % 4),
            )
            for at, one in enumerate(CLIENTS)
        ]

    def type(
        self, day: datetime.date, *words: str, answers: Typed | None = None
    ) -> tuple[str, float]:
        """What a command says, and its seconds of processor time, without the start of Python."""
        moment = datetime.datetime.combine(day, datetime.time(18), datetime.UTC)
        os.environ["SOURCE_DATE_EPOCH"] = str(int(moment.timestamp()))
        typed = answers or Typed(io.StringIO(), {})
        began = time.process_time()
        with (
            redirect_stdout(typed.out),
            redirect_stderr(typed.out),
            patch("builtins.input", typed.answer),
        ):
            practice_site([*words])
        if self.tell_all:
            print(f"{day:%a %b %-d} $ practice-site {' '.join(words)}\n{typed.said()}")
        return typed.said(), time.process_time() - began

    def on_paper(self) -> None:
        """The desk has printed what waits."""
        (self.space.root / "desk" / "sheets to print.pdf").unlink(missing_ok=True)

    def view(self, client: Client) -> tuple[str, PracticeView]:
        """The site of a client and what is published there."""
        site = slug(secret(self.space), client.invented.code)
        page = (self.space.root / "public" / site / "practice.json").read_text("utf-8")
        found = re.search(r'"plan": "(\w+)"', page)
        assert found
        view = kept_views.find(self.space, site, found[1])
        assert view
        return site, view

    def started(self) -> None:
        """Every client's draft, with what a therapist fills in, on the Friday before."""
        friday = MONDAY - 3 * A_DAY
        for client in self.clients:
            for file, asked, fills in client.invented.programs:
                self.type(friday, "new", client.invented.code, *asked)
                path = self.space.root / "programs" / file
                text = path.read_text("utf-8")
                dates = f"practice: {{from: {MONDAY}, visit: {client.visits}}}"
                for found, filled in {**fills, r"^# practice: .*$": dates}.items():
                    text, times = re.subn(found, filled, text, count=1, flags=re.MULTILINE)
                    # A program for a further sound has its dates from the first.
                    assert times or filled == dates, (file, found)
                path.write_text(text, "utf-8")
                if self.tell_all:
                    print(text)
            said, _ = self.type(friday, "check", client.invented.code)
            if not re.search(r"^0 faults", said, re.MULTILINE):
                print(said)
        self.type(friday, "build")
        self.type(friday, "print")
        self.on_paper()

    def practiced(self, client: Client, week: int) -> None:
        """What home did from its last visit, or from Monday, until the day before this one."""
        first = MONDAY if not week else client.visits - A_WEEK + A_DAY
        days = [first + A_DAY * n for n in range((client.visits - first).days)]
        site, view = self.view(client)
        made = [
            client.learner.sitting(
                view, site, day, time, client.invented.roles[n % len(client.invented.roles)]
            )
            for day in days
            if day.weekday() < 5
            for n, time in enumerate(("morning", "evening"))
            if client.learner.rng.random() < client.invented.diligent
        ]
        if week == client.invented.missing or not made:
            return
        if client.invented.paper:
            for role in dict.fromkeys(client.invented.roles):
                self._enter(client, role, [one for one in made if one.helper == role])
            return
        file = self.space.root / f"{client.invented.code}.txt"
        lines = written([one.model_dump(mode="json") for one in made])["lines"]
        file.write_text("Practice record\n\n" + "\n".join(lines), "utf-8")
        said, _ = self.type(client.visits, "receive", file.name)
        if f"{len(made)} new sitting" not in said:
            print(said)

    def _enter(self, client: Client, role: str, made: list[Sitting]) -> None:
        """The sheet of one who listens, box by box."""
        told = {
            f"    {one.started:%a %Y-%m-%d} {one.time}": (
                f"{sum(trial.mark == 'clear' for trial in one.trials)} of {len(one.trials)}"
            )
            for one in made
        }
        whose = ("--helper", role.replace(" ", "-"))
        typed = Typed(io.StringIO(), told)
        said, _ = self.type(
            *(client.visits, "receive", "--paper", client.invented.code, *whose), answers=typed
        )
        if f"{len(made)} box" not in said:
            print(said)
