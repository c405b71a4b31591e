# Two commands for a newcomer: `make demo` and `make test`. Each sets up all it needs.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin

.PHONY: demo test check bench lock pictures clean ready browser

demo: ready
	$(BIN)/mancary demo

ready: $(VENV)/.ready

$(VENV)/.ready: locks/dev.txt pyproject.toml tools/setup.sh
	PYTHON="$(PYTHON)" sh tools/setup.sh $(VENV)
	touch $@

browser:
	sh tools/browser.sh

test: ready browser
	$(BIN)/python -m pytest -n 2 --dist worksteal

check: ready
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest tests/house_rules -q

bench: ready
	$(BIN)/python -m bench

pictures: ready browser
	$(BIN)/python tools/pictures.py

lock: ready
	sh tools/lock.sh $(BIN)/uv

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
