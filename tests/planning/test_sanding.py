"""What no plane cleans, round rods and curves that are sawn and filed, is sanded while the piece is by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, plan, proved, workshop

CHOPPING_BOARD = "tests/cases/s03-chopping-board.yaml"


def _sanded(made: Plan) -> list[str]:
    return [task.id for task in made.tasks if task.kind in ("sand-round", "sand-curves")]


def _place(made: Plan, task: str) -> int:
    return [each.id for each in made.tasks].index(task)


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_a_handle_and_a_filed_curve_are_sanded_before_they_are_glued(shop: str) -> None:
    made = proved("herb-caddy", shop)
    assert {*_sanded(made)} == {"handle/sand-round/clean", "end/sand-curves/clean"}
    assert _place(made, "whole/dry-fit/try") < _place(made, "handle/sand-round/clean") < _place(made, "whole/glue/glue")
    assert _place(made, "end/top-outline/cut") < _place(made, "end/sand-curves/clean") < _place(made, "box/glue/glue")
    assert made.proof is not None
    assert made.proof.held


def test_it_is_said_why() -> None:
    said = {(each.before, each.after): each.sentence for each in plan("herb-caddy").reasons}
    assert said["handle/sand-round/clean", "whole/glue/glue"] == (
        "The handle is sanded before it is joined: afterwards nothing gets all round it at its ends."
    )
    assert said["whole/dry-fit/try", "handle/sand-round/clean"] == (
        "A rod is sanded after the dry fit, and not where it goes into a hole, so that it stays tight."
    )
    assert said["end/sand-curves/clean", "box/glue/glue"] == (
        "No plane follows a curve: it is sanded while the end is by itself and a vice holds it."
    )


def test_round_wood_is_sanded_in_a_v_and_not_where_it_goes_into_its_hole() -> None:
    (step,) = (each for each in plan("herb-caddy").steps if "handle/sand-round/clean" in each.tasks)
    assert step.title == "Sand smooth: handle (E)"
    assert step.guard_line == "Lay the round wood in the V-block."
    assert step.instructions[0] == "Keep paper off the length that goes into a hole."


def test_what_is_sanded_when_all_is_joined_has_no_step_of_its_own_before() -> None:
    """The stool is joined with screws, so that its outside is cleaned by abrasive, with the round corners of its seat."""
    made = plan("step-stool")
    assert next(task for task in made.tasks if task.id == "whole/clean-up/clean").station_kind == "abrasive"
    assert not _sanded(made)


def test_a_rod_that_is_joined_is_sanded_before_in_any_case() -> None:
    """With a screw in it the caddy's outside is cleaned by abrasive: its curves are then sanded with it, its handle is not
    reached all over."""
    drawn = job("herb-caddy")
    joint = replace(drawn.joints["divider-1"], fixed=("glue", "screws"))
    made = make_plan(replace(drawn, joints={**drawn.joints, joint.name: joint}), workshop(), knowledge())
    assert next(task for task in made.tasks if task.id == "whole/clean-up/clean").station_kind == "abrasive"
    assert _sanded(made) == ["handle/sand-round/clean"]


def test_curves_of_one_board_are_sanded_after_its_faces_are_planed() -> None:
    made = plan(CHOPPING_BOARD)
    (curves,) = _sanded(made)
    assert _place(made, "whole/clean-up/clean") < _place(made, curves)


def test_a_slot_in_an_edge_is_no_curve() -> None:
    """Splines are glued into the slots of the frame's corners: sanded, they are loose."""
    assert not _sanded(plan("tests/assemblies/splined-frame.yaml"))


def _without(drawn: Job) -> Plan:
    school = workshop()
    stations = {name: each for name, each in school.stations.items() if each.kind != "abrasive"}
    return make_plan(drawn, replace(school, stations=stations), knowledge())


def test_a_workshop_without_abrasive_is_not_asked_for_it() -> None:
    assert not _sanded(_without(job("herb-caddy")))
