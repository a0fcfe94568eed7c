"""Small parts made on solids by the ways of pull-over saw, spindle moulder, held router, jigsaw, held circular saw and laser."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Stock
from sequencer.model.plan import Plan
from sequencer.planning.planner import ways_of
from sequencer.proving.making import carry_out
from tests.design.jobs import job, part
from tests.features.samples import make
from tests.made import knowledge
from tests.outside.bench import board, equipped, sheet
from tests.proving import damage
from tests.proving.forced import forced

SIZES = [
    ("rough-cut-on-pull-over-saw", "rough-length", {}),
    ("crosscut-on-pull-over-saw", "first-end", {}),
    ("crosscut-on-pull-over-saw", "length", {}),
]
"""Ways of work that is no feature of the drawing."""


@pytest.mark.parametrize(("way", "kind", "sizes"), SIZES, ids=[f"{way}-{kind}" for way, kind, _ in SIZES])
def test_a_part_sized_this_way_is_the_part_that_is_drawn(way: str, kind: str, sizes: dict[str, float]) -> None:
    made(way, f"rail/{kind}", board(length=450, **sizes))  # type: ignore[arg-type]


EDGES = [
    ("rout-moulding", "moulding", {"edges": ["inside/top"], "profile": "cove", "size": 6}),
    ("rout-moulding", "moulding", {"edges": ["inside/top", "inside/bottom"], "profile": "ogee", "size": 5}),
    ("scratch-moulding", "moulding", {"edges": ["inside/bottom"], "profile": "ovolo", "size": 5, "step": 1}),
    (
        "cope-moulding-by-hand",
        "cope",
        {"end": "left", "edge": "inside/top", "profile": "ogee", "size": 8, "depth": 10, "from_end": 25},
    ),
    (
        "cut-moulding-back",
        "cope",
        {"end": "right", "edge": "inside/top", "profile": "square", "size": 30, "width": 8, "depth": 10},
    ),
    ("field-edge-by-plane", "fielded-edge", {"face": "inside", "width": 25, "depth": 7, "step": 1}),
    ("chisel-recess", "recess", {"face": "inside", "length": 50, "width": 20, "depth": 2, "at": {"left": 60, "top": 0}}),
    ("router-plane-recess", "recess", {"face": "outside", "length": 80, "width": 25, "depth": 5}),
    ("saw-bridle-tongue-on-band-saw", "bridle-tongue", {"from": "left", "distance": 105, "width": 90, "depth": 5}),
    ("saw-bridle-tongue-on-band-saw", "bridle-tongue", {"from": "right", "distance": 0, "width": 60, "depth": 4}),
    ("saw-wedge-kerfs-on-band-saw", "wedge-kerfs", {"end": "left", "length": 25, "from_bottom": 20, "width": 1.2}),
    ("saw-tails-on-band-saw", "dovetails", {"end": "left", "tails": 3, "pin": 8, "slope": 6, "length": 15}),
    ("saw-tails-on-band-saw", "dovetails", {"end": "right", "tails": 2, "pin": 8, "half_pin": 6, "slope": 8, "length": 18}),
    (
        "saw-wedge-kerfs-on-band-saw",
        "wedge-kerfs",
        {"end": "right", "length": 20, "from_bottom": 20, "count": 2, "apart": 49, "width": 1.2},
    ),
]
"""Ways of working an edge to a section, of sinking a recess, and of sawing to fence and stop at the band saw."""


@pytest.mark.parametrize(("way", "kind", "fields"), EDGES, ids=[f"{row[0]}-{number}" for number, row in enumerate(EDGES)])
def test_an_edge_recess_or_sawn_joint_made_this_way_is_as_drawn_and_a_millimetre_off_is_not(
    way: str, kind: str, fields: dict[str, Any]
) -> None:
    drawn = board(make(kind, name="cut", **fields), length=450)
    plan = made(way, "rail/cut", drawn)
    task = next(task for task in plan.tasks if task.id == "rail/cut/cut")
    for name, changed in damage.shifted_settings(task):
        if name != "cutter" or kind == "wedge-kerfs":
            assert not carry_out(damage.with_task(plan, changed), drawn).proof.held, name


PANELS = [
    {"face": "inside", "width": 25, "depth": 7, "step": 1},
    {"face": "outside", "width": 30, "depth": 6, "edges": ["top", "bottom"]},
]


@pytest.mark.parametrize("fields", PANELS, ids=["all round", "along the grain"])
def test_a_panel_fielded_on_the_router_table_is_as_drawn_and_a_millimetre_higher_is_not(fields: dict[str, Any]) -> None:
    drawn = sheet(make("fielded-edge", name="cut", **fields), material="pine plywood", length=450, width=320)
    plan = made("rout-fielded-edge", "rail/cut", drawn)
    task = next(task for task in plan.tasks if task.id == "rail/cut/cut")
    tried = {name: changed for name, changed in damage.shifted_settings(task) if name != "cutter"}
    assert list(tried) == ["height"]
    assert not carry_out(damage.with_task(plan, tried["height"]), drawn).proof.held
    step = next(step for step in plan.steps if "rail/cut/cut" in step.tasks and step.kind == "work")
    assert step.who.operator == "staff"
    # The published table: up to 89 mm across 12 000 rev/min at most, which this router has among its steps.
    assert "12000 rev/min" in next(each.text for each in task.settings if each.name == "cutter")


def test_a_panel_too_small_or_a_cutter_nobody_has_stated_is_no_work_for_the_router_table() -> None:
    for short, unstated in ((False, True), (True, False)):
        field = make("fielded-edge", name="cut", face="inside", width=25, depth=7)
        drawn = sheet(field, material="pine plywood", length=450, width=240 if short else 320)
        shop = equipped("router-table")
        if unstated:
            table = shop.stations["router-table"]
            figures = {name: value for name, value in table.figures.items() if name != "panel-cutter"}
            shop = replace(shop, stations={**shop.stations, "router-table": replace(table, figures=figures)})
        ((_, found, _),) = ways_of("rail/cut/cut", drawn, shop, knowledge())
        way = next(each for each in found if each.operation == "rout-fielded-edge")
        assert not way.possible
        said = " ".join(each.what for each in way.obstacles)
        assert ("too short to be guided" in said) == short
        assert ("not known" in said) == unstated


@pytest.mark.parametrize("kerf", [0.9, 1.6])
def test_a_band_saw_with_another_blade_saws_other_kerfs(kerf: float) -> None:
    drawn = board(make("wedge-kerfs", name="cut", end="left", length=25, from_bottom=20, width=1.2), length=450)
    plan = made("saw-wedge-kerfs-on-band-saw", "rail/cut", drawn)
    task = next(task for task in plan.tasks if task.id == "rail/cut/cut")
    settings = tuple(replace(each, value=kerf) if each.name == "cutter" else each for each in task.settings)
    assert not carry_out(damage.with_task(plan, replace(task, settings=settings)), drawn).proof.held


ROUND = [
    ("turn-to-round", "rounding", {}),
    ("plane-stick-round", "rounding", {}),
    (
        "turn-profile",
        "turned-profile",
        {"stations": [{"left": 80, "diameter": 36}, {"left": 110, "diameter": 36}, {"left": 110, "diameter": 30},
                      {"left": 420, "diameter": 30}]},
    ),
    ("shave-stick-to-round-taper", "turned-profile", {"stations": [{"left": 0, "diameter": 38}, {"left": 420, "diameter": 26}]}),
]  # fmt: skip
"""Ways of making a square stick round."""


@pytest.mark.parametrize(("way", "kind", "fields"), ROUND, ids=[row[0] for row in ROUND])
def test_a_stick_made_round_this_way_is_the_stick_that_is_drawn(way: str, kind: str, fields: dict[str, Any]) -> None:
    drawn = board(make(kind, name="cut", **fields), length=420, width=40, thick=40, stock=40)
    made(way, "rail/cut", drawn)


@pytest.mark.parametrize(("way", "kind", "fields"), ROUND, ids=[row[0] for row in ROUND])
def test_callipers_set_a_millimetre_off_make_another_stick(way: str, kind: str, fields: dict[str, Any]) -> None:
    drawn = board(make(kind, name="cut", **fields), length=420, width=40, thick=40, stock=40)
    plan = made(way, "rail/cut", drawn)
    task = next(task for task in plan.tasks if task.id == "rail/cut/cut")
    changed = dict(damage.shifted_settings(task))
    assert list(changed) == ["diameter"]
    assert not carry_out(damage.with_task(plan, changed["diameter"]), drawn).proof.held


@pytest.mark.parametrize("way", ["drill-round-stock", "hand-drill-round-stock"])
@pytest.mark.parametrize("depth", [{}, {"depth": 9}], ids=["through", "blind"])
def test_a_hole_across_a_rod_is_bored_in_a_v_block(way: str, depth: dict[str, float]) -> None:
    hole = make("hole", name="cut", face="inside", at={"left": 60}, diameter=6, **depth)
    stock = Stock("rod", "dowel", "round", 20, 20, (1200,), hardness="hardwood")
    rod = replace(part("rail", "rod", 300, 20, 20, hole), section="round")
    plan = made(way, "rail/cut", job([rod], [], stock=(stock,)))
    step = next(step for step in plan.steps if "rail/cut/cut" in step.tasks and step.kind == "work")
    assert "v-block" in {each.name for each in step.holding}


def test_nothing_else_bores_a_rod() -> None:
    """A rod between flat jaws turns with the bit."""
    for station in knowledge().stations.values():
        for name, operation in station.operations.items():
            if {"hole", "screw-holes", "dowel-holes"} & set(operation.makes) and station.station != "laser-cutter":
                flat_only = any(limit.of == "part.round" and limit.at_most == "0" for limit in operation.applies)
                assert flat_only or "v-block" in operation.holding.all_of, name


def made(way: str, about: str, drawn: Any) -> Plan:
    """The plan of a job by a way, carried out on solids and drawn."""
    return forced(way, about, drawn)[1]
