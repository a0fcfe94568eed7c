"""Wood that is too thin for a cut: no machine helps, and the remedy is to draw it otherwise."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.findings import Refused
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

JOB = """format: 1
job: Deep furrow
stock:
  strip: {{material: Scots pine, hardness: softwood, form: board, width: 60, thickness: 20, lengths: [2400], surface: planed}}
parts:
  rail:
    count: 2
    stock: strip
    length: 320
    features:
      furrow: {{kind: groove, face: inside, from: bottom, distance: 20, width: 6, depth: {depth}}}
"""


def remedies(folder: Path, depth: float) -> list[str]:
    file = folder / "job.yaml"
    file.write_text(JOB.format(depth=depth), encoding="utf-8")
    with pytest.raises(Refused) as refused:
        make_plan(read_job(file)[0], workshop(), knowledge())
    return [each.remedy for each in refused.value.findings if each.code == "no-way"]


@pytest.mark.parametrize(("depth", "less"), [(18, "1"), (18.5, "1.5")])
def test_the_remedy_of_a_groove_too_deep_is_its_depth_and_no_machine(depth: float, less: str, tmp_path: Path) -> None:
    """Of 20 thick 3 mm must be left under it: 17 deep at most."""
    (remedy,) = remedies(tmp_path, depth)
    assert remedy == f"Make the furrow 17 mm deep at most, {less} mm shallower: no other tool or machine leaves more wood."


def test_a_groove_as_deep_as_it_said_is_planned(tmp_path: Path) -> None:
    file = tmp_path / "job.yaml"
    file.write_text(JOB.format(depth=17), encoding="utf-8")
    made = make_plan(read_job(file)[0], workshop(), knowledge())
    assert any("rail/furrow/cut" in step.tasks for step in made.steps)
