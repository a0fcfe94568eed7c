"""Small parts made on solids by the ways of sanders, drills with a lead, router plane, spokeshave, rasps, sled and jig."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Decision
from sequencer.paper.drawing import picture
from sequencer.paper.step_pictures import Pictured
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.features.samples import make
from tests.made import knowledge, workshop
from tests.outside.bench import board

PLAIN = {"face": "outside", "gauge": 8, "at": {"left": 60}, "countersunk": False}
HOLLOW = [
    {"at": {"left": 150, "top": 0}},
    {"arc_to": {"left": 300, "top": 0}, "radius": 120, "turn": "left"},
]
WAYS: list[tuple[str, str, dict[str, Any], dict[str, float]]] = [
    ("round-corner-on-belt", "rounded-corner", {"corners": ["top/left"], "radius": 6}, {}),
    ("chamfer-end-on-belt", "chamfer", {"edges": ["inside/left"], "size": 3}, {}),
    ("sand-curve-on-bobbin", "outline", {"edge": "top", "points": HOLLOW}, {}),
    ("drill-hole-by-mains-drill", "hole", {"face": "inside", "at": {"left": 60, "bottom": 45}, "diameter": 12}, {}),
    (
        "drill-plain-screw-holes-by-mains-drill",
        "screw-holes",
        {"face": "outside", "gauge": 8, "at": {"left": 60}, "countersunk": False},
        {},
    ),
    ("sand-opening-on-bobbin", "cut-out", {"at": {"left": 100, "top": 0}, "length": 120, "width": 40, "radius": 20}, {}),
    ("cut-mitre-on-sled", "mitre", {"end": "left", "long": "bottom"}, {}),
    ("router-plane-housing", "housing", {"face": "inside", "from": "left", "distance": 100, "width": 15, "depth": 5}, {}),
    ("router-plane-rebate", "rebate", {"edge": "inside/left", "width": 12, "depth": 5}, {}),
    ("spokeshave-chamfer", "chamfer", {"edges": ["inside/top"], "size": 6}, {}),
    ("spokeshave-round-over", "round-over", {"edges": ["inside/top"], "radius": 8}, {}),
    ("shape-thick-curve", "outline", {"edge": "top", "points": HOLLOW}, {"thick": 30, "stock": 30}),
    ("rasp-curve", "outline", {"edge": "top", "points": HOLLOW}, {}),
    ("file-rounded-corner", "rounded-corner", {"corners": ["top/left"], "radius": 20}, {}),
    ("file-end-round-over", "round-over", {"edges": ["inside/top"], "radius": 6}, {}),
    ("saw-taper-in-jig", "taper", {"edge": "top", "from": "left", "amount": 20}, {"count": 2}),
]


@pytest.mark.parametrize(("way", "kind", "fields", "sizes"), WAYS, ids=[row[0] for row in WAYS])
def test_a_part_made_this_way_is_the_part_that_is_drawn(
    way: str, kind: str, fields: dict[str, Any], sizes: dict[str, float]
) -> None:
    drawn = board(make(kind, name="cut", **fields), length=450, **sizes)  # type: ignore[arg-type]
    drawn = replace(drawn, decisions=(Decision("rail/cut", "Head of technology", "for this check", way=way),))
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    making = carry_out(plan, drawn)
    proof = with_record(plan, making).proof
    assert proof is not None
    assert proof.held, [look for look in proof.looks if not look.held]
    step = next(step for step in plan.steps for task in step.tasks if task == "rail/cut/cut" and step.kind == "work")
    assert step.operation == next(each.operations[way].name for each in knowledge().stations.values() if way in each.operations)
    assert picture(step, Pictured(plan, drawn, making)).readable
