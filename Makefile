# `make demo` and `make test` need nothing before them.
PYTHON ?= python3
BIN := .venv/bin
DEMOS := programs/heron-07.yaml programs/otter-12.yaml programs/badger-03.yaml
APT := apt-get -qq -o DPkg::Lock::Timeout=120

.PHONY: setup demo test lint format clean bench shots browser speech

# pip's own record of what is installed comes last, so a broken set-up is tried again.
.venv/ready: pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv || \
	  { $(APT) update && $(APT) install -y python3-venv && $(PYTHON) -m venv .venv; }
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
	@touch $@

setup: .venv/ready browser speech tests/js/node_modules/.ready

browser:
	@command -v chromium > /dev/null || \
	  { $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y --no-install-recommends chromium > /dev/null; }

# Recordings of real people, for tests alone: tests/outside/real_speech.py says whose.
speech:
	@test -f /usr/share/sounds/alsa/Side_Left.wav -a -d /usr/share/klettres/en_GB \
	  -a -d /usr/share/asterisk/sounds/en_US_f_Allison || \
	  { $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y --no-install-recommends \
	    alsa-utils asterisk-core-sounds-en-wav klettres-data > /dev/null; }

tests/js/node_modules/.ready: tests/js/package-lock.json .venv/ready
	@PATH="$(CURDIR)/$(BIN):$$PATH" npm ci --prefix tests/js --silent --no-audit --no-fund
	@touch $@

demo: .venv/ready
	@mkdir -p demo
	@$(BIN)/practice-site build $(DEMOS) --out demo/public
	@$(BIN)/practice-site print $(DEMOS) --to demo/sheets --out demo/public
	@if [ -t 0 ] && [ -t 1 ]; then $(BIN)/practice-site serve $(DEMOS) --out demo/public; \
	else echo "To see the sites: make demo at a terminal, or open the folders above with any web server."; fi

test: setup
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check --quiet .
	@$(BIN)/mypy
	@PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/python -m pytest -n auto -q

lint: .venv/ready
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy

format: .venv/ready
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .

bench: .venv/ready
	@$(BIN)/python -m tests.benchmarks

shots: setup
	@$(BIN)/python -m tests.browser.shots

clean:
	rm -rf demo public sheets proof .practice build dist *.egg-info
