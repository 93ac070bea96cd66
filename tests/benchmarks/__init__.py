"""Measures of speed and quality; each prints a table."""

import os

# As the program itself does: threads of small products only wait, and count as time of one core.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
