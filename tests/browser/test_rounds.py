"""A step done by clicking, by roles and names, at tablet size."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, FloatRect, Locator, Page, ViewportSize, expect

from builder.model.practice_view import view_of
from tests.browser.conftest import Watched, watch
from tests.browser.sitting import MOMENT_MS, kept, mark, press, skip_time, until
from tests.support import plans

pytestmark = pytest.mark.browser
# What is left of common screens when a browser's bars have taken their share.
SIZES = pytest.mark.parametrize(
    ("width", "height"),
    [(320, 480), (360, 560), (390, 664), (844, 340), (820, 1106), (1180, 746)],
)


def start(page: Page) -> None:
    """Begin; the page's clock need not be waited for."""
    skip_time(page)
    press(page, "Start")
    page.locator(".task, .summary").wait_for()


# The practice record as IndexedDB holds it.
IN_DATABASE = f"""new Promise((resolve, reject) => {{
    const request = indexedDB.open("practice-{plans.SLUG}");
    request.onerror = reject;
    request.onsuccess = () => {{
        const all = request.result.transaction("sittings").objectStore("sittings").getAll();
        all.onsuccess = () => {{ request.result.close(); resolve(all.result); }};
    }};
}})"""


def test_a_whole_step_is_done_by_clicking(watched: Watched) -> None:
    watched.page.clock.install(time="2026-12-07T08:15:00")  # no midnight before the way back
    page = watched.open("")
    page.get_by_role("link", name="k: words").click()
    press(page, "Start")
    expect(page.get_by_role("heading", name="1 of 15")).to_be_visible()
    expect(page.locator("practice-rounds img")).to_have_attribute("src", "../pictures/1F511.svg")
    expect(page.get_by_role("status")).to_have_text("1 of 15: key. Listen. Then say it.")
    press(page, "Hear it")
    expect(page.get_by_text("Now you say it.").last).to_be_attached()
    press(page, "clear")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    for kind in ("almost", "clear", "not_tried", "missed"):
        mark(page, kind)
    press(page, "Next round")
    press(page, "Hear it")
    expect(page.get_by_text("Wait quietly…").last).to_be_visible()
    expect(page.get_by_text("Say it now!").last).to_be_attached()
    press(page, "clear")
    expect(page.get_by_role("heading", name="7 of 15")).to_be_visible()
    for _ in range(4):
        mark(page, "clear")
    press(page, "Next round")
    for _ in range(5):
        mark(page, "clear")
    expect(page.get_by_role("heading", name="You did it!")).to_be_focused()
    expect(page.get_by_text("14 tries. Well done!")).to_be_visible()
    page.locator("summary", has_text="For the helper").click()
    expect(page.get_by_role("listitem").filter(has_text="clear")).to_contain_text("12")
    page.get_by_label("A few words for your therapist").fill("went well")
    (sitting,) = kept(page)
    view = view_of(plans.plan(plans.program_k(), plans.program_sh()))
    assert (sitting.site, sitting.plan) == (plans.SLUG, view.digest)
    assert sitting.practice == view.practice_digest
    assert [t.mark for t in sitting.trials[:5]] == [
        "clear",
        "almost",
        "clear",
        "not_tried",
        "missed",
    ]
    given = ["imitation", *["spontaneous"] * 4, "delayed"]
    assert [t.support for t in sitting.trials[:6]] == given, "what was heard, not what was planned"
    assert sitting.note == "went well"
    assert page.evaluate(IN_DATABASE) == [sitting.model_dump(mode="json")]
    page.get_by_role("link", name="Back to today’s page").click()
    expect(page.get_by_role("heading", name="Good start")).to_be_visible()
    assert watched.errors == []


