# `make demo` and `make test` do all the set-up on a Debian machine with python3.11, git and make.
VENV ?= .venv
BIN := $(VENV)/bin
WORKERS ?= 2
PIP := PIP_CONSTRAINT=$(CURDIR)/constraints.txt $(BIN)/pip --disable-pip-version-check

.PHONY: demo test test-all lint bench docs clean

demo: $(VENV)/.installed
	$(BIN)/ampwright demo

test: lint
	$(BIN)/pytest -n $(WORKERS) --dist loadfile -m "not slow"

test-all: lint
	$(BIN)/pytest -n $(WORKERS) --dist loadfile

lint: $(VENV)/.installed-dev
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/.installed-dev
	$(BIN)/python -m bench.run

docs: $(VENV)/.installed-dev
	$(BIN)/python -m tools.reference
	$(BIN)/python -m tools.translations
	$(BIN)/python -m tools.web_translations

clean:
	rm -rf $(VENV) build dist src/*.egg-info .pytest_cache .mypy_cache .ruff_cache

$(VENV)/bin/pip: tools/make_venv.sh
	sh tools/make_venv.sh $(VENV)

$(VENV)/.installed: $(VENV)/bin/pip pyproject.toml constraints.txt
	$(PIP) install --quiet --editable .
	touch $@

$(VENV)/.installed-dev: $(VENV)/.installed tools/debian_packages.sh
	sh tools/debian_packages.sh ngspice libreoffice-calc chromium postgresql
	$(PIP) install --quiet --editable '.[dev]'
	touch $@
