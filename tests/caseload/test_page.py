"""The page: all of every line, links to what is there, and nothing of a program's text as HTML."""

from __future__ import annotations

import base64
import hashlib
import re
from pathlib import Path

from builder.caseload.page import caseload_page
from builder.caseload.rows import rows
from builder.practice.figures.proposal.move import Proposal
from tests.support.caseload import TODAY, client


def test_links_lead_to_what_is_there(tmp_path: Path) -> None:
    sheet = tmp_path / "finch-10 2026-12-07.pdf"
    told = tmp_path / "progress" / "finch-10.html"
    where = {"sheet_file": str(sheet), "progress": str(told)}
    here = client(**where, address="https://practice.example.org/s/")
    html = caseload_page(rows([here, client("wren-11", site="")], TODAY), TODAY)
    links = re.findall(r'href="([^"]+)" aria-label="([^"]+)"', html)
    assert links == [
        (told.as_uri(), "progress of finch-10"),
        (sheet.as_uri(), "sheet of finch-10"),
        ("https://practice.example.org/s/", "site of finch-10"),
    ]


def test_a_programs_text_is_text() -> None:
    html = caseload_page(rows([client(steps=("<script>alert(1)</script>",))], TODAY), TODAY)
    assert "&lt;script&gt;alert(1)" in html
    assert html.count("<script>") == 1


def test_the_policy_names_the_one_script() -> None:
    # By hand after https://www.w3.org/TR/CSP3/#match-element-to-source-list: the digest of all that
    # stands between the tags.
    html = caseload_page(rows([client()], TODAY), TODAY)
    script = html.split("<script>")[1].split("</script>")[0]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in html
    assert "default-src 'none'" in html


def test_of_two_sounds_too_little_to_say_is_told_in_words() -> None:
    found = (Proposal("k-words", "stay", "Stay."), Proposal("s-words", "too little", "Too little."))
    html = caseload_page(rows([client(proposals=found)], TODAY), TODAY)
    assert "<summary>stay, too little to say</summary>" in html


def test_a_proposal_opens_its_sentence() -> None:
    found = (Proposal("k-words", "on", "Propose moving on: 54 of 60 <clear>."),)
    html = caseload_page(rows([client(proposals=found), client("wren-11")], TODAY), TODAY)
    assert "<summary>on</summary><p>Propose moving on: 54 of 60 &lt;clear&gt;.</p>" in html
    assert html.count("<details>") == 1
