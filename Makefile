# make demo: plan the example and write its sheets under out/.   make test: everything the tests need, then the tests.
# Another Python: make demo PYTHON=python3.12

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test tested lint schemas clean

demo: $(VENV)/installed
	@$(BIN)/sequencer demo --out out

# Types are checked by one processor while the tests begin on the others.
test: $(VENV)/installed-for-tests
	@$(MAKE) --no-print-directory --jobs 2 lint tested

tested: $(VENV)/installed-for-tests
	@$(BIN)/pytest -n auto --dist worksteal

lint: $(VENV)/installed-for-tests
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy

# The published schemas are written from the code; a test compares them.
schemas: $(VENV)/installed
	@for kind in job workshop plan class-plan; do $(BIN)/sequencer schema $$kind > examples/schemas/$$kind.schema.json; done

clean:
	rm -rf $(VENV) out dist build

$(VENV)/made:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null || { echo "Python 3.11 or newer is needed and $(PYTHON) is older or missing: install one, then run: make $(MAKECMDGOALS) PYTHON=python3.12"; exit 2; }
	@$(PYTHON) -c 'import venv, ensurepip' 2>/dev/null || { echo "This Python has no venv module: install it (on Debian or Ubuntu: sudo apt install python3-venv), then run make again."; exit 2; }
	@$(PYTHON) -m venv $(VENV)
	@touch $@

$(VENV)/installed: $(VENV)/made pyproject.toml constraints.txt
	@echo "Installing into $(VENV)/ ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e .
	@touch $@

$(VENV)/installed-for-tests: $(VENV)/installed pyproject.toml constraints.txt
	@echo "Installing what the tests need ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[test]'
	@touch $@
