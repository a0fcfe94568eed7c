"""A plan carried out: what each cut takes away, what is left, what the record says."""

from __future__ import annotations

import json
from dataclasses import replace
from math import pi, sin

import pytest

from sequencer.features.chamfer import Chamfer
from sequencer.features.hole import Hole
from sequencer.model.job import Job
from sequencer.plan_file import plan_json
from sequencer.planning.planner import make_plan
from sequencer.proving.making import Making, carry_out
from sequencer.proving.record import with_record
from sequencer.solid.solids import CHORDS
from tests.made import job, knowledge, making, plan, workshop
from tests.proving import damage


def caddy(**features: object) -> Job:
    """The caddy with more features on its sides."""
    drawn = job("herb-caddy")
    side = drawn.parts["side"]
    more = {name.replace("_", "-"): feature for name, feature in features.items()}
    return replace(drawn, parts={**drawn.parts, "side": replace(side, features={**side.features, **more})})


def made_of(drawn: Job) -> Making:
    return carry_out(make_plan(drawn, workshop(), knowledge()), drawn)


@pytest.mark.parametrize(
    ("task", "cubic"),
    [
        ("side/pot-end-rebate/cut", 15 * 5 * 90),
        ("side/divider-housing/cut", 15 * 5 * 90),
        # Between the two rebates: along their floors there is nothing left of it to take.
        ("side/floor-groove/cut", (320 - 3 * 15) * 6 * 5),
        ("end/floor-groove/cut", 170 * 6 * 5),
        # A regular polygon of so many chords instead of a circle.
        ("end/handle-hole/cut", CHORDS / 2 * 10**2 * sin(2 * pi / CHORDS) * 15),
        ("divider/width/cut", 195 * (90 - 76) * 15),
    ],
)
def test_a_cut_takes_what_its_figures_say(task: str, cubic: float) -> None:
    (first, *_) = making("herb-caddy").of(task)
    assert first.removed.volume == pytest.approx(cubic, abs=0.01)
    assert first.before.body.volume - first.after.body.volume == pytest.approx(cubic, abs=0.01)


def test_alike_pieces_are_made_once_and_hands_twice() -> None:
    made = making("herb-caddy")
    assert set(made.pieces) == {
        ("side", "left"),
        ("side", "right"),
        ("end", None),
        ("divider", None),
        ("floor", None),
        ("handle", None),
    }


def test_the_point_of_a_bit_is_accepted_and_named() -> None:
    """A twist bit of 118 degrees: its point is 0.30 of the diameter long (plain geometry), a cone below the hole."""
    hole = Hole(name="peg", face="bottom", diameter=6.0, at=({"left": 100.0},), depth=20.0)
    making = made_of(caddy(peg=hole))
    assert making.proof.held
    left, right = (part for part in making.proof.parts if part.part == "side")
    ((what, volume),) = left.residue
    assert what == "drill point"
    task = next(task for task in make_plan(caddy(peg=hole), workshop(), knowledge()).tasks if task.id == "side/peg/cut")
    base = CHORDS / 2 * 3**2 * sin(2 * pi / CHORDS)
    assert volume == pytest.approx(base * task.point * 6 / 3, rel=0.01)
    assert right.residue == left.residue


def test_a_flat_bit_leaves_no_point_and_a_stop_set_too_deep_is_noticed() -> None:
    hole = Hole(name="peg", face="bottom", diameter=6.0, at=({"left": 100.0},), depth=20.0)
    drawn = caddy(peg=hole)
    given = make_plan(drawn, workshop(), knowledge())
    task = next(task for task in given.tasks if task.id == "side/peg/cut")
    broken = damage.with_task(given, replace(task, leaves=()))
    assert carry_out(broken, drawn).proof.held
    deeper = replace(task, settings=tuple(replace(each, value=95.0) if each.name == "depth" else each for each in task.settings))
    assert not carry_out(damage.with_task(given, deeper), drawn).proof.held


@pytest.mark.parametrize("edge", ["outside", "inside"])
def test_what_is_cut_after_joining_is_cut_then(edge: str) -> None:
    chamfer = Chamfer(name="top-edge", edges=((edge, "top"),), size=3.0, when="assembled")  # type: ignore[arg-type]
    drawn = caddy(top_edge=chamfer)
    given = make_plan(drawn, workshop(), knowledge())
    names = [task.id for task in given.tasks]
    assert names.index("side/top-edge/cut") > names.index("whole/cure/wait")
    making = carry_out(given, drawn)
    assert making.proof.held, making.proof.failures
    assert making.of("side/top-edge/cut")[0].removed.volume == pytest.approx(3 * 3 / 2 * 320, rel=0.2)


def test_the_record_stands_in_the_plan_and_its_json() -> None:
    given, drawn = plan("herb-caddy"), job("herb-caddy")
    proved = with_record(given, carry_out(given, drawn))
    assert proved.findings == given.findings
    written = json.loads(plan_json(proved))["proof"]
    assert written["held"] is True
    assert len(written["tasks"]) == len(proved.proof.tasks if proved.proof else ())
    groove = next(task for task in written["tasks"] if task["task"] == "side/floor-groove/cut")
    assert groove["removed"] == 8250.0
    assert {look["check"] for look in groove["looked"]} >= {"piece", "reference", "marks", "there", "thickness", "held"}


def test_what_does_not_hold_is_a_finding_with_its_step() -> None:
    given, drawn = plan("herb-caddy"), job("herb-caddy")
    damaged = damage.without(given, "side/floor-groove/cut")
    proved = with_record(damaged, carry_out(damaged, drawn))
    said = [finding for finding in proved.findings if finding.level == "error"]
    codes = {finding.code for finding in said}
    assert codes == {"not-proved-clash", "not-proved-drawing", "not-proved-order", "not-proved-setting"}
    assert "At the end: side.left is not as drawn: 8250 mm3 of wood too much is left, 0 mm3 too much is cut away." in [
        finding.what for finding in said
    ]
    assert all(finding.remedy.startswith("Do not use the sheets: they are drafts.") for finding in said)


def test_the_same_plan_gives_the_same_record() -> None:
    given, drawn = plan("step-stool"), job("step-stool")
    assert carry_out(given, drawn).proof == carry_out(given, drawn).proof
