"""Boards that interlock, planned, carried out on solids and damaged."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sequencer.design.checking import check_design
from sequencer.features.dovetail_pins import DovetailPins
from sequencer.findings import has_errors
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Task
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.proving.outcome import SAME
from sequencer.solid.dry_fit import dry_fit
from tests.interlocking import by_way, corner, finger_corner, shelf, with_pins
from tests.made import knowledge, workshop
from tests.proving import damage

THROUGH = corner(70, 12, 15, tails=3, pin=6, slope=6)
LAPPED = corner(98, 12, 18, depth=13, tails=4, pin=6, half_pin=5, slope=8)

JOBS: dict[str, tuple[Job, str]] = {
    "through dovetails": (THROUGH, "full"),
    "lapped dovetails": (LAPPED, "full"),
    "fingers by hand": (finger_corner(), "full"),
    "shelf by hand": (shelf(stop=20), "full"),
    "shelf at the router table": (
        by_way(
            shelf(220),
            side__both="rout-dovetail-housing",
            shelf__left_end="rout-dovetail-end",
            shelf__right_end="rout-dovetail-end",
            rail__left_end="rout-dovetail-end",
        ),
        "well-equipped",
    ),
}


@cache
def planned(name: str, shop: str = "") -> Plan:
    drawn, usual = JOBS[name]
    return make_plan(drawn, workshop(shop or usual), knowledge())


def failing(plan: Plan, name: str) -> set[str]:
    return {look.check for look in carry_out(plan, JOBS[name][0]).proof.failures}


@pytest.mark.parametrize("name", JOBS)
def test_it_comes_out_as_drawn(name: str) -> None:
    for shop in ("", *(["hand-tools"] if "table" not in name else [])):
        plan = planned(name, shop)
        made = carry_out(plan, JOBS[name][0])
        assert [look.says for look in made.proof.failures] == []
        assert max(part.difference for part in made.proof.parts) <= SAME
    ways = {decision.way for decision in JOBS[name][0].decisions}
    assert ways <= {task.operation for task in planned(name).tasks}


@pytest.mark.parametrize("name", JOBS)
def test_a_setting_or_a_line_one_millimetre_off_is_noticed(name: str) -> None:
    plan = planned(name)
    cuts = [task for task in plan.tasks if task.layouts and task.kind in ("dovetails", "dovetail-pins", "finger-joint")]
    cuts += [task for task in plan.tasks if task.kind in ("dovetail-housing", "dovetail-end")]
    assert len(cuts) >= 2
    for task in cuts:
        shifted = dict(damage.shifted_settings(task))
        assert shifted, task.id
        for setting, changed in shifted.items():
            if setting != "shift" or round(figure(changed, "passes")) > 1:
                assert failing(damage.with_task(plan, changed), name) & {"drawing", "setting"}, f"{task.id}: {setting}"
        moved = damage.shifted_marks(task)
        assert moved is not None
        # Where the card itself says how far off the cut comes, the mark does not.
        if not {"fence", "distance"} & {each.name for each in task.settings}:
            assert "drawing" in failing(damage.with_task(plan, moved), name), task.id


def figure(task: Task, name: str) -> float:
    return next(each.value or 0.0 for each in task.settings if each.name == name)


@pytest.mark.parametrize("name", JOBS)
def test_a_cut_left_out_or_turned_over_is_noticed(name: str) -> None:
    plan = planned(name)
    for task in plan.tasks:
        if task.kind not in ("dovetails", "dovetail-pins", "finger-joint", "dovetail-housing", "dovetail-end"):
            continue
        assert failing(damage.without(plan, task.id), name) & {"drawing"}, task.id
        assert failing(damage.with_task(plan, damage.turned_over(task)), name) & {"marks", "drawing"}, task.id


@pytest.mark.parametrize("name", ["through dovetails", "lapped dovetails"])
def test_pins_are_cut_after_the_tails_they_are_marked_from(name: str) -> None:
    plan = planned(name)
    order = [task.id for task in plan.tasks]
    assert order.index("side/tails/cut") < order.index("front/pins/cut")
    (reason,) = [each for each in plan.reasons if (each.before, each.after) == ("side/tails/cut", "front/pins/cut")]
    assert reason.kind == "fit"
    assert reason.harm
    assert reason.source


@pytest.mark.parametrize("name", ["through dovetails", "lapped dovetails"])
def test_a_dry_fit_before_the_pins_are_cut_does_not_close(name: str) -> None:
    plan = planned(name)
    assert "clash" in failing(damage.moved_before(plan, "corner/dry-fit/try", "front/pins/cut"), name)


@some.composite
def corners(draw: some.DrawFn) -> Job:
    tails = draw(some.integers(1, 5))
    pin = float(draw(some.integers(5, 9)))
    width = tails * draw(some.integers(16, 34)) + (tails + 1) * pin
    thick = float(draw(some.integers(12, 20)))
    return corner(
        width,
        float(draw(some.integers(9, 20))),
        thick,
        depth=draw(some.sampled_from([None, thick - 4])),
        tails=tails,
        pin=pin,
        half_pin=draw(some.sampled_from([None, pin - 1])),
        slope=draw(some.sampled_from([6.0, 7.0, 8.0])),
    )


@settings(max_examples=25, deadline=None)
@given(corners(), some.sampled_from([-1.0, 1.0]))
def test_any_dovetailed_corner_closes_and_pins_a_millimetre_off_do_not(drawn: Job, by: float) -> None:
    assert not has_errors(check_design(drawn, knowledge()))
    assert not has_errors(dry_fit(drawn, knowledge()))
    pins = drawn.parts["front"].features["pins"]
    assert isinstance(pins, DovetailPins)
    half = pins.half_pin or pins.pin
    other = with_pins(drawn, half_pin=half + by, pin=pins.pin + max(by, 0.0))
    assert "does-not-interlock" in {each.code for each in check_design(other, knowledge())}
    if by > 0:
        assert "clash" in {each.code for each in dry_fit(other, knowledge())}
    (joint,) = drawn.joints.values()
    moved = replace(joint, flush=joint.flush[1:], at=(("bottom", by),))
    assert "clash" in {each.code for each in dry_fit(replace(drawn, joints={joint.name: moved}), knowledge())}
