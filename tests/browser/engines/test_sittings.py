"""A sitting as a family goes through it, in Chromium and in WebKit, the engine of every iPad."""

from __future__ import annotations

from itertools import cycle, repeat

from tests.browser.engines.devices import Device, wait
from tests.browser.engines.family import (
    LISTEN,
    MARKS,
    begin,
    by_keys,
    by_touch,
    in_view_at,
    kept,
    keys,
    mark,
    once_a_shape,
    practise,
    taken,
    wait_for,
)

STEP = "k-words/"  # five words in three rounds
TRIES = 15
# What is left of common screens when a browser's bars have taken their share.
SIZES = ((320, 480), (360, 560), (844, 340), (820, 1106), (1180, 746), (390, 664))


def test_a_whole_sitting_by_touch_with_the_marks_in_view_at_every_size(
    device: Device, base: str
) -> None:
    device.open(base)  # all of today, one step after the other
    device.js("addEventListener('pointerdown', e => { window.pointer = e.pointerType; }, true)")
    begin(device, by_touch)
    at_each_size = once_a_shape(lambda d: in_view_at(d, SIZES))
    marked = practise(device, by_touch, cycle(MARKS), at_each_size)
    (sitting,) = kept(device)
    assert [t.mark for t in sitting.trials] == marked
    assert {"k-words", "sh-final-words"} <= {t.step for t in sitting.trials}
    assert device.js("return window.pointer") == device.finger


def test_a_whole_sitting_by_the_keyboard_alone(device: Device, base: str) -> None:
    device.open(base + STEP)
    begin(device, by_keys)
    marked = practise(device, by_keys, repeat("clear"), lambda _: None)
    (sitting,) = kept(device)
    assert [t.mark for t in sitting.trials] == marked == ["clear"] * TRIES
    by_keys(device, "home")
    wait(lambda: device.js("return location.href") == base, "no way home")


def test_a_model_sounds_when_it_is_asked_for(device: Device, base: str) -> None:
    device.open(base + STEP)
    device.js(LISTEN)
    by_touch(device, "start")
    wait_for(device, "hear")
    assert device.js("return window.sounded") == [], "nothing plays by itself"
    by_touch(device, "hear")
    wait_for(device, "clear")  # the marks wake when it was heard
    (seconds,) = device.js("return window.sounded")
    assert 0.2 < seconds < 3
    by_touch(device, "clear")
    wait(lambda: bool(kept(device)), "no record")
    assert kept(device)[0].trials[0].support == "imitation", "it was heard, so it is an imitation"


def test_the_last_mark_is_taken_back_and_stop_asks_first(device: Device, base: str) -> None:
    device.open(base + STEP)
    begin(device, by_touch)
    mark(device, by_touch, "missed")
    by_touch(device, "change")
    by_touch(device, "clear")
    taken(device)
    mark(device, by_touch, "almost")
    assert [t.mark for t in kept(device)[0].trials] == ["clear", "almost"]
    by_touch(device, "pause")
    by_touch(device, "go-on")
    mark(device, by_touch, "not_tried")
    by_touch(device, "pause")
    by_touch(device, "stop")
    wait_for(device, "home")
    (sitting,) = kept(device)
    assert [t.mark for t in sitting.trials] == ["clear", "almost", "not_tried"]


def test_a_page_that_dies_after_a_mark_goes_on_behind_it(device: Device, base: str) -> None:
    device.open(base + STEP)
    begin(device, by_touch)
    mark(device, by_touch, "clear")
    by_touch(device, "decline") if "decline" in keys(device) else None
    by_touch(device, "almost")
    device.kill()
    device.open(base + STEP)
    by_touch(device, "resume")
    wait_for(device, "decline", *MARKS)
    mark(device, by_touch, "missed")
    (sitting,) = kept(device)
    assert [t.mark for t in sitting.trials] == ["clear", "almost", "missed"]


def test_too_hard_leads_to_an_easier_step_in_the_same_sitting(device: Device, base: str) -> None:
    device.open(base + STEP)
    begin(device, by_touch)
    mark(device, by_touch, "clear")
    by_touch(device, "pause")
    by_touch(device, "too-hard")
    mark(device, by_touch, "clear")
    (sitting,) = kept(device)
    assert [t.step for t in sitting.trials] == ["k-words", "k-with-a-vowel"]
