"""A client past sentences: a text, a story to tell and a talk. Words and code are our own."""

from __future__ import annotations

from builder.model.clinic import Clinic
from builder.model.plan import Plan
from builder.model.program import Client
from builder.planning.make_plan import SiteContext, make
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse
from builder.survey.survey import Survey
from tests.support import plans

HERON = """program: 1
client: heron-31
age: 9
reads: yes
sound: s
position: [initial, final]
mastered: {isolation: 2026-08-01, syllable: 2026-08-10, phrase: 2026-10-12, sentence: 2026-11-09}
current: [at the sea, the picnic, dinner]
reminder: Teeth together
words:
  initial: [sun, soap, sock, seal]
  final: [bus, house, face, mouse]
steps:
  - {name: words, level: word}
  - name: at the sea
    level: reading
    passage: |
      Sam and Cindy sit in the sun by the sea. They see six seals, and one sings.

      "Is it a bus?" says Sam. "No, it sounds like a house full of <b>seals</b>!"
  - name: the picnic
    level: telling
    minutes: 4
    passage: Tell about a picnic by the sea. What is in the bag? Who sits in the sun?
  - {name: dinner, level: talk, where: At dinner, with: Grandpa}
"""


def heron(text: str = HERON) -> Plan:
    """The plan of this client's site."""
    clinic = Clinic.model_validate({"clinic": 1, "contact": {"clinic": "Riverside Clinic"}})
    program = program_in(parse(text.encode(), "heron-31.yaml"), clinic)
    client = Client("heron-31", (program,), clinic, ".")
    nothing = Survey(own={}, drawings={}, takes={})
    return make(client, nothing, SiteContext(plans.SLUG, {"embedded": "1"}))
