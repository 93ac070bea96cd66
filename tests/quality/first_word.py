"""How long a family waits on a slow connection: from the code's page to the first word that can be
heard, with Start tapped the moment it is there. The other tap was on what the camera offered."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from playwright.sync_api import Browser

from tests.browser.conftest import PHONE

# https://github.com/GoogleChrome/lighthouse/blob/main/docs/throttling.md: "slow 4G" as it is meant,
# and as DevTools, which delays requests and not packets, has to be set for the same.
SLOW = 4  # times as slow is the processor
GIVE_UP_MS = 30_000


@dataclass(frozen=True)
class Network:
    """A connection. Round trip in ms, both ways in kbit/s."""

    name: str
    trip: float
    speed: float


NETWORKS = (
    Network("slow 4G: 150 ms a request, 1.6 Mbit/s", 150, 1638.4),
    Network("the same for DevTools: 562.5 ms a request, 1.44 Mbit/s", 562.5, 1474.56),
)
# A word can be heard when its button is there and a clip is decoded.
WATCH = """
let [decoded, shown] = [0, 0];
const told = () => { if (decoded && shown) window.playable ??= Math.max(decoded, shown); };
const decode = BaseAudioContext.prototype.decodeAudioData;
BaseAudioContext.prototype.decodeAudioData = async function (...all) {
  const clip = await decode.apply(this, all);
  decoded ||= performance.now();
  told();
  return clip;
};
new MutationObserver(() => {
  if (!shown && document.querySelector("[data-key=hear]")) shown = performance.now();
  told();
}).observe(document, { subtree: true, childList: true });
"""


def seconds(browser: Browser, address: str, network: Network) -> float:
    """From the first page's navigation until the first word can be heard, nothing kept before."""
    context = browser.new_context(viewport=PHONE, has_touch=True)
    page = context.new_page()
    page.add_init_script(WATCH)
    door = context.new_cdp_session(page)
    door.send("Network.enable")
    rate = network.speed * 1000 / 8
    limits = {"latency": network.trip, "downloadThroughput": rate, "uploadThroughput": rate}
    door.send("Network.emulateNetworkConditions", {"offline": False, **limits})
    door.send("Emulation.setCPUThrottlingRate", {"rate": SLOW})
    page.goto(address, wait_until="commit")
    page.locator("[data-key=start]").click()
    playable: float | None = None
    while playable is None:
        page.wait_for_timeout(100)
        playable = page.evaluate("window.playable ?? null")
        assert page.evaluate("performance.now()") < GIVE_UP_MS, address
    context.close()
    return playable / 1000


def median_seconds(browser: Browser, address: str, network: Network, runs: int = 3) -> float:
    """Of some runs the middle one."""
    return median(seconds(browser, address, network) for _ in range(runs))
