"""WebKitGTK on a screen of its own: Debian's webkit2gtk-driver under Xvfb. The engine is Safari's;
sound, storage limits and the gestures of a tablet are Apple's own and are not tested here."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from http.client import HTTPConnection
from pathlib import Path

from tests.support.missing import missing

# MiniBrowser's own bar would not let a window be as narrow as a telephone.
NARROW = "* { min-width: 0; min-height: 0; padding: 0; margin: 0; font-size: 1px; }"
SCREEN = "1280x1280x24"
READY_S = 20
# Without a graphics card its compositor is played by the processor, which is half of all its work.
PLAIN = {"WEBKIT_DISABLE_COMPOSITING_MODE": "1"}


def there_is_webkit() -> None:
    """Else the tests are skipped, or fail where everything is installed."""
    for program in ("WebKitWebDriver", "Xvfb"):
        if shutil.which(program) is None:
            missing(f"{program} is not there (Debian: webkit2gtk-driver, xvfb)")


@contextmanager
def webkit_driver(display: str, folder: Path) -> Iterator[int]:
    """The port of a running driver, whose settings are in a folder of its own."""
    (folder / "gtk-3.0").mkdir(parents=True)
    (folder / "gtk-3.0" / "gtk.css").write_text(NARROW, "utf-8")
    own = {"DISPLAY": display, "XDG_CONFIG_HOME": str(folder), "XDG_DATA_HOME": str(folder)}
    port = free_port()
    driver = subprocess.Popen(
        ["WebKitWebDriver", f"--port={port}"],
        env={**os.environ, **PLAIN, **own},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        wait_for(port)
        yield port
    finally:
        os.killpg(driver.pid, signal.SIGTERM)
        driver.wait(READY_S)


@contextmanager
def screen() -> Iterator[str]:
    """A screen that nobody sees, under a number that is free."""
    told, tells = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(tells), "-screen", "0", SCREEN, "-nolisten", "tcp"],
        pass_fds=[tells],
        stderr=subprocess.DEVNULL,
    )
    os.close(tells)
    try:
        with os.fdopen(told) as number:
            yield f":{number.readline().strip()}"
    finally:
        server.terminate()
        server.wait(READY_S)


def free_port() -> int:
    """A port on which nobody listens."""
    with socket.create_server(("127.0.0.1", 0)) as one:
        return int(one.getsockname()[1])


def wait_for(port: int) -> None:
    """Until the driver takes requests."""
    give_up = time.monotonic() + READY_S
    while True:
        try:
            with closing(HTTPConnection("127.0.0.1", port, timeout=READY_S)) as connection:
                connection.request("GET", "/status")
                connection.getresponse().read()
            return
        except ConnectionRefusedError:
            if time.monotonic() > give_up:
                raise
            time.sleep(0.02)
