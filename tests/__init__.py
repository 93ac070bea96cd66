from __future__ import annotations

import os

# As the program itself does: threads of small products only wait, and take a core meanwhile.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
