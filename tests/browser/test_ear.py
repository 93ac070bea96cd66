"""The exercise for the helper's ear: what it says, and that it keeps nothing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.axe import found
from tests.browser.conftest import TABLET, watch
from tests.browser.sitting import until
from tests.support.demos import Demos

pytestmark = pytest.mark.browser
# What is played, by the address that it was fetched from; and each draw of chance is the lowest.
PLAYED = """
window.played = [];
const [fetched, begun] = [window.fetch, AudioBufferSourceNode.prototype.start];
const decode = BaseAudioContext.prototype.decodeAudioData;
const names = new WeakMap();
window.fetch = async (source) => {
  const answer = await fetched(source);
  const bytes = await answer.arrayBuffer();
  names.set(bytes, String(source));
  return { ok: answer.ok, arrayBuffer: async () => bytes };
};
BaseAudioContext.prototype.decodeAudioData = async function (bytes) {
  const name = names.get(bytes);
  const buffer = await decode.call(this, bytes);
  names.set(buffer, name);
  return buffer;
};
AudioBufferSourceNode.prototype.start = function () {
  played.push(names.get(this.buffer));
  return begun.call(this);
};
Math.random = () => 0;
"""


def test_four_words_are_marked_and_each_is_told_after(
    browser: Browser, demos: Demos, axe: str
) -> None:
    plan = demos.plans["heron-07"]
    words = {word: (right.path, wrong.path) for word, right, wrong in plan.programs[0].wrong}
    context = browser.new_context(viewport=TABLET)
    watched = watch(context, f"{demos.base}{plan.slug}/")
    page = watched.page
    page.add_init_script(PLAYED)
    watched.open("helper/")
    card = page.get_by_role("region", name="Train your ear")
    status = card.get_by_role("status")
    card.get_by_role("button", name="Start listening").focus()
    page.keyboard.press("Enter")
    called = []
    for number in range(1, 5):
        expect(card.get_by_role("button", name="Hear it")).to_be_focused()
        expect(status).to_contain_text(f"Word {number} of 4: ")
        word = status.inner_text().split("\n")[0].partition(": ")[2]
        missed = card.get_by_role("button", name="missed")
        expect(missed).to_be_disabled()  # nothing was heard yet
        page.keyboard.press("Enter")
        until(page, f"played.length === {number}")  # a mark calls off what has not begun to sound
        missed.click()
        expect(missed).to_have_attribute("aria-pressed", "true")
        played = page.evaluate("played.at(-1)")
        right, wrong = (played == f"../{path}" for path in words[word])
        assert right != wrong
        called.append(right)
        told = f"This was “{word}” as it should be: clear." if right else "This was said with /t/"
        expect(status).to_contain_text(told)
        assert (status.get_by_text("Hear it again, and listen").count() == 1) == right
        assert found(page, axe) == [] or number > 1
        expect(card.get_by_role("button", name="Next" if number < 4 else "Finish")).to_be_focused()
        page.keyboard.press("Enter")
    assert {True, False} == {*called}
    expect(status).to_contain_text("Those were the four.")
    expect(card.get_by_role("button")).to_have_text("Listen once more")
    assert page.evaluate("indexedDB.databases()") == []
    assert page.evaluate("localStorage.length + sessionStorage.length") == 0
    assert watched.errors == []
    page.route("**/*.mp3", lambda route: route.abort())
    watched.open("helper/")
    card.get_by_role("button", name="Start listening").click()
    card.get_by_role("button", name="Hear it").click()
    expect(status).to_contain_text("No sound came.")
    expect(card.get_by_role("button", name="clear")).to_be_disabled()
    context.close()
