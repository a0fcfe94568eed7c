"""What is one body cannot be opened for glue again: a joint glued after its pieces are joined is refused, and the proof sees it
by itself; a frame glued in two goes, its alike corners sawn for splines in each, is proved.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Finding, Refused
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.planning.assembling import assembled
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.made import job, knowledge, plan, workshop

FRAME = "tests/assemblies/sawn-splines.yaml"
CORNERS = ("corner-1", "corner-2", "corner-3")


def _refused(drawn: Job) -> Finding:
    with pytest.raises(Refused) as refused:
        make_plan(drawn, workshop(), knowledge())
    (found,) = [each for each in refused.value.findings if each.level == "error"]
    return found


def _last_corner(name: str, **changed: object) -> Job:
    drawn = job(name)
    return replace(drawn, joints={**drawn.joints, "corner-4": replace(drawn.joints["corner-4"], **changed)})  # type: ignore[arg-type]


def test_a_corner_glued_when_the_other_three_have_closed_it_is_refused_at_its_line_with_its_after() -> None:
    drawn = _last_corner("picture-frame", after=CORNERS)
    found = _refused(drawn)
    assert (found.code, found.subject, found.place) == ("closed-already", "corner-4", drawn.joints["corner-4"].place)
    assert found.what.startswith(
        "corner-4 is to be glued, and short-piece.2 and long-piece.1 are one body as soon as frame is made."
    )
    assert "after corner-1, corner-2 and corner-3" in found.why
    assert found.remedy.startswith("Take `after` out of corner-4")


def test_where_sub_assemblies_of_the_drawing_close_it_the_same_sub_assembly_is_offered() -> None:
    """The corner is in no sub-assembly: it is glued after the one that closes it, though the drawing says nothing of after."""
    drawn = job("picture-frame")
    alone = replace(
        drawn,
        assemblies={name: tuple(each for each in joints if each != "corner-4") for name, joints in drawn.assemblies.items()},
        joints={**drawn.joints, "corner-4": replace(drawn.joints["corner-4"], assembly="")},
    )
    found = _refused(alone)
    assert (found.code, found.subject) == ("closed-already", "corner-4")
    assert "`assembly`" in found.remedy


def test_what_was_only_put_together_dry_is_opened_again_and_what_is_glued_is_nailed_later() -> None:
    drawn = job("picture-frame")
    dry = {name: replace(each, fixed=("dry",)) if name in CORNERS else each for name, each in drawn.joints.items()}
    for joints in (dry, drawn.joints):
        late = {
            **joints,
            "corner-4": replace(joints["corner-4"], after=CORNERS, fixed=("glue",) if joints is dry else ("nails",)),
        }
        assert "closed-already" not in [each.code for each in assembled(replace(drawn, joints=late)).findings]


def test_the_proof_sees_by_itself_that_no_glue_gets_between_what_is_one_body() -> None:
    made = plan(FRAME)
    number = next(number for number, task in enumerate(made.tasks) if task.kind == "glue")
    glue = made.tasks[number]
    goes = (replace(glue, joints=glue.joints[:3]), replace(glue, joints=glue.joints[3:]))
    late = replace(made, tasks=(*made.tasks[:number], *goes, *made.tasks[number + 1 :]))
    failed = [look.says for look in carry_out(late, job(FRAME)).proof.failures if look.check == "joined"]
    assert failed == ["short-piece.2 and long-piece.1 are one body before corner-4 is glued: no glue gets between them"]


def _in_two_goes(first: tuple[str, ...]) -> tuple[Job, Plan]:
    drawn = job(FRAME)
    joints = {name: replace(each, assembly="first-go" if name in first else "frame") for name, each in drawn.joints.items()}
    rest = tuple(name for name in joints if name not in first)
    in_two = replace(drawn, joints=joints, assemblies={"first-go": first, "frame": rest})
    return in_two, make_plan(in_two, workshop(), knowledge())


@pytest.mark.parametrize("first", [("corner-1",), ("corner-1", "corner-2")])
def test_alike_corners_glued_in_two_goes_and_sawn_for_splines_in_each_are_proved(first: tuple[str, ...]) -> None:
    drawn, made = _in_two_goes(first)
    slots = [task for task in made.tasks if task.kind == "spline-slot"]
    assert len(slots) == 2
    assert {name for task in slots for name in task.joints} == {*drawn.joints}
    assert carry_out(made, drawn).proof.failures == ()


def test_a_corner_sawn_twice_is_still_seen() -> None:
    drawn, made = _in_two_goes(("corner-1",))
    number = next(number for number, task in enumerate(made.tasks) if task.kind == "spline-slot")
    twice = replace(made, tasks=(*made.tasks[: number + 1], made.tasks[number], *made.tasks[number + 1 :]))
    assert "there" in [look.check for look in carry_out(twice, drawn).proof.failures]