def test_marks_sleep_until_the_model_was_heard_or_is_not_wanted(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    clear = page.get_by_role("button", name="clear", exact=True)
    expect(clear).to_have_attribute("aria-disabled", "true")
    clear.click(force=True)
    press(page, "Without hearing")
    page.clock.run_for(MOMENT_MS)
    expect(clear).not_to_have_attribute("aria-disabled", "true")
    press(page, "clear")
    page.clock.run_for(MOMENT_MS)
    expect(clear).to_have_attribute("aria-disabled", "true")
    press(page, "Helper said it")
    clear.click(force=True)  # within the moment after a new word: meant for the last one
    page.clock.run_for(MOMENT_MS)
    press(page, "almost")
    (sitting,) = kept(page)
    given = [(t.item, t.support, t.mark) for t in sitting.trials]
    assert given == [("key", "spontaneous", "clear"), ("cow", "imitation", "almost")]


def test_already_said_ends_the_wait(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    for _ in range(5):
        mark(page, "clear")
    press(page, "Next round")
    page.clock.resume()
    press(page, "Hear it")
    expect(page.locator(".ring")).to_be_visible()
    press(page, "Already said")
    press(page, "clear")
    expect(page.get_by_role("heading", name="7 of 15")).to_be_visible()
    assert kept(page)[0].trials[-1].support == "imitation"


def test_the_last_mark_is_changed_and_its_word_heard(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    mark(page, "missed")
    last = page.get_by_role("group", name="key: missed")
    last.get_by_role("button", name="Hear “key” once more").click()
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    last.get_by_role("button", name="Change the mark of “key”").click()
    expect(page.get_by_role("status")).to_have_text("key: Tap the mark that fits.")
    expect(page.get_by_role("button", name="missed", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    page.clock.run_for(MOMENT_MS)
    press(page, "clear")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    mark(page, "almost")
    assert [(t.item, t.mark) for t in kept(page)[0].trials] == [("key", "clear"), ("cow", "almost")]


def test_a_model_before_a_spontaneous_try_makes_it_an_imitation(watched: Watched) -> None:
    page = watched.open("sh-final-words/")
    start(page)
    for number in range(7):
        mark(page, "clear")
        if number == 4:
            expect(page.get_by_role("heading", name="Time for a breath")).to_be_visible()
            press(page, "Go on")
            page.clock.run_for(MOMENT_MS)
    press(page, "Next round")
    page.clock.resume()
    press(page, "Hear it first")
    expect(page.get_by_text("Now you say it.").last).to_be_attached()
    press(page, "clear")
    expect(page.get_by_role("heading", name="9 of 14")).to_be_visible()
    press(page, "clear")
    expect(page.get_by_role("heading", name="10 of 14")).to_be_visible()
    (sitting,) = kept(page)
    assert [t.support for t in sitting.trials[-2:]] == ["imitation", "spontaneous"]
    assert {t.form for t in sitting.trials[:7]} == {"long"}


def test_misses_in_a_row_bring_the_model_back(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    for _ in range(2):
        for _ in range(5):
            mark(page, "clear")
        press(page, "Next round")
    for _ in range(3):
        mark(page, "missed")
    expect(page.get_by_role("heading", name="That was hard work")).to_be_focused()
    press(page, "Go on")
    expect(page.get_by_role("button", name="Hear it", exact=True)).to_be_focused()
    expect(page.get_by_role("status")).to_have_text("14 of 15: coin. Listen. Then say it.")


def test_too_hard_leads_to_the_easier_step_and_back_in_the_same_run(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    mark(page, "clear")
    press(page, "Stop")
    press(page, "Too hard: go to “with a vowel”")
    page.clock.run_for(MOMENT_MS)
    for _ in range(4):
        expect(page.get_by_role("heading", name="An easier step")).to_be_visible()
        mark(page, "clear")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    press(page, "Stop")
    press(page, "Too hard today")
    expect(page.get_by_role("heading", name="One last word")).to_be_visible()
    mark(page, "clear")
    expect(page.get_by_text("Please tell your therapist.")).to_be_visible()
    (sitting,) = kept(page)
    steps = ["k-words", *["k-with-a-vowel"] * 5]
    assert [t.step for t in sitting.trials] == steps, "the last easy word is the one that was clear"


def test_the_way_back_of_the_browser_asks_first(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    mark(page, "clear")
    page.go_back()
    expect(page.get_by_role("heading", name="A short stop")).to_be_visible()
    press(page, "Go on")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="A short stop")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Good work for today!")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("button", name="Go on with number 2")).to_be_visible()


def test_after_a_miss_the_word_stays_for_one_more_try(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    press(page, "Helper said it")
    page.clock.run_for(MOMENT_MS)
    press(page, "missed")
    page.clock.run_for(MOMENT_MS)
    expect(page.get_by_role("status")).to_have_text("Helper: say “key” once yourself.")
    press(page, "One more try")
    page.clock.run_for(MOMENT_MS)
    press(page, "clear")
    page.clock.run_for(MOMENT_MS)
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    mark(page, "missed")
    expect(page.get_by_role("heading", name="3 of 15")).to_be_visible()
    (sitting,) = kept(page)
    given = [(t.item, t.support, t.mark, t.repeat) for t in sitting.trials]
    assert given == [
        ("key", "imitation", "missed", None),
        ("key", "imitation", "clear", True),
        ("cow", "spontaneous", "missed", None),
    ]


def test_a_mark_changed_after_three_misses_takes_the_offer_back(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    for _ in range(3):
        mark(page, "missed")
    page.get_by_role("button", name="Change the mark").click()
    page.clock.run_for(MOMENT_MS)
    press(page, "almost")
    expect(page.get_by_role("heading", name="4 of 15")).to_be_visible()


def test_closing_the_page_loses_nothing(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    mark(page, "clear")
    press(page, "Without hearing")
    page.clock.run_for(MOMENT_MS)
    press(page, "almost")
    page.reload()
    press(page, "Go on with number 3")
    expect(page.get_by_role("heading", name="3 of 15")).to_be_visible()
    mark(page, "missed")
    (sitting,) = kept(page)
    assert [t.mark for t in sitting.trials] == ["clear", "almost", "missed"]
    press(page, "Stop")
    press(page, "Enough for today")
    expect(page.get_by_text("3 tries. Well done!")).to_be_visible()
    assert page.locator(".totals strong").all_text_contents() == ["1", "1", "1", "0"]


def test_stop_asks_first_and_enough_is_enough(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    mark(page, "clear")
    press(page, "Stop")
    expect(page.get_by_role("button", name="Too hard: go to “with a vowel”")).to_be_visible()
    press(page, "Go on")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    press(page, "Stop")
    press(page, "Enough for today")
    expect(page.get_by_role("heading", name="Good work for today!")).to_be_visible()
    assert len(kept(page)[0].trials) == 1
    page.set_viewport_size({"width": 360, "height": 560})
    word, chip = (boxes(page.locator(name))[0] for name in (".last-word", ".last"))
    assert chip["y"] <= word["y"] < word["y"] + word["height"] <= chip["y"] + chip["height"]
    assert word["width"] >= page.locator(".last-word").evaluate("e => e.scrollWidth")


def test_a_picture_round_shows_the_word_only_when_asked_or_marked(watched: Watched) -> None:
    page = watched.open("k-words/")
    start(page)
    for _ in range(2):
        for _ in range(5):
            mark(page, "clear")
        press(page, "Next round")
    word = page.locator(".item-text")
    expect(word).to_have_count(0)
    press(page, "Show the word")
    expect(word).to_have_text("key")
    mark(page, "clear")
    expect(page.get_by_role("img", name="cow")).to_be_visible()
    expect(word).to_have_count(0)
    page.clock.run_for(MOMENT_MS)
    press(page, "clear")
    expect(word).to_have_text("cow")


@SIZES
def test_a_try_is_on_one_screen_and_fits_fingers(
    browser: Browser, base: str, width: int, height: int
) -> None:
    size: ViewportSize = {"width": width, "height": height}
    context = browser.new_context(viewport=size)
    page = watch(context, base).open("k-words/")
    start(page)
    fits(page, size)
    mark(page, "clear")
    fits(page, size)
    page.locator("html").evaluate("e => { e.style.fontSize = '225%'; }")  # letters twice as large
    until(page, "document.documentElement.scrollWidth <= innerWidth")
    for where in (0, 9999):
        page.locator("practice-rounds").evaluate("(e, y) => e.scrollTo(0, y)", where)
        inside(page.locator(".mark, .models .hear"), size)
    (picture,) = boxes(page.locator("practice-rounds img"))
    assert picture["height"] >= 0.37 * height or width > height
    press(page, "Stop")
    inside(page.locator(".choices .button"), size)
    context.close()


def fits(page: Page, size: ViewportSize) -> None:
    """Everything is in view; standing, the picture has 38 % of the height."""
    inside(page.locator("practice-rounds button"), size)
    (picture,) = boxes(page.locator("practice-rounds img"))
    assert picture["height"] >= (0.38 if size["height"] > size["width"] else 0.5) * size["height"]
    for box in boxes(page.locator(".mark, .models .button")):
        assert box["height"] >= 56


def inside(shown: Locator, size: ViewportSize) -> None:
    for box in boxes(shown):
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= size["width"]
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= size["height"]
        assert min(box["width"], box["height"]) >= 44


def boxes(shown: Locator) -> list[FloatRect]:
    """Where all of them that are to be seen lie, from one look."""
    found: list[FloatRect] = shown.evaluate_all(
        "all => all.filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect().toJSON())"
    )
    assert found
    return found


def test_keys_alone_are_enough(watched: Watched) -> None:
    page = watched.open("k-words/")
    page.get_by_role("button", name="Start", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Hear it")).to_be_focused()
    for _ in range(2):
        page.keyboard.press("Tab")
    page.keyboard.press("Space")  # not needed
    clear = page.get_by_role("button", name="clear", exact=True)
    expect(clear).to_be_focused()
    expect(clear).not_to_have_attribute("aria-disabled", "true")
    page.keyboard.press("Space")
    expect(clear).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("heading", name="2 of 15")).to_be_visible()
    expect(page.get_by_role("button", name="Hear it")).to_be_focused()


@pytest.mark.parametrize("missing", ["indexedDB", "localStorage"])
def test_one_memory_is_enough(watched: Watched, missing: str) -> None:
    watched.page.add_init_script(
        f"Object.defineProperty(window, '{missing}', {{get() {{ throw new Error('no'); }}}})"
    )
    page = watched.open("k-words/")
    start(page)
    mark(page, "clear")
    if missing == "localStorage":  # the database is written meanwhile
        until(page, f"{IN_DATABASE}.then((all) => all.length > 0)")
    page.reload()
    expect(page.get_by_role("button", name="Go on with number 2")).to_be_visible()
    assert watched.errors == []


def test_a_clip_that_is_there_sounds_in_the_same_turn_as_the_tap(watched: Watched) -> None:
    """Nothing else comes between, so no clock is needed."""
    watched.page.add_init_script(
        """const decode = BaseAudioContext.prototype.decodeAudioData;
        const start = AudioBufferSourceNode.prototype.start;
        BaseAudioContext.prototype.decodeAudioData = async function (...data) {
            const buffer = await decode.apply(this, data); window.decoded = true; return buffer; };
        AudioBufferSourceNode.prototype.start = function (...when) {
            if (window.turn) window.sounded ??= window.turn; return start.apply(this, when); };
        addEventListener("click", ({ target }) => {
            if (!target.closest("[data-key=hear]")) return;
            window.turn = "the same";
            setTimeout(() => { window.turn = "a later one"; }); }, true);"""
    )
    page = watched.open("k-words/")
    press(page, "Start")
    page.wait_for_load_state("networkidle")
    until(page, "window.decoded")
    press(page, "Hear it")
    until(page, "window.sounded")
    assert page.evaluate("window.sounded") == "the same"
