"""Parts too short to be held for their cuts: cut while they are the end of a longer stick, and sawn off it last."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.findings import Refused
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

HOLE = "{kind: hole, face: inside, at: {left: 15, top: 10}, diameter: 6}"
HOUSING = "{kind: housing, face: inside, from: left, distance: 15, width: 12, depth: 6}"
SLOPE = "{kind: bevel, edge: left, low: inside, angle: 20}"
FAR_HOLE = "{kind: hole, face: inside, at: {right: 15, top: 10}, diameter: 6}"


def block(folder: Path, feature: str, length: float = 45) -> Job:
    """Two alike blocks of 40 x 20 mm with one cut."""
    file = folder / "job.yaml"
    file.write_text(
        f"""format: 1
job: Short block
stock:
  stick: {{material: European beech, hardness: hardwood, form: board, width: 40, thickness: 20, lengths: [2000], surface: planed}}
parts:
  block: {{count: 2, stock: stick, length: {length}, features: {{cut: {feature}}}}}
""",
        encoding="utf-8",
    )
    return read_job(file)[0]


def planned(drawn: Job) -> Plan:
    return make_plan(drawn, workshop("well-equipped"), knowledge())


@pytest.mark.parametrize(("feature", "length"), [(HOLE, 45), (HOUSING, 45), (HOLE, 30)])
def test_a_short_part_is_cut_on_a_stick_and_sawn_off_last(feature: str, length: float, tmp_path: Path) -> None:
    """What is held while it is sawn off is a hand's width of stick beside it, 100 mm (common practice)."""
    drawn = block(tmp_path, feature, length)
    plan = planned(drawn)
    order = [task.id for task in plan.tasks if task.part]
    assert order[-4:] == ["block/first-end/square", "block/mark-out/mark", "block/cut/cut", "block/length/cut"]
    on_it = {task.id: task.in_the_long for task in plan.tasks if task.part}
    assert on_it["block/mark-out/mark"]
    assert on_it["block/cut/cut"]
    (blank,) = plan.blanks
    assert (blank.yields, blank.length >= length + 100) == (1, True)
    (reason,) = (each for each in plan.reasons if (each.before, each.after) == ("block/cut/cut", "block/length/cut"))
    assert reason.sentence == (
        "The cut is cut while the part is the end of a longer stick: by itself the part is too short to be held for it. "
        "The part is sawn off last."
    )
    proof = carry_out(plan, drawn).proof
    assert proof.held, [look.says for look in proof.failures]


def test_a_part_long_enough_is_cut_to_length_first(tmp_path: Path) -> None:
    plan = planned(block(tmp_path, HOLE, length=120))
    assert not any(task.in_the_long for task in plan.tasks if task.kind in ("hole", "mark-out"))
    order = [task.id for task in plan.tasks]
    assert order.index("block/length/cut") < order.index("block/cut/cut")


def test_the_proof_notices_a_hole_that_is_bored_before_the_first_end_is_square(tmp_path: Path) -> None:
    drawn = block(tmp_path, HOLE)
    plan = planned(drawn)
    first = next(task for task in plan.tasks if task.id == "block/first-end/square")
    last = next(task for task in plan.tasks if task.id == "block/cut/cut")
    rest = [task for task in plan.tasks if task not in (first, last)]
    at = next(number for number, task in enumerate(rest) if task.id == "block/length/cut")
    proof = carry_out(replace(plan, tasks=(*rest[:at], last, first, *rest[at:])), drawn).proof
    says = [look.says for task in proof.tasks if task.task == "block/cut/cut" for look in task.looked if not look.held]
    assert "the left face, which it is measured from, is not true yet" in says


def test_a_hole_measured_from_the_end_that_is_sawn_last_is_refused_with_its_remedy(tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        planned(block(tmp_path, FAR_HOLE))
    (finding,) = (each for each in refused.value.findings if each.code == "no-way")
    assert finding.remedy == (
        "Measure it from the left end instead: then it can be made on a longer stick, and the part is sawn off last. Or nearest: "
        "Bore right through with the brace: It must be 15 mm longer. Or: Drill a small hole with the cordless drill: It must be "
        "15 mm longer."
    )


def test_a_slope_on_the_end_that_the_length_is_measured_from_is_not_cut_on_a_stick(tmp_path: Path) -> None:
    """The edge that a rule is laid to is planed away with the slope, and 45 mm from what is left are not 45 mm."""
    with pytest.raises(Refused) as refused:
        planned(block(tmp_path, SLOPE))
    (finding,) = (each for each in refused.value.findings if each.code == "no-way")
    assert (
        finding.remedy
        == "Nearest: Plane the bevel: It must be 55 mm longer. Or: Saw a bevel on the band saw: It must be 105 mm longer."
    )
