"""The wheel: what it holds, and that it does its main job from a new environment in another folder."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import venv
from pathlib import Path
from zipfile import ZipFile

import pytest

from sequencer.data import FOLDERS
from sequencer.paper.sheets import SHEETS
from tests.made import ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the checkout."""
    out = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(ROOT)],
        check=True,
        capture_output=True,
    )
    (made,) = out.glob("*.whl")
    return made


def _kept(folder: Path) -> set[str]:
    return {file.relative_to(ROOT).as_posix() for file in folder.rglob("*") if file.is_file() and "__pycache__" not in file.parts}


def test_the_wheel_holds_all_code_and_all_data_and_nothing_else(wheel: Path) -> None:
    inside = {name for name in ZipFile(wheel).namelist() if ".dist-info/" not in name}
    data = {f"sequencer/_data/{name}" for folder in FOLDERS for name in _kept(ROOT / folder)}
    assert inside == _kept(ROOT / "sequencer") | data


@pytest.mark.parametrize(
    "pattern",
    [
        "operations/.*\\.yaml",
        "operations/lists/.*\\.yaml",
        "hazards/.*\\.md",
        "cards/.*\\.css",
        "cards/signs/.*\\.svg",
        "cards/fonts/.*\\.(ttf|otf|woff2?)",
        "examples/schemas/(job|workshop|plan)\\.schema\\.json",
        "examples/starter/job\\.yaml",
        "examples/starter/workshop\\.yaml",
        "examples/workshops/.*\\.yaml",
        "examples/herb-caddy/job\\.yaml",
    ],
)
def test_the_wheel_holds_what_the_tool_needs(wheel: Path, pattern: str) -> None:
    assert [name for name in ZipFile(wheel).namelist() if re.fullmatch(f"sequencer/_data/{pattern}", name)]


def test_the_wheel_carries_licence_and_command(wheel: Path) -> None:
    files = ZipFile(wheel)
    (points,) = (name for name in files.namelist() if name.endswith("entry_points.txt"))
    assert "sequencer = sequencer.cli:main" in files.read(points).decode()
    assert any(name.endswith("licenses/LICENSE") for name in files.namelist())


def test_an_installed_wheel_runs_the_demo_in_another_folder(wheel: Path, tmp_path: Path) -> None:
    venv.create(tmp_path / "env")
    scripts = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin")
    clean = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "VIRTUAL_ENV")}
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "--python",
            str(scripts / "python"),
            "install",
            "--quiet",
            "--no-compile",
            "--disable-pip-version-check",
            "-c",
            str(ROOT / "constraints.txt"),
            str(wheel),
        ],
        check=True,
        capture_output=True,
        env=clean,
    )
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    made = subprocess.run(
        [str(scripts / "sequencer"), "demo", "--date", "2027-02-01"],
        cwd=folder,
        capture_output=True,
        text=True,
        env=clean,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    written = {file.name for file in (folder / "out").iterdir()}
    assert {f"{sheet}.html" for sheet in SHEETS} <= written
    assert made.stdout.startswith("Planned the herb caddy for 24 students in ")


def _targets() -> set[str]:
    return set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))


@pytest.mark.parametrize("file", ["README.md", "DEVELOPERS.md"])
def test_every_make_command_of_the_documents_exists(file: str) -> None:
    named = re.findall(r"(?:^    |`)make ([a-z]+)", (ROOT / file).read_text(encoding="utf-8"), re.MULTILINE)
    assert named
    assert set(named) <= _targets()


def test_every_command_of_the_readme_exists() -> None:
    from sequencer.cli import main

    text = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"sequencer ([a-z-]+)", text)) | set(re.findall(r"^\| `([a-z-]+)[ `]", text, re.MULTILINE))
    assert {"new", "check", "plan", "why", "ways", "papers", "demo"} <= named
    for command in sorted(named):
        with pytest.raises(SystemExit) as stop:
            main([command, "--help"])
        assert stop.value.code == 0, command


@pytest.mark.parametrize(
    ("words", "first"),
    [
        (("check", "examples/nest-box/job.yaml"), "note: examples/nest-box"),
        (("plan", "examples/herb-caddy/job.yaml"), "step  by"),
        (("prove", "examples/herb-caddy/job.yaml"), "step 18:"),
    ],
)
def test_what_the_readme_shows_is_what_the_command_prints(
    words: tuple[str, str], first: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every line of the excerpt, in order; lines between may be left out."""
    from sequencer.cli import main

    monkeypatch.chdir(ROOT)
    blocks = re.findall(r"(?:^    .+\n)+", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    (shown,) = (block for block in blocks if block.startswith(f"    {first}"))
    assert main([*words, "--workshop", "examples/workshops/full.yaml"]) == 0
    printed = iter(capsys.readouterr().out.splitlines())
    missing = [line for line in shown.splitlines() if line[4:] not in printed]
    assert not missing


def test_continuous_integration_runs_make_test() -> None:
    assert "make test" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")
