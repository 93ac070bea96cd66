from __future__ import annotations

import pytest

from builder.text.templates import environment, folder, marked_up


@pytest.mark.parametrize(
    ("sentence", "html"),
    [
        ("Write `sound: k`.", "Write <code>sound: k</code>."),
        ("`a` or `b`", "<code>a</code> or <code>b</code>"),
        ("`<b>` & 'cow'", "<code>&lt;b&gt;</code> &amp; &#39;cow&#39;"),
        (
            "`proof a-b --heard`",
            '<code>proof a-b <span class="option">--heard</span></code>',
        ),
        ("one ` alone", "one ` alone"),
        ("", ""),
    ],
)
def test_what_is_typed_becomes_code(sentence: str, html: str) -> None:
    assert str(marked_up(sentence)) == html


def test_templates_are_there_and_escape() -> None:
    assert (folder() / "pages" / "step.html").is_file()
    assert environment("pages").from_string("{{ word }}").render(word="<b>") == "&lt;b&gt;"
