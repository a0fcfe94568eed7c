"""Parts that are worked together are marked out side by side in one go, before either is cut."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.design.marked_together import Beside, marked_together
from sequencer.design.unplanned import format_only_findings
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import job, knowledge, workshop

TOGETHER = "together: {with: [other]},"


def two(
    folder: Path,
    one: str = "{kind: housing, face: inside, from: left, distance: 40, width: 12, depth: 6}",
    other: str = "{kind: housing, face: outside, from: left, distance: 40, width: 12, depth: 6}",
    *,
    with_: str = TOGETHER,
    more: str = "",
    length: float = 200,
) -> Job:
    """Two sides with a cut each, and a third part that has nothing to do with them."""
    file = folder / "job.yaml"
    file.write_text(
        f"""format: 1
job: Two sides
stock:
  board: {{material: radiata pine, hardness: softwood, form: board, width: 90, thickness: 18, lengths: [2400], surface: planed}}
parts:
  side: {{stock: board, length: 200, {with_} {more} features: {{cut: {one}}}}}
  shelf: {{stock: board, length: 180, features: {{cut: {{kind: hole, face: inside, at: {{left: 30, top: 30}}, diameter: 8}}}}}}
  other: {{stock: board, length: {length}, features: {{cut: {other}}}}}
""",
        encoding="utf-8",
    )
    return read_job(file)[0]


def planned(drawn: Job) -> Plan:
    return make_plan(drawn, workshop("well-equipped"), knowledge())


HOLE = "{{kind: hole, face: inside, at: {{{}: {}, top: 40}}, diameter: {}}}"


@pytest.mark.parametrize(
    ("one", "other", "length", "found"),
    [
        # Housings at 40, on the inside of one and the outside of the other: squared across both with first ends level.
        (None, None, 200, Beside(("side", "other"))),
        (None, None, 260, Beside(("side", "other"))),
        # Holes of 6 and of 10 have no edge in common, but the line through their middles.
        (HOLE.format("left", 40, 6), HOLE.format("left", 40, 10), 200, Beside(("side", "other"))),
        # One from the left, one from the right: level only when one is turned end for end, and that asks for one length.
        (HOLE.format("left", 40, 8), HOLE.format("right", 40, 8), 200, Beside(("side", "other"), turned=True)),
        (HOLE.format("left", 40, 8), HOLE.format("right", 40, 8), 260, None),
        (HOLE.format("left", 40, 8), HOLE.format("left", 55, 8), 200, None),
    ],
)
def test_what_has_a_line_in_common_lies_side_by_side(
    one: str | None, other: str | None, length: float, found: Beside | None, tmp_path: Path
) -> None:
    given = {name: cut for name, cut in (("one", one), ("other", other)) if cut is not None}
    drawn = two(tmp_path, **given, length=length)  # type: ignore[arg-type]
    assert marked_together(drawn) == ({} if found is None else {"side": found, "other": found})


@pytest.mark.parametrize("given", [{"with_": ""}, {"more": "count: 2, handed: true,"}])
def test_parts_that_are_not_said_to_be_worked_together_or_have_hands_are_marked_alone(
    given: dict[str, str], tmp_path: Path
) -> None:
    assert marked_together(two(tmp_path, **given)) == {}  # type: ignore[arg-type]


def test_they_are_marked_in_one_step_before_either_is_cut(tmp_path: Path) -> None:
    drawn = two(tmp_path)
    plan = planned(drawn)
    place = {task.id: number for number, task in enumerate(plan.tasks)}
    marks, cuts = ([f"{part}/{act}" for part in ("side", "other")] for act in ("mark-out/mark", "cut/cut"))
    assert max(place[each] for each in marks) < min(place[each] for each in cuts)
    (step,) = (each for each in plan.steps if "side/mark-out/mark" in each.tasks)
    assert step.tasks == ("side/mark-out/mark", "other/mark-out/mark")
    assert step.instructions == (
        "Lay A and C side by side, first ends level.",
        "Turn C over, its outside face up.",
        "Square the lines at 40 and 52 mm across A and C.",
        "Measure each size from the end or edge the picture shows.",
        "Use the knife across the grain, the gauge along.",
        "Draw pencil hatching on all the waste.",
    )
    (reason,) = (each for each in plan.reasons if (each.before, each.after) == ("other/mark-out/mark", "side/cut/cut"))
    assert reason.sentence == "The other and the side are marked side by side, before either is cut."
    assert reason.harm == "Lines that are marked on one piece after the other differ, and so do the parts."
    (said,) = format_only_findings(drawn)
    assert said.what == (
        "It is to be worked together with other; they are marked out side by side, and what is cut into them is planned for each "
        "part alone."
    )
    assert carry_out(plan, drawn).proof.held


def test_a_mirrored_one_is_turned_end_for_end(tmp_path: Path) -> None:
    plan = planned(two(tmp_path, HOLE.format("left", 40, 8), HOLE.format("right", 40, 8)))
    (step,) = (each for each in plan.steps if "side/mark-out/mark" in each.tasks)
    assert step.instructions[:3] == (
        "Lay A and C side by side, ends level.",
        "Turn C end for end: it mirrors A.",
        "Square the lines at 40 mm across A and C.",
    )


def test_what_is_not_worked_together_keeps_a_step_of_its_own(tmp_path: Path) -> None:
    plan = planned(two(tmp_path, with_=""))
    marked = [step.tasks for step in plan.steps if any(task.endswith("/mark") and "mark-out" in task for task in step.tasks)]
    assert sorted(marked) == [("other/mark-out/mark",), ("shelf/mark-out/mark",), ("side/mark-out/mark",)]
    assert not [step for step in plan.steps if any("across A and C" in line for line in step.instructions)]


def test_the_brackets_of_the_towel_roller_are_marked_as_a_mirrored_pair() -> None:
    """Foster, Carpentry and Woodwork, 1911, chapter XXXI: the two brackets are fixed to one another and shaped as one."""
    both = Beside(("bracket-closed", "bracket-open"), turned=True)
    assert marked_together(job("tests/cases/s09-towel-roller.yaml")) == dict.fromkeys(both.parts, both)
