# `make demo` and `make test` need nothing before them.
PYTHON ?= python3
BIN := .venv/bin
DEMOS := heron-07 otter-12 badger-03
# December 4, 2026: after their visits the examples would have no sheets.
EXAMPLES_DAY := SOURCE_DATE_EPOCH=1796385600
APT := apt-get -qq -o DPkg::Lock::Timeout=120

# The lock names all that is needed, also what builds the project: pip resolves and adds nothing.
INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps
LOCK := $(BIN)/uv pip compile pyproject.toml --quiet --universal --python-version 3.11 \
  --generate-hashes --upgrade --group build --custom-compile-command "make lock"

# Hundreds of processes start in a run; each would compile everything again.
unexport PYTHONDONTWRITEBYTECODE

.PHONY: setup demo test quick lint format clean bench quality shots browser webkit speech openssl lock

# The stamp comes last, so a broken set-up is tried again.
.venv/ready: pyproject.toml requirements.txt
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv || \
	  { $(APT) update && $(APT) install -y python3-venv && $(PYTHON) -m venv .venv; }
	@$(INSTALL) --require-hashes -r requirements.txt
	@$(INSTALL) --no-build-isolation -e .
	@touch $@

.venv/ready-for-tests: .venv/ready requirements-test.txt
	@$(INSTALL) --require-hashes -r requirements-test.txt
	@touch $@

setup: .venv/ready-for-tests browser webkit speech openssl tests/js/node_modules/.ready

# Chromium without windows of its own: the same engine for a third of the processor time. Where there
# is no such package, the whole one does.
browser:
	@command -v chromium-headless-shell > /dev/null || \
	  { $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y --no-install-recommends \
	    chromium-headless-shell > /dev/null; } || command -v chromium > /dev/null

# The engine of every iPad, on a screen that nobody sees: 61 MB to fetch, 13 s.
webkit:
	@command -v WebKitWebDriver > /dev/null && command -v Xvfb > /dev/null || \
	  { $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y --no-install-recommends \
	    webkit2gtk-driver xvfb > /dev/null; }

# Recordings of real people, for tests alone: tests/outside/real_speech.py says whose.
speech:
	@test -f /usr/share/sounds/alsa/Side_Left.wav -a -d /usr/share/klettres/en_GB \
	  -a -d /usr/share/asterisk/sounds/en_US_f_Allison || \
	  { $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y --no-install-recommends \
	    alsa-utils asterisk-core-sounds-en-wav klettres-data > /dev/null; }

openssl:
	@command -v openssl > /dev/null || { $(APT) update && $(APT) install -y openssl > /dev/null; }

tests/js/node_modules/.ready: tests/js/package-lock.json .venv/ready-for-tests
	@PATH="$(CURDIR)/$(BIN):$$PATH" npm ci --prefix tests/js --silent --no-audit --no-fund
	@touch $@

demo: .venv/ready
	@mkdir -p demo
	@$(BIN)/practice-site build $(DEMOS) --out demo/public
	@$(EXAMPLES_DAY) $(BIN)/practice-site print $(DEMOS) --to demo/desk --out demo/public
	@if [ -t 0 ] && [ -t 1 ]; then $(BIN)/practice-site serve $(DEMOS) --out demo/public; \
	else echo "To see the sites: make demo at a terminal, or open the folders above with any web server."; fi

test: setup
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check --quiet .
	@$(BIN)/mypy
	@PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/python -m pytest -n auto --dist worksteal -q

# Without sound, browser, whole sites and the index of all words: under 40 s on two free cores.
quick: lint
	@$(BIN)/python -m pytest -n auto --dist worksteal -q -m "not (outside or slow)" \
	  --ignore tests/audio --ignore tests/browser --ignore tests/outside

lint: .venv/ready-for-tests
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy

format: .venv/ready-for-tests
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .

bench: .venv/ready-for-tests
	@$(BIN)/python -m tests.benchmarks

# Lighthouse is a package of its own, and its lock too: 190 MB, which no test needs.
tests/quality/node_modules/.ready: tests/quality/package-lock.json .venv/ready-for-tests
	@PATH="$(CURDIR)/$(BIN):$$PATH" npm ci --prefix tests/quality --silent --no-audit --no-fund
	@touch $@

quality: .venv/ready-for-tests browser tests/quality/node_modules/.ready
	@PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/python -m tests.quality

shots: setup
	@$(BIN)/python -m tests.browser.shots

# The newest releases within the ranges of pyproject.toml, for every system and Python at once.
lock: .venv/ready-for-tests
	@$(LOCK) --output-file requirements.txt
	@$(LOCK) --extra test --constraints requirements.txt --output-file requirements-test.txt

clean:
	rm -rf demo public desk proof .practice build dist *.egg-info
