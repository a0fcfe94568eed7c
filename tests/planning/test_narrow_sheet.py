"""Narrow strips of thin sheet: staff are told to think of cutting them. The figure, 15 mm, is from memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import EXAMPLES, knowledge, plan, workshop

LATH = """format: 1
job: Lath
stock:
  ply: {{material: birch plywood, form: sheet, thickness: {thick}, sheet: [1220, 610]}}
parts:
  lath: {{stock: ply, length: 240, width: {wide}}}
"""


def lath(folder: Path, wide: float, thick: float = 4.0, shop: str = "hand-tools") -> Plan:
    file = folder / "job.yaml"
    file.write_text(LATH.format(wide=wide, thick=thick), encoding="utf-8")
    return make_plan(read_job(file)[0], workshop(shop), knowledge())


def test_a_narrow_strip_of_thin_sheet_is_a_remark_to_staff(tmp_path: Path) -> None:
    made = lath(tmp_path, 12)
    (told,) = (each for each in made.findings if each.code == "narrow-sheet")
    step = next(each for each in made.steps if each.who.operator == "student" and each.station_kind == "hand-sawing")
    assert told.level == "note"
    assert f"12 mm wide and 4 mm thick; at step {step.number} students" in told.what
    assert "yourselves" in told.remedy
    assert "bought" in told.remedy or "buying" in told.remedy
    assert told.source == "from memory"


@pytest.mark.parametrize(("wide", "thick"), [(15, 4), (40, 4), (12, 9)])
def test_wider_strips_and_thicker_sheet_are_left_alone(tmp_path: Path, wide: float, thick: float) -> None:
    assert not [each for each in lath(tmp_path, wide, thick).findings if each.code == "narrow-sheet"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_example_has_a_strip_so_narrow(name: str) -> None:
    assert not [each for each in plan(name, "hand-tools").findings if each.code == "narrow-sheet"]
