"""How many of the 500 commonest practice words have a drawing, and which have none.

    python -m tests.benchmarks.drawings

Practice words: nouns that children know by seven (wordbank/data), the commonest first (wordfreq).
"""

from __future__ import annotations

from wordfreq import zipf_frequency

from builder.make import drawings
from builder.wordbank.norms import classes, everyday, known_from

WORDS, YEARS = 500, 7


def main() -> None:
    """Print the count and the words without one."""
    known = (w for w in everyday() if "noun" in classes(w) and (known_from(w) or 0) <= YEARS)
    words = sorted(known, key=lambda w: (-zipf_frequency(w, "en"), w))[:WORDS]
    bare = [word for word in words if drawings.find(word) is None]
    print(f"{WORDS - len(bare)} of {WORDS} have a drawing; none have: {', '.join(bare)}")


if __name__ == "__main__":
    main()
