"""What a family does in a sitting, by the keys that the player's buttons carry, on any page with a
player: nothing here knows what is practiced, or how many rounds there are."""

from __future__ import annotations

import json
import math
import time
from collections.abc import Callable, Iterator

from builder.model.record import Sitting
from tests.browser.engines.devices import Device, wait

FASTER = 12  # times as fast do the timers of a page run that need not be waited for
MARKS = ("clear", "almost", "missed", "not_tried")
ONWARD = ("go-on", "next")  # what leads on where nothing is marked
# Sooner than this a second tap at the same place is a double tap, which the page takes for one.
DOUBLE_S, NEAR_PX = 0.35, 45
Hand = Callable[[Device, str], None]

# All that a page may be asked in one look. What is asleep or covered cannot be pressed.
LOOK = """
const buttons = [...document.querySelectorAll('[data-key]')].filter(e => e.checkVisibility());
const free = e => e.getAttribute('aria-disabled') !== 'true' && !e.closest('[hidden]');
return {
  keys: buttons.filter(free).map(e => e.dataset.key),
  at: document.activeElement?.dataset.key ?? '',
  pressed: !!document.querySelector('.marks [aria-pressed=true]'),
  over: !!document.querySelector('.summary [data-key]'),
  text: document.querySelector('main')?.innerText ?? '',
};
"""
SPOT = """
const button = document.querySelector(`[data-key="${arguments[0]}"]`);
const { x, y, width, height } = button.getBoundingClientRect();
const [left, top] = [x + width / 2, y + height / 2];
return [left, top, button.contains(document.elementFromPoint(left, top))];
"""
# What a finger must reach now: the marks where there are any, else what leads on.
HIDDEN = """
const wanted = document.querySelector('.marks') ? '.marks [data-key]' : '.choices .big, .big';
const inside = ({ left, top, right, bottom }) =>
  left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight;
const all = [...document.querySelectorAll(wanted)].filter(e => e.checkVisibility());
const hidden = all.filter(e => !inside(e.getBoundingClientRect())).map(e => e.dataset.key);
return [innerWidth, innerHeight, all.length, hidden];
"""
# What decides how a screen is laid out: its parts, and what kind of word or picture it shows.
SHAPE = """
const parts = [...document.querySelectorAll('practice-rounds *')].filter(e => e.checkVisibility());
return [...new Set(parts.map(e => e.dataset.key ?? `${e.localName}.${e.className}`))].join(' ');
"""
HURRY = """
const slow = window.setTimeout;
window.setTimeout = (work, ms, ...rest) => slow(work, ms / arguments[0], ...rest);
"""
KEPT = """
const sittings = Object.keys(localStorage).filter(key => key.includes(':sitting:'));
return sittings.map(key => localStorage.getItem(key));
"""
LISTEN = """
window.sounded = [];
const start = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (...when) {
  window.sounded.push(this.buffer.duration);
  return start.apply(this, when);
};
"""


def hurry(device: Device) -> None:
    """From here on nothing on this page is waited for as long as a family waits."""
    device.js(HURRY.replace("arguments[0]", str(FASTER)))


def keys(device: Device) -> list[str]:
    """What can be pressed now, by its key."""
    found: list[str] = device.js(LOOK)["keys"]
    return found


def wait_for(device: Device, *wanted: str) -> str:
    """Until one of the keys can be pressed; which it is."""
    found: list[str] = []

    def there() -> bool:
        found[:] = [key for key in wanted if key in keys(device)]
        return bool(found)

    wait(there, f"{wanted} in: {device.js(LOOK)['text']}")
    return found[0]


def at_rest(device: Device, key: str) -> None:
    """Until a button has stayed where it is for a while: what comes late above it moves it."""
    wait_for(device, key)
    seen: list[list[float]] = []

    def rests() -> bool:
        seen.append(device.js(SPOT, key))
        time.sleep(0.05)
        return len(seen) > 6 and seen[-7:] == [seen[-1]] * 7

    wait(rests, f"{key} does not stay")


def by_touch(device: Device, key: str) -> None:
    """A finger on the middle of a button, which must be there and not covered."""
    wait_for(device, key)
    x, y, free = device.js(SPOT, key)
    assert free, f"{key} is covered or out of view"
    before, left, top, when = device.tapped
    if key != before and math.hypot(x - left, y - top) < NEAR_PX:
        time.sleep(max(0.0, when + DOUBLE_S - time.monotonic()))
    device.touch(x, y)
    device.tapped = (key, x, y, time.monotonic())


def by_keys(device: Device, key: str) -> None:
    """Tab to a button, then Enter."""
    wait_for(device, key)
    for _ in range(40):
        if device.js(LOOK)["at"] == key:
            return device.press("Enter")
        device.press("Tab")
    raise AssertionError(f"no way to {key} by Tab")


def begin(device: Device, hand: Hand) -> None:
    """Start, and be at the first word; from then on in a hurry."""
    hand(device, "start")
    wait_for(device, "decline", *MARKS, *ONWARD)
    hurry(device)


def mark(device: Device, hand: Hand, kind: str) -> None:
    """Mark the word that is there, without its model, and be past what a miss asks."""
    if wait_for(device, "decline", kind) == "decline":
        hand(device, "decline")
    hand(device, kind)
    taken(device)
    if "retry" in keys(device):
        hand(device, "go-on")


def taken(device: Device) -> None:
    """Until a mark has been seen and what is next is there; a missed word stays, with its mark."""
    here = "nothing came after the mark"
    wait(lambda: (now := device.js(LOOK))["keys"].count("retry") or not now["pressed"], here)


def practise(
    device: Device, hand: Hand, marks: Iterator[str], look: Callable[[Device], None]
) -> list[str]:
    """Mark word after word until the summary is there, and look at each screen; what was marked."""
    marked: list[str] = []
    while not device.js(LOOK)["over"]:
        key = wait_for(device, "decline", "clear", *ONWARD)
        look(device)
        if key in ONWARD:
            hand(device, key)
        else:
            marked.append(next(marks))
            mark(device, hand, marked[-1])
    return marked


def once_a_shape(look: Callable[[Device], None]) -> Callable[[Device], None]:
    """Look only at a screen that is laid out as none before."""
    seen: set[str] = set()

    def fresh(device: Device) -> None:
        shape = device.js(SHAPE)
        if shape not in seen:
            seen.add(shape)
            look(device)

    return fresh


def in_view_at(device: Device, sizes: tuple[tuple[int, int], ...]) -> None:
    """At each size all marks are to be seen, or all that leads on."""
    for width, height in sizes:
        device.resize(width, height)
        *size, count, hidden = device.js(HIDDEN)
        assert size == [width, height]
        assert count, device.js(LOOK)["text"]
        assert hidden == [], f"{width}x{height}: {device.js(LOOK)['text']}"


def kept(device: Device) -> list[Sitting]:
    """The practice record as localStorage holds it."""
    texts: list[str] = device.js(KEPT)
    return [Sitting.model_validate(json.loads(text)) for text in texts]
