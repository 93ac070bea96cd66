"""What axe-core says against a page."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

OF_COLOUR = ["color-contrast", "link-in-text-block"]  # axe-core's rules that a color decides
# All that is asked of its answer: the rest, tens of kilobytes, is made and sent for nothing.
AXE = """async options => {
  const asked = { ...options, resultTypes: ["violations"] };
  const { violations, passes, incomplete } = await axe.run(asked);
  const ids = rules => rules.map(rule => rule.id);
  const found = violations.map(({ id, nodes }) => ({ id, targets: nodes.map(n => n.target) }));
  return { violations: found, passes: ids(passes), incomplete: ids(incomplete) };
}"""


def found(page: Page, axe: str) -> list[str]:
    """What axe-core says against a page as it is now: rule and places. In light all of its rules,
    in dark, where the style sheets change nothing but colors, those of color."""
    if page.evaluate("typeof axe") == "undefined":
        page.evaluate(axe)
    light: dict[str, Any] = page.evaluate(AXE, {})
    assert len(light["passes"]) > 10
    page.emulate_media(color_scheme="dark")
    dark: dict[str, Any] = page.evaluate(AXE, {"runOnly": OF_COLOUR})
    page.emulate_media(color_scheme="light")
    asked = {*dark["passes"], *dark["incomplete"], *(v["id"] for v in dark["violations"])}
    assert OF_COLOUR[0] in asked
    return [
        f"{v['id']} in {name}: {v['targets']}"
        for name, result in (("light", light), ("dark", dark))
        for v in result["violations"]
    ]
