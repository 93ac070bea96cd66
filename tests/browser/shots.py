"""The pictures of README.md, made from the demo programs: python -m tests.browser.shots.

Needs Chromium. Every picture is reduced to 128 colors, so that the folder stays small.
"""

from __future__ import annotations

import shutil
import tempfile
import threading
from itertools import cycle
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from builder import pipeline
from builder.make import sheets
from builder.make.pictures import make
from builder.program_file.load import clients
from builder.site import serve
from builder.workspace.folder import find
from builder.workspace.store import Store
from tests.browser.conftest import CHROMIUM, LYING, TABLET
from tests.browser.sitting import mark, practise, skip_time
from tests.support.places import EXAMPLES, ROOT

FOLDER = Path(__file__).parent / "shots"
WIDTH = 600  # pixels of a picture


def main() -> None:
    """Build the first demo program in a folder of its own and take every picture."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        space = Path(name)
        shutil.copy(ROOT / "mkdocs.yml", space)
        shutil.copytree(EXAMPLES, space / "programs")
        file = space / "programs" / "heron-07.yaml"
        (site,) = pipeline.build(clients([file]), space / "public")
        (checked,) = map(pipeline.check_client, clients([file]))
        proof = pipeline.proof(checked, find(file), space / "proof", lambda what, done, of: None)
        _handout(site, space)
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            _pages(browser, site.folder)
            page = browser.new_page(viewport=LYING)
            page.goto((proof / "index.html").as_uri())
            _keep(page.screenshot(), "proof")
            browser.close()


def _pages(browser: Browser, site: Path) -> None:
    with serve.server(site, 0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        page = browser.new_page(viewport=TABLET)
        page.goto(f"http://127.0.0.1:{server.server_address[1]}/")
        page.wait_for_load_state("networkidle")
        _keep(page.screenshot(), "today")
        page.get_by_role("button", name="Start").click()
        skip_time(page)
        for _ in range(2):  # the warm-up
            mark(page, "clear")
        page.locator("[data-key=go-on]").click()
        page.locator(".task").wait_for()
        page.wait_for_timeout(300)
        _keep(page.screenshot(), "round")
        marks = cycle(["clear", "almost", "clear", "clear", "missed", "clear", "clear", "clear"])
        practise(page, marks)
        page.wait_for_timeout(500)
        _keep(page.screenshot(), "summary")
        server.shutdown()


def _handout(site: pipeline.Built, space: Path) -> None:
    store = Store(find(space).store)
    pictures = {p.key: make(p, store) for p in site.plan.pictures}
    sheet = sheets.handout(site.plan, pictures, store, dated=True)
    pdf = pypdfium2.PdfDocument(sheet)  # type: ignore[no-untyped-call]
    image = pdf[0].render(scale=1.2).to_pil()
    _reduced(image, "handout")


def _keep(png: bytes, name: str) -> None:
    file = FOLDER / f"{name}.png"
    file.write_bytes(png)
    with Image.open(file) as image:
        _reduced(image, name)


def _reduced(image: Image.Image, name: str) -> None:
    height = round(image.height * WIDTH / image.width)
    small = image.convert("RGB").resize((WIDTH, height), Image.Resampling.LANCZOS)
    small.quantize(128).save(FOLDER / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
