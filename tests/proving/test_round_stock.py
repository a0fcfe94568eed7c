"""Round wood is sawn and bored in a V that the card names, and the proof looks whether it lies there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.frame import FaceName
from sequencer.model.job import Job, Part, Stock
from sequencer.model.marks import Spots
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.protection import Grip
from sequencer.model.shapes import Cone
from sequencer.planning.planner import make_plan
from sequencer.proving.cradle import lies_in_cradle
from sequencer.proving.making import carry_out
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box, joined, shape_solid
from tests.design.jobs import job, part
from tests.features.samples import make
from tests.made import knowledge, workshop
from tests.outside.bench import board
from tests.planning.test_jigs import without
from tests.proving import damage

SAWN = ("rail/rough-length/cut", "rail/first-end/square", "rail/length/cut", "rail/separate/cut")


def rod() -> Job:
    stock = Stock("rod", "beech", "round", 0.0, 20.0, (2400.0,), hardness="hardwood")
    hole = make("hole", name="bore", face="inside", at={"left": 100, "bottom": 10}, diameter=6)
    return job([replace(part("rail", "rod", 300, 20, 20, hole), section="round")], [], stock=(stock,))


def step_of(plan: Plan, task: str) -> Step:
    return next(step for step in plan.steps if step.kind == "work" and task in step.tasks)


def failures(plan: Plan, drawn: Job) -> set[tuple[str, str, str]]:
    proof = carry_out(plan, drawn).proof
    return {(record.task, look.check, look.says) for record in proof.tasks for look in record.looked if not look.held}


def sawn(plan: Plan) -> list[Task]:
    found = [task for task in plan.tasks if task.id in SAWN]
    assert found
    return found


@pytest.mark.parametrize("shop", ["well-equipped", "full", "hand-tools"])
def test_a_rod_is_never_sawn_on_a_bench_hook_alone(shop: str) -> None:
    bare = without(workshop(shop), "v-block")
    for where, made in ((workshop(shop), False), (bare, True)):
        plan = make_plan(rod(), where, knowledge())
        assert not failures(plan, rod())
        for task in sawn(plan):
            assert task.operation == "saw-round-stock"
            assert task.grips == (Grip("round", "v-block"),)
            assert {"v-block", "bench-vice"} <= {each.name for each in step_of(plan, task.id).holding}
        assert any(jig.name == "v-block" and sawn(plan)[0].id in jig.tasks for jig in plan.jigs) is made


def test_jaws_with_a_v_hold_a_rod_as_well() -> None:
    shop = without(workshop("hand-tools"), "v-block")
    station = shop.stations["hand-sawing"]
    jaws = replace(station, holding=(*station.holding, "v-jaws"))
    plan = make_plan(rod(), replace(shop, stations={**shop.stations, "hand-sawing": jaws}), knowledge())
    assert {task.grips for task in sawn(plan)} == {(Grip("round", "v-jaws"),)}
    assert not failures(plan, rod())


def test_a_rod_that_nothing_keeps_from_rolling_is_noticed() -> None:
    plan = make_plan(rod(), workshop("hand-tools"), knowledge())
    for task in (*sawn(plan), next(task for task in plan.tasks if task.id == "rail/bore/cut")):
        says = {found[1:] for found in failures(damage.with_task(plan, replace(task, grips=())), rod()) if found[0] == task.id}
        assert says == {("held", "its stock is round, and nothing keeps it from rolling")}


def test_a_card_that_does_not_name_the_v_is_noticed() -> None:
    plan = make_plan(rod(), workshop("hand-tools"), knowledge())
    for task in sawn(plan):
        named = step_of(plan, task.id)
        without_v = replace(named, holding=tuple(each for each in named.holding if each.name != "v-block"))
        steps = tuple(without_v if step is named else step for step in plan.steps)
        says = {found[1:] for found in failures(replace(plan, steps=steps), rod()) if found[0] == task.id}
        assert says == {("held", "the card does not name the v-block (round), by which it is held")}


def leg() -> tuple[Job, Plan, Task]:
    """Half of it stays square, and there it is bored."""
    turned = make("turned-profile", name="round", stations=[{"left": 170, "diameter": 34}, {"left": 300, "diameter": 34}])
    hole = make("hole", name="bore", face="inside", at={"left": 100, "bottom": 20}, diameter=8)
    drawn = board(hole, turned, length=300, width=40, thick=40, stock=40, material="European beech", hardness="hardwood")
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    assert not failures(plan, drawn)
    return drawn, plan, next(task for task in plan.tasks if task.id == "rail/bore/cut")


@pytest.mark.parametrize(("at", "held"), [(100.0, False), (150.0, False), (230.0, True)])
def test_a_v_under_wood_that_is_still_square_is_noticed(at: float, held: bool) -> None:
    drawn, plan, bored = leg()
    (layout,) = bored.layouts
    assert isinstance(layout.marks, Spots)
    marks = replace(layout.marks, places=((("left", at), ("bottom", 20.0)),))
    v = Grip("round", "v-block", "outside")
    late = damage.delayed(
        damage.with_task(plan, replace(bored, grips=(v,), layouts=(replace(layout, marks=marks),))), bored.id, "rail/round/cut"
    )
    says = {say for task, check, say in failures(late, drawn) if (task, check) == (bored.id, "lies")}
    assert any("of thicker or square wood keeps it off" in say for say in says) is not held


def piece(*bodies: Solid) -> Workpiece:
    drawn: Part = part("rail", "board", 300, 40, 40)
    return Workpiece(drawn, None, joined(bodies))


def round_(start: float, stop: float, across: float, other: float | None = None) -> Solid:
    return shape_solid(Cone("x", (20.0, 20.0), start, stop, across / 2, (across if other is None else other) / 2))


@pytest.mark.parametrize(
    ("wood", "cut", "through", "fault"),
    [
        ([round_(0, 300, 30)], (140, 160), False, ""),
        ([round_(0, 300, 30, 24)], (140, 160), False, ""),
        ([round_(0, 300, 30)], (250, 253), True, ""),
        # Between two flanges no V that is as long finds room.
        (
            [round_(0, 300, 30), round_(40, 50, 38), round_(145, 155, 38)],
            (100, 110),
            False,
            "of thicker or square wood keeps it off",
        ),
        # Beside one at the end it does.
        ([round_(0, 300, 30), round_(290, 300, 38)], (100, 110), False, ""),
        ([round_(0, 300, 30), box((0, 0, 0), (100, 40, 40))], (40, 60), False, "of thicker or square wood keeps it off"),
        # Cut away below all along the V.
        ([round_(0, 300, 30) - box((0, 0, 0), (300, 40, 12))], (140, 160), False, "it touches along"),
    ],
)
def test_what_is_round_lies_in_the_v(wood: list[Solid], cut: tuple[float, float], through: bool, fault: str) -> None:
    looked = lies_in_cradle(piece(*wood), "outside", cut, through, 200.0, 0.5)
    assert looked.held is not bool(fault)
    assert fault in looked.says


@pytest.mark.parametrize(("down", "held"), [("outside", False), ("inside", True), ("bottom", False), ("top", False)])
def test_the_v_touches_on_the_side_that_is_down(down: FaceName, held: bool) -> None:
    flat_below = round_(0, 300, 30) - box((0, 0, 0), (300, 40, 12))
    assert lies_in_cradle(piece(flat_below), down, (140, 160), False, 200.0, 0.6).held is held
