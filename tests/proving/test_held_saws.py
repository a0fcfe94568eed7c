"""Small parts made on solids by every way of jigsaw, circular saw held in the hands and laser cutter; a millimetre off shows."""

from __future__ import annotations

from typing import Any

import pytest

from sequencer.features.base import Feature
from sequencer.model.job import Job, Stock
from sequencer.model.plan import Task
from sequencer.proving.making import carry_out
from tests.design.jobs import job, part
from tests.features.samples import make
from tests.made import knowledge
from tests.outside.bench import board
from tests.proving.damage import POSITION, shifted_marks, shifted_settings, with_task
from tests.proving.forced import forced

SHEETS = [
    ("break-sheet-by-jigsaw", "rough-length"),
    ("break-sheet-with-circular-saw", "rough-length"),
    ("trim-sheet-to-width-with-circular-saw", "width"),
    ("square-sheet-end-with-circular-saw", "first-end"),
    ("crosscut-sheet-with-circular-saw", "length"),
]
"""Ways of bringing a sheet to size."""

STEP = [
    {"at": {"left": 0, "bottom": 150}},
    {"at": {"left": 150, "bottom": 150}},
    {"at": {"left": 250, "top": 0}},
]
HELD: list[tuple[str, str, dict[str, Any], float]] = [
    ("saw-thin-curve-by-jigsaw", "rounded-corner", {"corners": ["top/left", "bottom/right"], "radius": 60}, 6),
    ("saw-curve-by-jigsaw", "outline", {"edge": ["left", "top"], "points": STEP}, 18),
    ("saw-opening-by-jigsaw", "cut-out", {"length": 120, "width": 60, "radius": 12}, 18),
    ("saw-open-shape-by-jigsaw", "cut-out", {"at": {"left": 100, "top": 0}, "length": 90, "width": 50}, 18),
    ("saw-notch-by-jigsaw", "notch", {"edge": "top", "from": "left", "distance": 60, "length": 40, "depth": 20}, 18),
    ("cut-outline-by-laser", "outline", {"edge": ["left", "top"], "points": STEP}, 3),
    ("cut-outline-by-laser", "outline", {"shape": "ellipse"}, 3),
    ("cut-outline-by-laser", "rounded-corner", {"corners": ["top/left"], "radius": 20}, 3),
    ("cut-opening-by-laser", "cut-out", {"length": 120, "width": 60, "radius": 12}, 3),
    ("cut-opening-by-laser", "cut-out", {"at": {"left": 100, "top": 0}, "length": 90, "width": 50}, 3),
    ("cut-opening-by-laser", "slot", {"face": "inside", "length": 80, "width": 3, "ends": "round"}, 3),
    ("cut-hole-by-laser", "hole", {"face": "inside", "at": {"left": 60, "bottom": 45}, "diameter": 6}, 3),
    ("cut-notch-by-laser", "notch", {"edge": "top", "from": "left", "distance": 60, "length": 40, "depth": 3}, 3),
    ("cut-fingers-by-laser", "finger-joint", {"end": "left", "length": 3, "finger": 10}, 3),
    ("cut-fingers-by-laser", "finger-joint", {"end": "right", "length": 3, "finger": 10, "start": "gap"}, 3),
]
"""Ways of features in a panel of so many mm."""


def panel(*features: Feature, thick: float = 18, length: float = 280) -> Job:
    """One part, `rail`, from a sheet."""
    bought = Stock("panel", "laser plywood", "sheet", 610, thick, (1220,))
    return job([part("rail", "panel", length, 240, thick, *features)], [], stock=(bought,))


def test_a_long_board_is_cut_up_with_the_held_saws() -> None:
    for way in ("saw-blank-by-jigsaw", "crosscut-board-with-circular-saw"):
        made(way, "rail/rough-length", board(length=450))


@pytest.mark.parametrize(("way", "kind"), SHEETS, ids=[way for way, _ in SHEETS])
def test_a_sheet_part_sized_this_way_is_the_part_that_is_drawn(way: str, kind: str) -> None:
    made(way, f"rail/{kind}", panel(length=450))


@pytest.mark.parametrize(("way", "kind", "fields", "thick"), HELD, ids=[f"{row[0]}-{row[1]}" for row in HELD])
def test_a_feature_cut_this_way_is_the_one_that_is_drawn(way: str, kind: str, fields: dict[str, Any], thick: float) -> None:
    made(way, "rail/cut", panel(make(kind, name="cut", **fields), thick=thick))


def test_every_operation_of_the_three_held_stations_is_proved_here() -> None:
    tried = {way for way, *_ in (*SHEETS, *HELD)} | {"saw-blank-by-jigsaw", "crosscut-board-with-circular-saw"}
    kinds = ("jigsaw", "portable-circular-saw", "laser-cutter")
    assert tried == {name for kind in kinds for name in knowledge().stations[kind].operations}


def made(way: str, about: str, drawn: Any) -> None:
    """A job made by a way; every setting and mark a millimetre off is noticed."""
    drawn, plan, task = forced(way, about, drawn)
    if task.kind != "rough-length":
        for changed in (*(each for _, each in shifted_settings(task)), *_shifted_marks(task)):
            damaged = carry_out(with_task(plan, changed), drawn).proof
            assert {look.check for look in damaged.failures} & {"drawing", "setting"}, changed.settings


def _shifted_marks(task: Task) -> list[Task]:
    """The task with its marks 1 mm off, where marks alone say where it is cut."""
    changed = shifted_marks(task)
    set_by = {setting.name for setting in task.settings} & (POSITION - {"inset"})
    return [changed] if changed is not None and not set_by else []
