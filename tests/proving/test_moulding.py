"""Small parts made on solids by every way of spindle moulder and held router; a setting one millimetre off makes another part."""

from __future__ import annotations

from typing import Any

import pytest

from sequencer.proving.making import carry_out
from tests.features.samples import make
from tests.outside.bench import board
from tests.proving import damage
from tests.proving.test_machines import made

FEATURES: list[tuple[str, str, dict[str, Any], dict[str, float]]] = [
    ("mould-rebate", "rebate", {"edge": "inside/top", "width": 12, "depth": 9}, {"thick": 18, "stock": 18}),
    ("mould-edge-groove", "groove", {"face": "top", "from": "inside", "distance": 6, "width": 6, "depth": 8}, {}),
    (
        "mould-edge-groove",
        "groove",
        {"face": "bottom", "from": "outside", "distance": 6, "width": 16, "depth": 8},
        {"thick": 30, "stock": 30},
    ),
    ("mould-face-groove", "groove", {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6}, {}),
    ("mould-chamfer", "chamfer", {"edges": ["inside/top", "inside/bottom"], "size": 6}, {}),
    ("mould-round-over", "round-over", {"edges": ["inside/top"], "radius": 8}, {}),
    ("hand-rout-groove", "groove", {"face": "inside", "from": "bottom", "distance": 20, "width": 6, "depth": 6}, {}),
    ("hand-rout-groove", "groove", {"face": "outside", "from": "top", "distance": 20, "width": 20, "depth": 6}, {}),
    (
        "hand-rout-stopped-groove",
        "groove",
        {"face": "inside", "from": "bottom", "distance": 20, "width": 9, "depth": 5, "stops": {"left": 40, "right": 60}},
        {},
    ),
    ("hand-rout-housing", "housing", {"face": "inside", "from": "left", "distance": 12, "width": 15, "depth": 5}, {}),
    ("hand-rout-housing", "housing", {"face": "outside", "from": "right", "distance": 100, "width": 26, "depth": 6}, {}),
    (
        "hand-rout-stopped-housing",
        "housing",
        {"face": "inside", "from": "left", "distance": 100, "width": 15, "depth": 5, "stops": {"top": 10}},
        {},
    ),
    ("hand-rout-rebate", "rebate", {"edge": "inside/top", "width": 12, "depth": 8}, {}),
    ("hand-rout-chamfer", "chamfer", {"edges": "inside", "size": 5}, {}),
    ("hand-rout-round-over", "round-over", {"edges": ["inside/top", "inside/bottom"], "radius": 6}, {}),
    (
        "hand-rout-slot",
        "slot",
        {"face": "inside", "at": {"left": 100, "bottom": 40}, "length": 80, "width": 10, "ends": "round"},
        {},
    ),
    (
        "hand-rout-blind-slot",
        "slot",
        {"face": "inside", "at": {"left": 100, "bottom": 40}, "length": 80, "width": 8, "depth": 6, "ends": "round"},
        {},
    ),
    (
        "hand-rout-recess",
        "recess",
        {"face": "inside", "at": {"left": 100, "bottom": 20}, "length": 80, "width": 25, "depth": 5},
        {},
    ),
    (
        "hand-rout-recess",
        "recess",
        {"face": "outside", "at": {"right": 60, "top": 20}, "length": 40, "width": 40, "depth": 2},
        {},
    ),
]
"""Operations of spindle moulder and held router, each with a typical feature and what it asks of the board."""


@pytest.mark.parametrize(("way", "kind", "fields", "sizes"), FEATURES, ids=[f"{row[0]}-{n}" for n, row in enumerate(FEATURES)])
def test_a_feature_cut_this_way_is_the_one_that_is_drawn(
    way: str, kind: str, fields: dict[str, Any], sizes: dict[str, float]
) -> None:
    made(way, "rail/cut", board(make(kind, name="cut", **fields), length=450, **sizes))  # type: ignore[arg-type]


@pytest.mark.parametrize(("way", "kind", "fields", "sizes"), FEATURES, ids=[f"{row[0]}-{n}" for n, row in enumerate(FEATURES)])
def test_a_setting_of_these_one_millimetre_off_is_noticed(
    way: str, kind: str, fields: dict[str, Any], sizes: dict[str, float]
) -> None:
    drawn = board(make(kind, name="cut", **fields), length=450, **sizes)  # type: ignore[arg-type]
    plan = made(way, "rail/cut", drawn)
    task = next(task for task in plan.tasks if task.id == "rail/cut/cut")
    tried = dict(damage.shifted_settings(task))
    assert tried
    for name, shifted in tried.items():
        assert not carry_out(damage.with_task(plan, shifted), drawn).proof.held, name
    for damaged in (damage.turned_over(task), damage.other_edge(task)):
        if damaged != task and kind not in ("chamfer", "round-over", "slot"):
            assert not carry_out(damage.with_task(plan, damaged), drawn).proof.held
