"""Passes along a fence: each works against the turn of its cutter, and nothing is left between them or caught at the fence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import Feature
from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Setting, Task
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.features.legal import make
from tests.made import knowledge, workshop
from tests.outside.bench import board
from tests.proving.damage import with_task


def by(way: str, *features: Feature, width: float = 240, thick: float = 18) -> tuple[Plan, Job]:
    """A rail with one feature, made by a way."""
    (feature,) = features
    drawn = board(feature, length=450, width=width, thick=thick, stock=thick)
    drawn = replace(drawn, stock={"board": replace(drawn.stock["board"], width=width)})
    decided = replace(drawn, decisions=(Decision(f"rail/{feature.name}", "Technician", "for this check", way=way),))
    return make_plan(decided, workshop("well-equipped"), knowledge()), decided


def dovetail_housing() -> tuple[Plan, Job]:
    return by(
        "rout-dovetail-housing",
        make("dovetail-housing", name="slide", face="inside", **{"from": "left"}, distance=60, width=24, depth=8, slope=7),
    )


def groove() -> tuple[Plan, Job]:
    return by("groove-on-saw", make("groove", name="panel", face="inside", **{"from": "bottom"}, distance=10, width=8, depth=6))


def rebate() -> tuple[Plan, Job]:
    return by("rebate-on-saw", make("rebate", name="step", edge="inside/top", width=8, depth=6))


def guided_groove() -> tuple[Plan, Job]:
    return by(
        "hand-rout-groove", make("groove", name="panel", face="inside", **{"from": "bottom"}, distance=20, width=14, depth=6)
    )


def battened_housing() -> tuple[Plan, Job]:
    return by(
        "hand-rout-housing", make("housing", name="shelf", face="inside", **{"from": "left"}, distance=100, width=26, depth=6)
    )


def the_task(plan: Plan, kind: str) -> Task:
    return next(task for task in plan.tasks if task.kind == kind)


def said(plan: Plan, job: Job, kind: str) -> list[tuple[bool, str]]:
    """What was seen of the passes of a kind of work."""
    name = the_task(plan, kind).id
    proof = carry_out(plan, job).proof
    return [(look.held, look.says) for task in proof.tasks if task.task == name for look in task.looked if look.check == "feed"]


def set_to(task: Task, **values: float) -> Task:
    """A task with other figures."""

    def changed(setting: Setting) -> Setting:
        return replace(setting, value=values.get(setting.name, setting.value))

    return replace(task, settings=tuple(changed(setting) for setting in task.settings))


def failing(plan: Plan, job: Job) -> set[str]:
    """The checks that do not hold, but for that of the printed cards, which have the figures before the damage."""
    return {look.check for look in carry_out(plan, job).proof.failures} - {"setting"}


@pytest.mark.parametrize(
    ("made", "kind"),
    [
        (dovetail_housing, "dovetail-housing"),
        (groove, "groove"),
        (rebate, "rebate"),
        (guided_groove, "groove"),
        (battened_housing, "housing"),
    ],
)
def test_passes_as_planned_work_against_the_turn(made: object, kind: str) -> None:
    plan, job = made()  # type: ignore[operator]
    (seen,) = said(plan, job, kind)
    assert seen[0]
    passes = next(setting.value for setting in the_task(plan, kind).settings if setting.name == "passes")
    assert passes is not None
    assert passes > 1
    assert seen[1] == f"{passes:g} passes, each against the turn of the cutter"


def test_passes_that_go_towards_the_fence_are_noticed_by_this_check_alone() -> None:
    plan, job = dovetail_housing()
    task = the_task(plan, "dovetail-housing")
    values = {setting.name: setting.value or 0.0 for setting in task.settings}
    last = values["fence"] + (values["passes"] - 1) * values["shift"]
    middle = last + values["cutter"] / 2
    damaged = with_task(plan, set_to(task, fence=last, middle=middle, shift=-values["shift"]))
    assert failing(damaged, job) == {"feed"}
    (seen,) = said(damaged, job, "dovetail-housing")
    assert seen == (
        False,
        "pass 2 finds wood on the fence side of the cutter only: fed from right to left it runs with the turn",
    )


def test_a_guide_set_for_the_first_pass_is_noticed() -> None:
    """Plain geometry: packing between edge and guide draws the cutter towards the edge. With the guide at the near side of a
    groove from 20 to 34, a cutter of 12 and a piece of 2 cuts from 18 to 32."""
    plan, job = guided_groove()
    task = the_task(plan, "groove")
    values = {setting.name: setting.value for setting in task.settings}
    assert (values["fence"], values["packing"]) == (22, 2)
    assert carry_out(plan, job).proof.held
    assert failing(with_task(plan, set_to(task, fence=20.0)), job) == {"drawing"}


def test_packing_that_comes_in_for_each_further_pass_is_noticed_by_this_check_alone() -> None:
    """The part comes out alike; the second pass takes its wood on the side of the guide."""
    plan, job = guided_groove()
    damaged = with_task(plan, set_to(the_task(plan, "groove"), fence=20.0, packing=-2.0))
    assert failing(damaged, job) == {"feed"}
    (seen,) = said(damaged, job, "groove")
    assert seen == (
        False,
        "pass 2 finds wood on the near side of the cutter only: guided from left to right it runs with the turn",
    )


def test_a_straight_cutter_clears_each_channel_on_the_same_middle() -> None:
    """Plain geometry: the middle of a cutter is half its diameter from its near side; the first cutter goes up to 1 mm short in
    passes of at most 3 mm. A millimetre beside that middle it spoils a wall."""
    plan, job = dovetail_housing()
    task = the_task(plan, "dovetail-housing")
    values = {setting.name: setting.value or 0.0 for setting in task.settings}
    texts = {setting.name: setting.text for setting in task.settings}
    assert values["middle"] == pytest.approx(values["fence"] + values["cutter"] / 2)
    assert texts["clearing"] == "2.3 mm, 4.7 mm, then 7 mm above the table"
    assert texts["height"] == "8 mm above the table, in one pass"
    assert texts["clear"].count("straight cutter") == 1
    assert carry_out(plan, job).proof.held
    for off in (-1.0, 1.0):
        assert failing(with_task(plan, set_to(task, middle=values["middle"] + off)), job) == {"drawing"}


def test_a_strip_left_between_two_passes_is_noticed() -> None:
    plan, job = groove()
    task = the_task(plan, "groove")
    values = {setting.name: setting.value or 0.0 for setting in task.settings}
    damaged = with_task(plan, set_to(task, shift=values["shift"] + 2))
    (seen,) = said(damaged, job, "groove")
    assert not seen[0]
    assert "a strip of" in seen[1]


def test_waste_caught_between_blade_and_fence_is_noticed_by_this_check_alone() -> None:
    """The same rebate with its own edge against the fence: the part comes out alike."""
    plan, job = rebate()
    task = the_task(plan, "rebate")
    values = {setting.name: setting.value or 0.0 for setting in task.settings}
    (layout,) = task.layouts
    turned = replace(layout, lie=replace(layout.lie, against="top"))
    damaged = with_task(plan, replace(set_to(task, fence=0.0, shift=values["shift"]), layouts=(turned,)))
    assert failing(damaged, job) == {"feed"}
    (seen,) = said(damaged, job, "rebate")
    assert seen == (False, "the waste of pass 1 lies between blade and fence")


@pytest.mark.parametrize(
    ("sizes", "width", "cutter", "passes", "fence"),
    [
        ((6.0, 12.0), 9, 6, 2, "10 mm, then 13 mm"),
        ((4.0,), 9, 4, 3, "10 mm, 12.5 mm, then 15 mm"),
        ((6.0, 12.0), 12, 12, None, "10 mm"),
        ((), 9, 9, None, "10 mm"),
    ],
)
def test_a_groove_is_routed_by_the_widest_cutter_that_goes_in(
    sizes: tuple[float, ...], width: int, cutter: float, passes: int | None, fence: str
) -> None:
    """Plain geometry: n = ceil(w / d) passes, each (w - d) / (n - 1) further out."""
    plan, drawn = routed_groove(sizes, width)
    task = the_task(plan, "groove")
    found = {setting.name: setting for setting in task.settings}
    assert found["cutter"].value == cutter
    assert found["fence"].text == fence
    assert ("shift" in found) is (passes is not None)
    if passes is not None:
        assert found["passes"].value == passes
        assert found["passes"].text == f"{passes} passes"
    assert f"straight cutter, {cutter:g} mm" in next(step for step in plan.steps if task.id in step.tasks and step.tools).tools
    ((held, says),) = said(plan, drawn, "groove")
    assert held
    assert says == f"{passes or 1} {'passes' if passes else 'pass'}, each against the turn of the cutter"
    assert carry_out(plan, drawn).proof.held


def test_a_groove_pass_towards_the_fence_runs_with_the_turn() -> None:
    plan, drawn = routed_groove((6.0,), 9)
    task = the_task(plan, "groove")
    wrong = with_task(plan, set_to(task, fence=13, shift=-3))
    assert failing(wrong, drawn) == {"feed"}


def routed_groove(sizes: tuple[float, ...], width: int) -> tuple[Plan, Job]:
    """A groove at the router table of a workshop that lists these cutters."""
    shop = workshop("well-equipped")
    table = shop.stations["router-table"]
    others = {name: each for name, each in table.sizes.items() if name != "cutters"}
    table = replace(table, sizes={**others, "cutters": sizes} if sizes else others)
    cut = make("groove", name="panel", face="inside", **{"from": "bottom"}, distance=10, width=width, depth=6)
    drawn = board(cut, length=450, width=120)
    drawn = replace(drawn, decisions=(Decision("rail/panel", "Technician", "for this check", way="rout-groove"),))
    return make_plan(drawn, replace(shop, stations={**shop.stations, "router-table": table}), knowledge()), drawn
