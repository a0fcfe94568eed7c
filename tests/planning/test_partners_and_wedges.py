"""Glue-ups that take a partner, the time that glue leaves one student, and wedges: on which side, when, and from what."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Refused
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Plan, Step
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, plan, workshop

PARTNER = "Ask a partner to help before you open the glue."
AT_ONCE = "Drive the wedges at once, while the glue is wet."


def glued(made: Plan) -> list[Step]:
    return [step for step in made.steps if any(task.endswith("/glue/glue") for task in step.tasks)]


def cramps(step: Step) -> float:
    return max((each.value or 0.0 for each in step.settings if each.name == "cramps"), default=0.0)


# Four tenons a side of the table, two cramps; then eight and four. The corners of the picture frame take four cramps.
def test_a_partner_helps_where_there_are_more_cramps_or_joints_than_one_student_closes() -> None:
    for name in ("tests/assemblies/table-frame.yaml", "picture-frame", "step-stool", "tests/assemblies/dowelled-rail.yaml"):
        made = plan(name)
        for step in glued(made):
            assert (PARTNER in step.notes) == (PARTNER in step.method)
            if cramps(step) > 2:
                assert PARTNER in step.notes, (name, step.id)
    assert PARTNER in glued(plan("tests/assemblies/table-frame.yaml"))[-1].notes
    (rail,) = glued(plan("tests/assemblies/dowelled-rail.yaml"))
    assert PARTNER not in rail.notes


# Half a minute a joint is reckoned for pairs. Two joints are closed by one student, for whom a minute is enough for one only;
# eight are closed with a partner, for whom four minutes are enough and three are not.
@pytest.mark.parametrize(("name", "enough", "short"), [("dowelled-rail", 2.0, 1.0), ("table-frame", 4.0, 3.0)])
def test_one_student_alone_has_time_for_half_the_joints(name: str, enough: float, short: float) -> None:
    drawn = job(f"tests/assemblies/{name}.yaml")

    def open_for(minutes: float) -> Knowledge:
        return replace(knowledge(), glues={**knowledge().glues, "pva": replace(knowledge().glues["pva"], open_time=minutes)})

    assert glued(make_plan(drawn, workshop(), open_for(enough)))
    with pytest.raises(Refused) as refused:
        make_plan(drawn, workshop(), open_for(short))
    assert any("more joints than can be closed" in each.what for each in refused.value.findings)


def test_wedges_are_driven_at_once_and_their_offcut_is_laid_out() -> None:
    made = plan("tests/assemblies/wedged-stool.yaml")
    (whole,) = glued(made)
    assert AT_ONCE in whole.notes
    offcuts = [thing for thing in made.hardware if thing.name.startswith("offcut")]
    assert [(thing.name, thing.each, thing.total) for thing in offcuts] == [
        ("offcut with straight grain, planed 10 mm thick, 150 mm long", 1, made.class_.students)
    ] * len(offcuts)
    assert offcuts
    flared = [line for step in made.steps for line in step.instructions if "more at each end" in line]
    assert flared
    assert all("where the tenon comes out" in line for line in flared)


def test_a_glue_up_without_wedges_says_nothing_of_them() -> None:
    assert all(AT_ONCE not in step.notes for name in ("step-stool", "picture-frame") for step in glued(plan(name)))


# A rod is only pushed in: no cramp is there to stay on, and the mark that it goes in to has to be made.
def test_what_is_glued_without_cramps_is_left_alone_and_has_its_mark() -> None:
    made = plan("starter")
    rods = [step for step in glued(made) if step.operation == "Glue without cramps"]
    assert rods
    for step in rods:
        group = step.tasks[0].split("/")[0]
        assert step.instructions[0] == "Mark how far the rod goes in with pencil."
        waits = [each for each in made.steps if each.tasks[0] == f"{group}/cure/wait"]
        assert waits
        assert not any("cramps" in line for each in waits for line in (*each.instructions, *each.method, each.if_wrong))
    cramped = [step for step in plan("picture-frame").steps if step.tasks[0].endswith("/cure/wait")]
    assert any("Keep the cramps on" in line for step in cramped for line in step.instructions)


def test_the_risk_assessment_names_the_way_decided_and_not_its_code() -> None:
    lines = [line for line in plan("step-stool").decisions if line.text.startswith("way")]
    assert lines
    assert all("“" in line.text and "chop-blind" not in line.text for line in lines)
