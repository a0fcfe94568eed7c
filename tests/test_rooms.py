"""Rooms: each imports only from rooms to its left, and what is slow to load is loaded where it is needed."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.made import ROOT

ROOMS = (
    "findings",
    "ordering",
    "scheduling",
    "model",
    "features",
    "reading",
    "knowledge",
    "design",
    "solid",
    "planning",
    "proving",
    "classroom",
    "paper",
    "pipeline",
    "asking",
    "cli",
)
BESIDE = {
    "talk": "pipeline",
    "plan_file": "pipeline",
    "class_plan_file": "pipeline",
    "talk_lessons": "pipeline",
    "calendar_file": "pipeline",
    "table_file": "pipeline",
    "data": "findings",
    "__init__": "findings",
    "__main__": "cli",
}
"""Modules at the top that are no rooms, with the room they stand beside: they may import what it may, and itself."""
EXCEPT = {("model/job.py", "sequencer.features.base")}
"""A job holds features; they are named for type checkers only."""

MODULES = sorted((ROOT / "sequencer").rglob("*.py"))


def _room(name: str) -> int:
    return ROOMS.index(BESIDE.get(name, name))


def _imports(file: Path) -> Iterator[tuple[str, bool]]:
    """Modules imported anywhere in a file, and whether that happens as it loads."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    later = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) or (isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING")
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        names = (
            [alias.name for alias in node.names]
            if isinstance(node, ast.Import)
            else [node.module]
            if isinstance(node, ast.ImportFrom) and node.module
            else []
        )
        for name in names:
            yield name, node not in later


@pytest.mark.parametrize("file", MODULES, ids=lambda file: str(file.relative_to(ROOT)))
def test_a_module_imports_only_from_rooms_to_its_left(file: Path) -> None:
    inside = file.relative_to(ROOT / "sequencer")
    own = inside.parts[0].removesuffix(".py")
    for name, _ in _imports(file):
        top, *rest = name.split(".")
        if top != "sequencer" or not rest or (inside.as_posix(), name) in EXCEPT:
            continue
        assert _room(rest[0]) <= _room(own), f"{inside} imports {name}"


@pytest.mark.parametrize("file", MODULES, ids=lambda file: str(file.relative_to(ROOT)))
def test_imports_are_absolute(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    assert [node.lineno for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.level] == []


def test_what_a_job_holds_is_named_for_type_checkers_only() -> None:
    assert ("sequencer.features.base", False) in _imports(ROOT / "sequencer" / "model" / "job.py")


def test_only_the_layout_and_its_neighbour_know_the_layout_library() -> None:
    users = [
        file.relative_to(ROOT).as_posix() for file in MODULES if any(name.startswith("weasyprint") for name, _ in _imports(file))
    ]
    assert users == ["sequencer/paper/pdf.py"]


def test_only_one_module_knows_the_solid_library() -> None:
    users = [
        file.relative_to(ROOT).as_posix() for file in MODULES if any(name.startswith("manifold3d") for name, _ in _imports(file))
    ]
    assert users == ["sequencer/solid/solids.py"]


def _loaded(code: str) -> set[str]:
    """The modules that are loaded after running a piece of code in a fresh interpreter."""
    said = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(' '.join(sys.modules), file=sys.stderr)"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return set(said.stderr.splitlines()[-1].split())


SLOW = {"pydantic", "yaml", "networkx", "jinja2", "weasyprint", "markdown_it", "numpy", "scipy", "manifold3d", "trimesh"}


def test_the_command_line_itself_loads_nothing_slow() -> None:
    assert _loaded("import sequencer.cli") & SLOW == set()


def test_planning_and_proving_load_the_solids_but_neither_graphs_nor_paper() -> None:
    for command in ("plan", "prove"):
        words = [command, "examples/starter/job.yaml"]
        loaded = _loaded(f"from sequencer.cli import main; main({words})")
        assert loaded & SLOW == {"pydantic", "yaml", "numpy", "manifold3d"}
        assert not [name for name in loaded if name.startswith("sequencer.paper")]
