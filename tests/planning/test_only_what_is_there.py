"""What is said only of pieces that it can be done to: ends of small parts, cuts nothing goes into, chips, handles."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.findings import Refused
from sequencer.model.plan import Plan, Step
from sequencer.planning.planner import make_plan
from tests.made import knowledge, plan, workshop
from tests.planning.test_on_a_stick import HOLE, HOUSING, block

SHOT = "Plane a long part back to the line on the shooting board."
RUBBED = "Rub a long part down to the line on paper laid flat."
TRIED = "try the part that goes in"


def of_kind(made: Plan, kind: str) -> list[Step]:
    ids = {task.id for task in made.tasks if task.kind == kind}
    return [step for step in made.steps if ids & {*step.tasks} and step.kind == "work"]


@pytest.mark.parametrize(("length", "said", "unsaid"), [(60.0, RUBBED, SHOT), (100.0, SHOT, RUBBED)])
def test_a_part_too_short_for_the_shooting_board_is_rubbed_down(length: float, said: str, unsaid: str, tmp_path: Path) -> None:
    """100 mm is what the bench hook and the shooting board hold clear of the tool (common practice)."""
    made = make_plan(block(tmp_path, HOLE, length), workshop("hand-tools"), knowledge())
    (step,) = [each for kind in ("separate", "length") for each in of_kind(made, kind)]
    assert step.if_wrong == f"{said} Ask for the spare piece if it is too short."
    assert unsaid not in step.if_wrong


def test_what_nothing_goes_into_is_measured_and_what_something_goes_into_is_tried(tmp_path: Path) -> None:
    (alone,) = of_kind(make_plan(block(tmp_path, HOUSING), workshop("hand-tools"), knowledge()), "housing")
    assert TRIED not in [check.how for check in alone.checks]
    assert [(check.how, check.limit) for check in alone.checks if check.what == "width"] == [
        ("measure with a steel rule", "12 mm, within 0.5 mm")
    ]
    assert not [each for each in alone.method if "the other part" in each or "the part that fits in" in each]
    caddy = of_kind(plan("examples/herb-caddy/job.yaml", "hand-tools"), "housing")
    assert caddy
    assert all(TRIED in [check.how for check in step.checks] for step in caddy)


def test_cards_name_the_act_itself() -> None:
    """A hand drill is turned; chips are pared out before the router plane; fingers leave a pin when it stands, not before."""
    known = knowledge()
    boring = known.stations["hand-boring"].operations
    turned = {name for name, each in boring.items() if "Turn the handle steadily with light pressure." in each.instructions.cut}
    assert turned
    assert all("Turn the handle steadily with light pressure." in boring[name].instructions.card for name in turned)
    groove = known.stations["chiselling"].operations["chisel-groove"].instructions.card
    assert groove.index("Pare the chips out along the groove.") < groove.index(
        "Smooth the bottom with the router plane, {setting.depth} deep."
    )
    alone = [
        (operation.instructions, sentence)
        for station in known.stations.values()
        for operation in station.operations.values()
        for sentence in (*operation.instructions.guard, *operation.instructions.cut)
        if sentence.endswith("stands alone.")
    ]
    assert len(alone) == 4
    for said, sentence in alone:
        start = next(each for each in said.cut if each.startswith("Start each"))
        assert said.cut.index(sentence) == said.cut.index(start) + 1


def test_a_hole_in_the_end_of_a_short_block_is_not_left_without_a_word(tmp_path: Path) -> None:
    hole = "{kind: hole, face: left, at: {bottom: 20, inside: 10}, diameter: 8, depth: 20}"
    with pytest.raises(Refused) as refused:
        make_plan(block(tmp_path, hole, 50), workshop("well-equipped"), knowledge())
    (finding,) = [each for each in refused.value.findings if each.code == "no-way"]
    assert finding.remedy.startswith(
        "The cut is not planned in the end of a longer stick, which would have to stand on its end for it and could lean: let "
        "staff decide whether it is bored so, upright in the vice, before the part is sawn off. Or nearest: "
    )
