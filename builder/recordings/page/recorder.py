"""What the recording page can do: show the prompts, assess a recording, keep it, play one that is
kept. One thing at a time: the aligner is one for all."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from pathlib import Path

from builder.problems import UsageError
from builder.recordings import takes
from builder.recordings.heard import add_heard
from builder.recordings.page.assess import Assessment, assess
from builder.recordings.page.cards import Card, cards
from builder.recordings.page.save import save_take, set_aside
from builder.recordings.prompts import Prompt
from builder.recordings.takes import Takes
from builder.workspace.store import Store


@dataclass(frozen=True)
class Recorder:
    """prompts: by their names in addresses. folder: of the takes; made when one is kept.
    store: where measured facts are kept."""

    prompts: dict[str, Prompt]
    folder: Path
    store: Store
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def cards(self) -> tuple[Card, ...]:
        """All prompts with what is in the folder now."""
        with self._lock:
            return cards(self.prompts, self._takes())

    def assess(self, name: str, data: bytes) -> Assessment:
        """The assessment of a WAV file. Raises KeyError, UsageError when it cannot be read."""
        with self._lock:
            return self._assess(name, data)

    def keep(self, name: str, data: bytes, *, instead: bool = False) -> Path:
        """Write a WAV file into the folder, beside what is there or instead of it; its path.

        One that is there already is not written twice: the window that sent it may have missed the
        answer. The page lets nobody keep a doubtful one before it was heard, so it is used. Raises
        KeyError; UsageError when it cannot be read or would never be used; OSError.
        """
        with self._lock:
            verdict = self._assess(name, data).verdict
            if verdict == "again":
                raise UsageError("A recording like this is never used, so it is not kept.")
            prompt = self.prompts[name]
            before = self._replaceable(prompt) if instead else ()
            file = self._written_before(prompt, data)
            if not file:
                stems = (each.stem for each in self.prompts.values())
                file = save_take(self.folder, prompt.stem, stems, data)
            set_aside(each for each in before if each != file)
            if verdict == "doubtful":
                add_heard(self.folder, [file])
            return file

    def accept(self, name: str, digest: str) -> None:
        """The doubtful recording of a prompt was heard and is right; digest: of the file that was
        heard. Raises KeyError; UsageError when there is another one now; OSError."""
        with self._lock:
            found = self._takes().get(self.prompts[name].utterance, ())
            if not found or found[0].digest != digest:
                raise UsageError("There is another recording now: listen to that one.")
            add_heard(self.folder, [Path(found[0].path)])

    def playable(self, name: str) -> Path | None:
        """The kept recording that is used, or would be first. Raises KeyError."""
        with self._lock:
            found = self._takes().get(self.prompts[name].utterance, ())
            return Path(found[0].path) if found else None

    def _assess(self, name: str, data: bytes) -> Assessment:
        prompt = self.prompts[name]
        if data[:4] != b"RIFF" or data[8:12] != b"WAVE":
            raise UsageError("This is not a WAV file.")
        from builder.audio.io.decode import decode  # numpy only when something was recorded

        return assess(prompt, *decode(data))

    def _replaceable(self, prompt: Prompt) -> tuple[Path, ...]:
        """The prompt's accepted files. Raises UsageError where another prompt shares them."""
        if [each.stem for each in self.prompts.values()].count(prompt.stem) > 1:
            raise UsageError("Another prompt shares these files; keep this one beside them.")
        return self._accepted(prompt)

    def _written_before(self, prompt: Prompt, data: bytes) -> Path | None:
        return next((f for f in self._accepted(prompt) if f.read_bytes() == data), None)

    def _accepted(self, prompt: Prompt) -> tuple[Path, ...]:
        found = self._takes().get(prompt.utterance, ())
        return tuple(Path(take.path) for take in found if take.state == "accepted")

    def _takes(self) -> Takes:
        # Of all prompts together: whose a file is can depend on what else is asked for.
        return takes.find_takes(
            (p.utterance for p in self.prompts.values()), [self.folder], self.store
        )
