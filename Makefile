# Set-up and checks. Everything is made inside the checkout, in .venv, .cache and target.

PYTHON ?= python3
CARGO ?= cargo

BIN := .venv/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check
INSTALL := $(PIP) install --quiet --require-hashes --no-build-isolation
CHESS := chess-1.11.2
CHESS_SOURCE := .cache/$(CHESS)
LOCK := $(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes \
	--no-header --no-annotate --no-emit-index-url --no-emit-find-links

RUST_FILES := Cargo.toml Cargo.lock $(shell find crates/core crates/uci crates/python -name '*.rs' -o -name Cargo.toml)
SCRIPTS := $(wildcard scripts/*.py benches/*.py)
PAGES := src/fastness/web/static/index.html
PAGE_FILES := $(addprefix frontend/,index.html package-lock.json vite.config.ts openapi.json) \
	$(shell find frontend/src frontend/public -type f -not -name schema.d.ts)
MANUAL := src/fastness/web/manual.pdf
MANUAL_FILES := $(wildcard docs/manual/*.md docs/pictures/*) scripts/manual.py scripts/manual.typ

# Cargo cannot use the job slots of make -j and would warn about them.
unexport MAKEFLAGS MFLAGS
export VIRTUAL_ENV := $(CURDIR)/.venv
export PYO3_PYTHON := $(CURDIR)/.venv/bin/python
export FASTNESS_CHESS_SOURCE := $(CURDIR)/$(CHESS_SOURCE)

.DELETE_ON_ERROR:
.PHONY: help demo words test test-rust test-python test-front lint lint-style lint-types lint-imports lint-rust lint-parts \
	fuzz fuzz-rust fuzz-python bench endure serve sweep-long front manual wheel test-wheel clean lock format toolchain

help:
	@echo 'make demo    set up, then go through the games of an invented club'
	@echo 'make test    set up, then run every test'
	@echo 'make lint    style, types, import rules'
	@echo 'make fuzz    try any bytes on what reads them (FUZZ_SECONDS=1200 for each target)'
	@echo 'make bench   measure speed'
	@echo 'make endure  work with a store at random, and with the workbench for half an hour'
	@echo 'make words   collect the texts for people and compile the catalogues'
	@echo 'make serve   start the workbench for a browser'
	@echo 'make manual  build the manual for teachers as a PDF'
	@echo 'make wheel   build the package that is installed elsewhere, in dist'
	@echo 'make test-wheel   build it, then try it in a new environment without Rust and Node'
	@echo 'make format  lay out the source as make lint wants it'
	@echo 'make lock    write the lock files anew (UPGRADE=--upgrade takes newer versions)'
	@echo 'make clean   remove all that was made'

demo: .venv/built
	@bash scripts/demo.sh

test: test-rust test-python test-front

# The built package is made first: both builds share their compiled parts.
test-rust: .venv/built $(CHESS_SOURCE)/setup.py
	$(CARGO) test --release --locked --workspace

test-python: .venv/built .venv/dev $(CHESS_SOURCE)/setup.py $(PAGES)
	@bash scripts/system_packages.sh
	$(BIN)/python -m pytest -n auto --dist loadgroup $(PYTEST_ARGS)

lint: lint-style lint-types lint-imports lint-rust lint-parts

lint-style: .venv/dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

lint-types: .venv/built .venv/dev
	$(BIN)/mypy src tests $(SCRIPTS)
	$(BIN)/python -m mypy.stubtest --mypy-config-file pyproject.toml fastness.core._native

lint-imports: .venv/dev
	$(BIN)/lint-imports --no-logo

lint-rust: .venv/made
	$(CARGO) fmt --all --check
	$(CARGO) clippy --workspace --all-targets --locked -- -D warnings

# Where every part comes from, under which licence, and what is known against it.
lint-parts: .venv/dev
	@$(BIN)/python -m scripts.audit

# The long form of what the ordinary tests try for some seconds. Each target of fuzz/ for so long,
# from the seeds that are kept and what earlier runs found; it needs a nightly toolchain.
FUZZ_SECONDS ?= 1200
FUZZ_TARGETS ?= fen pgn search uci
FUZZ_TRIES ?= 20000
fuzz: fuzz-rust fuzz-python

# Lessons, game files, score sheets, codes of homework and typed positions, each tried so often.
fuzz-python: .venv/built .venv/dev
	FASTNESS_TRIES=$(FUZZ_TRIES) $(BIN)/python -m pytest -n auto tests/lessons/test_fuzz.py \
		tests/intake/test_fuzz.py tests/intake/test_scoresheet_fuzz.py tests/practice/test_fuzz.py \
		tests/workflows/test_fuzz.py

fuzz-rust:
	@$(CARGO) +nightly --version >/dev/null 2>&1 || { \
		echo 'Fuzzing needs a nightly toolchain: rustup toolchain install nightly --profile minimal.' >&2; exit 2; }
	@$(CARGO) fuzz --version >/dev/null 2>&1 || { \
		echo 'Fuzzing needs cargo-fuzz: cargo install cargo-fuzz --locked.' >&2; exit 2; }
	@for target in $(FUZZ_TARGETS); do mkdir -p fuzz/corpus/$$target && \
		$(CARGO) +nightly fuzz run --sanitizer none $$target fuzz/corpus/$$target fuzz/seeds/$$target -- \
		-max_total_time=$(FUZZ_SECONDS) -timeout=60 -print_final_stats=1 || exit 1; done

bench: .venv/built
	$(BIN)/python -m benches.run $(BENCH_ARGS)
	$(BIN)/python -m benches.web
	$(BIN)/python -m benches.lesson

endure: .venv/built .venv/dev $(PAGES)
	FASTNESS_ENDURE=1 $(BIN)/python -m pytest -n 0 tests/store/test_store_machine.py
	$(BIN)/python -m benches.soak $(SOAK_ARGS)

# Twenty kills, and 25,000 and 100,000 games in 1 and 2 processes: hours, on a machine without
# other work.
sweep-long: .venv/built .venv/dev
	FASTNESS_SWEEP_GAMES=2000 FASTNESS_SWEEP_KILLS=20 \
		$(BIN)/python -m pytest tests/workflows/test_sweeping.py -k killed
	$(BIN)/python -m scripts.measure_sweep --games 25000 --reach 1 --again $(SWEEP_ARGS)

# Texts that are new in a language are left empty for the translator.
words: .venv/built .venv/dev
	$(BIN)/python -m scripts.words
	$(BIN)/python -m scripts.page_words

# The pages are built where Node is there; without them the server says so.
serve: .venv/built $(MANUAL)
	@if command -v npm >/dev/null; then $(MAKE) --no-print-directory front; \
	else echo 'Node was not found: the pages are not built. Debian: apt-get install nodejs npm.' >&2; fi
	$(BIN)/fastness serve $(SERVE_ARGS)

front: $(PAGES)

manual: $(MANUAL)

# Built by way of the source distribution, so that this is known to be whole. The wheel's name tells
# the glibc that its compiled part needs.
wheel: .venv/built $(PAGES) $(MANUAL)
	rm -f dist/fastness-*
	$(BIN)/maturin build --quiet --release --locked --sdist --out dist
	@$(BIN)/python -m scripts.wheel_files dist/fastness-*.whl

test-wheel: wheel
	$(BIN)/python -m scripts.try_wheel dist/fastness-*.whl

frontend/node_modules/.package-lock.json: frontend/package-lock.json
	@command -v npm >/dev/null || { echo 'npm was not found. Install Node 20 or newer (Debian: apt-get install nodejs npm).' >&2; exit 2; }
	cd frontend && npm ci --no-audit --no-fund

test-front: frontend/node_modules/.package-lock.json $(PAGES)
	cd frontend && npm run check && npm test

clean:
	rm -rf .venv .cache target dist .mypy_cache .pytest_cache .ruff_cache .import_linter_cache .hypothesis
	find src tests scripts benches -name __pycache__ -prune -exec rm -rf {} + 2>/dev/null || true
	rm -rf fuzz/target fuzz/corpus fuzz/artifacts
	rm -rf frontend/node_modules src/fastness/web/static $(MANUAL)
	rm -f src/fastness/core/_native*.so

format: .venv/dev
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .
	$(CARGO) fmt --all

lock: .venv/dev
	cd requirements && for name in build run dev; do \
		../$(LOCK) $(UPGRADE) $$name.in -o $$name.txt || exit 1; done

# The files below record that a step of the set-up is done; make repeats it when its inputs change.

.venv/made: | toolchain
	$(PYTHON) -m venv --clear .venv
	@touch $@

.venv/run: .venv/made requirements/build.txt requirements/run.txt
	$(INSTALL) -r requirements/build.txt
	$(INSTALL) -r requirements/run.txt
	@touch $@

.venv/dev: .venv/run requirements/dev.txt
	$(INSTALL) -r requirements/dev.txt
	@touch $@

# Python files are read from src as they stand; only Rust and the metadata need a build.
.venv/built: .venv/run pyproject.toml $(RUST_FILES) | toolchain
	PIP_QUIET=1 $(BIN)/maturin develop --quiet --release --locked
	@touch $@

# The pages as they are served.
$(PAGES): frontend/node_modules/.package-lock.json $(PAGE_FILES)
	cd frontend && npm run build
	@touch $@

$(MANUAL): .venv/built $(MANUAL_FILES)
	$(BIN)/python -m scripts.manual

# Tables and position lists for the tests.
$(CHESS_SOURCE)/setup.py: requirements/tables.txt | .venv/run
	@mkdir -p .cache
	$(PIP) download --quiet --no-deps --no-binary :all: --no-build-isolation --require-hashes \
		-r requirements/tables.txt -d .cache
	tar -xzf .cache/$(CHESS).tar.gz -C .cache
	@touch $@

toolchain:
	@command -v $(PYTHON) >/dev/null || { \
		echo '$(PYTHON) was not found. Install Python 3.11 or newer (Debian: apt-get install python3 python3-venv),' >&2; \
		echo 'or name one: make PYTHON=/path/to/python3.' >&2; exit 2; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
		echo "$(PYTHON) is $$($(PYTHON) --version 2>&1); Python 3.11 or newer is needed." >&2; \
		echo 'Name one: make PYTHON=/path/to/python3.' >&2; exit 2; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { \
		echo '$(PYTHON) cannot make virtual environments. Debian: apt-get install python3-venv.' >&2; exit 2; }
	@for tool in $(CARGO) rustc; do command -v $$tool >/dev/null || { \
		echo "$$tool was not found. Install Rust 1.95 or newer with rustup (Debian: apt-get install rustup," >&2; \
		echo 'then: rustup toolchain install stable --profile default).' >&2; exit 2; }; done
