"""The sites of clients as they were built last, held against what their programs say now."""

from __future__ import annotations

import json
from pathlib import Path

from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.model.program import Client
from builder.workspace.folder import SITE_MARK
from builder.workspace.program_files import by_code
from builder.workspace.stamps import Stamps


class Built:
    """Knows of each client's site whether it is of now; what was built last is read once."""

    def __init__(self, out: Path, base_url: str) -> None:
        self._out, self._base_url = out, base_url
        self._stamps: dict[str, Stamps] = {}

    def site(self, client: Client) -> str:
        """The folder of a client's site, "" where there is none."""
        file = self._file(client)
        return self._known(client, file).site(file) if file else ""

    def removed(self, client: Client) -> bool:
        """Whether a client's site was taken away on purpose."""
        file = self._file(client)
        return bool(file) and self._known(client, file).removed(file)

    def is_of_now(self, client: Client, plan: Plan) -> bool:
        """Whether that site is of the files as they are, or says the same to practice: a new
        version of the tool, or a site built while the voice was away, makes no sheet wrong."""
        file = self._file(client)
        if file and self._known(client, file).of_files_as_they_are(file):
            return True
        try:
            built = json.loads((Path(self.site(client)) / SITE_MARK).read_text("utf-8"))["plan"]
        except (OSError, ValueError, KeyError, TypeError):
            return False
        return bool(built == view_of(plan).digest)

    def _file(self, client: Client) -> str:
        return next(iter(by_code(client.folder).get(client.code, [])), "")

    def _known(self, client: Client, file: str) -> Stamps:
        if client.folder not in self._stamps:
            self._stamps[client.folder] = Stamps([file], str(self._out), self._base_url)
        return self._stamps[client.folder]
