"""What changes at a visit, put into the text of a program: current step, baseline, dates of
practice, words out and in. Nothing else that stands there is written anew."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

import yaml

from builder.drafting.insert_step import BOM
from builder.drafting.visit.edit_yaml import (
    Keys,
    find,
    is_list,
    mapping,
    plain,
    with_entries,
    with_line,
    with_value,
    without_entry,
    without_key,
    written_word,
)
from builder.phonetics.position import Position
from builder.problems import UsageError

ODD_ENDS = (
    "its lines end with a lone carriage return: save it in your editor with the line ends of "
    "Windows or Unix."
)
IN_BRACES = "a program in braces cannot be changed here: write each key on its own line."


class Edited:
    """The text of a program, changed step by step. It must be one that was read without a fault.

    Raises UsageError for one that stands in braces as a whole, or has odd ends of line.
    """

    def __init__(self, text: str, file: str = "") -> None:
        place = f"{file}: " if file else ""
        if "\r" in text.replace("\r\n", ""):
            raise UsageError(place + ODD_ENDS)
        self._mark, self._body = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
        root = find(self._body, ())
        if not isinstance(root, yaml.MappingNode) or root.flow_style:
            raise UsageError(place + IN_BRACES)

    @property
    def text(self) -> str:
        """The whole text as it is now."""
        return self._mark + self._body

    def set_current(self, name: str) -> None:
        """Practice the step called `name`, and it alone."""
        node = find(self._body, ("current",))
        if not is_list(node):
            self._body = with_value(self._body, ("current",), plain(name))
            return
        if name not in map(written_word, node.value):
            self._body = with_entries(self._body, ("current",), [plain(name)])
        self._drop_from(("current",), lambda text: text != name)

    def set_baseline(self, date: datetime.date, correct: int, of: int, step: str) -> None:
        """The step called `step` was tried in the room."""
        values = {"date": str(date), "correct": str(correct), "of": str(of), "step": plain(step)}
        node = find(self._body, ("baseline",))
        if node is None:
            line = f"baseline: {mapping(values)}"
            self._body = with_line(self._body, "current", line, after=False)
            return
        for key, value in values.items():
            self._body = with_value(self._body, ("baseline", key), value)

    def remove_baseline(self) -> None:
        """Nothing is known of the new step."""
        if find(self._body, ("baseline",)) is not None:
            self._body = without_key(self._body, "baseline")

    def set_dates(self, dates: Mapping[str, datetime.date]) -> None:
        """Other days in `practice:`, by key: `from`, `visit`."""
        for key, day in dates.items():
            if find(self._body, ("practice",)) is None:
                line = f"practice: {mapping({key: str(day)})}"
                self._body = with_line(self._body, "current", line, after=True)
            else:
                self._body = with_value(self._body, ("practice", key), str(day))

    def set_times(self, keys: Keys, times: int) -> None:
        """Go through the round at `keys` so often, where its `times:` is written."""
        if find(self._body, (*keys, "times")) is not None:
            self._body = with_value(self._body, (*keys, "times"), str(times))

    def word_lists(self) -> Iterator[Keys]:
        """Where the lists of words stand: under `words:`, and the items of word steps."""
        words = find(self._body, ("words",))
        if is_list(words):
            yield ("words",)
        elif isinstance(words, yaml.MappingNode):
            yield from (("words", key.value) for key, value in words.value if is_list(value))
        for at in range(len(find(self._body, ("steps",)).value)):
            level = find(self._body, ("steps", at, "level"))
            if level.value == "word" and is_list(find(self._body, ("steps", at, "items"))):
                yield ("steps", at, "items")

    def words(self, keys: Keys) -> list[str]:
        """The words of a list."""
        return list(map(written_word, find(self._body, keys).value))

    def list_for(self, position: Position) -> Keys | None:
        """The list that a word with the target at `position` comes into; None where there is
        none."""
        lists = list(self.word_lists())
        whole = [keys for keys in lists if keys in {("words",), ("words", position)}]
        own = [keys for keys in lists if keys[0] == "steps"]
        return next(iter(whole or own), None)

    def change_words(self, out: Iterable[str], put: Mapping[Keys, Sequence[str]]) -> None:
        """Without the words `out` in any list, upper and lower case alike; with others at the end
        of lists.

        Raises UsageError where a list would be left without a word.
        """
        gone = {text.lower() for text in out}
        for keys, texts in put.items():
            self._body = with_entries(self._body, keys, list(map(plain, texts)))
        for keys in list(self.word_lists()):
            self._drop_from(keys, lambda text: text.lower() in gone)

    def change_entries(self, keys: Keys, out: Iterable[str], put: Iterable[str]) -> None:
        """Without these entries of a list of words or lines, written exactly so; with others at its
        end. Raises UsageError where it would be left without any."""
        gone = set(out)
        self._body = with_entries(self._body, keys, list(map(plain, put)))
        self._drop_from(keys, lambda text: text in gone)

    def _drop_from(self, keys: Keys, goes: Callable[[str], bool]) -> None:
        texts = self.words(keys)
        out = [at for at, text in enumerate(texts) if goes(text)]
        if len(out) == len(texts):
            raise UsageError(f"no word would be left of {', '.join(texts)}. Add others.")
        for at in reversed(out):
            self._body = without_entry(self._body, keys, at)
