"""Parts too short to be held for their cuts: cut while they are the end of a longer stick, and sawn off it last."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.findings import Refused
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.paper.drawing import picture
from sequencer.paper.pictured import Pictured
from sequencer.paper.step_pictures import shown as scenes
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

HOLE = "{kind: hole, face: inside, at: {left: 15, top: 10}, diameter: 6}"
HOUSING = "{kind: housing, face: inside, from: left, distance: 15, width: 12, depth: 6}"
TWO_OF_A_SECTION = f"""format: 1
job: Toys
stock:
  stick: {{material: European beech, hardness: hardwood, form: board, width: 40, thickness: 20, lengths: [2000], surface: planed}}
parts:
  block: {{stock: stick, length: 45, features: {{hole: {HOLE}}}}}
  stop: {{stock: stick, length: 60, features: {{trench: {HOUSING}}}}}
"""
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
    # Both lie on one stick: 25 to square the end, 10 between them for the saw and a new end, and a kerf and 100 to hold.
    (blank,) = plan.blanks
    assert (blank.yields, blank.pieces, blank.length) == (2, 27, 25 + 2 * length + 10 + 101)
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
        "Measure the cut from the left end instead: then it can be made on a longer stick, and the part is sawn off last. "
        "Or nearest: Bore right through with the brace: It must be 15 mm longer. Or: Drill a small hole with the "
        "cordless drill: It must be 15 mm longer."
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


TWO = "{kind: hole, face: inside, at: {left: 15, top: 10}, diameter: 6}, far: " + FAR_HOLE
ALONG = HOLE + ", furrow: {kind: groove, face: outside, from: bottom, distance: 12, width: 6, depth: 5}"


def test_the_feature_that_keeps_a_part_off_a_stick_is_named(tmp_path: Path) -> None:
    """It is another one that is measured from the right end: the first would have a way."""
    with pytest.raises(Refused) as refused:
        planned(block(tmp_path, TWO))
    remedies = {each.subject: each.remedy for each in refused.value.findings if each.code == "no-way"}
    assert remedies.keys() == {"block/cut/cut", "block/far/cut"}
    for remedy in remedies.values():
        assert remedy.startswith(
            "Measure the far from the left end instead: then it can be made on a longer stick, and the part is sawn off last."
        )


def test_an_edge_that_the_saw_makes_last_is_named(tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        planned(block(tmp_path, HOLE + ", soft: {kind: chamfer, edges: [right/inside], size: 2}"))
    (remedy,) = (each.remedy for each in refused.value.findings if each.subject == "block/cut/cut")
    assert remedy.startswith(
        "It could be made on a longer stick but for the soft, which the ends must be there for. Or nearest: "
    )


def test_what_runs_along_and_reaches_the_sawn_end_is_mixed_with_what_is_cut_on_the_stick(tmp_path: Path) -> None:
    """A furrow runs right along the whole stick, so it comes out at the end that is sawn last."""
    drawn = block(tmp_path, ALONG)
    plan = planned(drawn)
    order = [task.id for task in plan.tasks]
    assert order.index("block/cut/cut") < order.index("block/length/cut")
    assert order.index("block/furrow/cut") < order.index("block/length/cut")
    proof = carry_out(plan, drawn).proof
    assert proof.held, [look.says for look in proof.failures]


def handed(drawn: Job) -> Job:
    return replace(drawn, parts={"block": replace(drawn.parts["block"], handed=True)})


def test_left_and_right_parts_have_a_stick_each_and_what_that_wastes_is_said(tmp_path: Path) -> None:
    """Of 54 sticks 25 + 45 + 101 long, 126 mm each stay over: 6.8 m."""
    drawn = handed(block(tmp_path, HOUSING))
    plan = planned(drawn)
    (blank,) = plan.blanks
    assert (blank.yields, blank.pieces, blank.length) == (1, 54, 171)
    (finding,) = (each for each in plan.findings if each.code == "stick-each")
    assert finding.what == (
        "Each block is cut on a stick of its own, because left and right ones are measured from different ends. Of 54 sticks of "
        "171 mm for the class 126 mm each stay over: 6.8 m in all."
    )
    proof = carry_out(plan, drawn).proof
    assert proof.held, [look.says for look in proof.failures]


def test_parts_of_one_stick_are_marked_out_each_and_every_new_end_is_squared(tmp_path: Path) -> None:
    """Letter and number stand on the parts, not on wood that is waste."""
    plan = planned(block(tmp_path, HOLE))
    said = {task: step.instructions for step in plan.steps if step.kind == "work" for task in step.tasks}
    number = "Write letter and number beside the mark, as A 1."
    assert number not in said["block/face-marks/mark"]
    assert {
        "Square a knife line round each part end, measured from 0.",
        "Leave 10 mm between two parts for the saw.",
        "Draw face marks, letter and number on each part.",
    } <= {*said["block/mark-out/mark"]}
    assert len(said["block/mark-out/mark"]) <= 1 + 5  # and to leave the stick whole
    assert said["block/length/cut"] == (
        "Hold the long stick, never the small part.",
        "Start at the far corner, on the waste side.",
        "Lower the saw slowly until it is level.",
        "Saw the part off at its line, in the waste.",
        "Saw the new end square at the next line each time.",
    )
    assert not any("small part" in line for line in said["block/first-end/square"])
    took = {task: step.minutes for step in plan.steps if step.kind == "work" for task in step.tasks}
    assert (took["block/mark-out/mark"], took["block/first-end/square"], took["block/length/cut"]) == (16, 8, 8)
    long = planned(block(tmp_path, HOLE, length=120))
    said = {task: step.instructions for step in long.steps if step.kind == "work" for task in step.tasks}
    # On a strip nothing shows where its parts are until they are sawn off.
    assert number not in said["block/face-marks/mark"]
    assert said["block/length/cut"][-1] == "Write letter and number on each part."
    of_sticks = {*said["block/length/cut"][:-1]}.union(*(lines for lines in said.values() if lines != said["block/length/cut"]))
    assert not any("each part" in line for line in of_sticks)


def test_the_proof_notices_a_stop_at_the_end_of_a_stick_with_several_parts(tmp_path: Path) -> None:
    drawn = block(tmp_path, HOLE)
    plan = planned(drawn)
    tasks = [
        replace(task, layouts=tuple(replace(each, lie=replace(each.lie, stop="left")) for each in task.layouts))
        if task.id == "block/cut/cut"
        else task
        for task in plan.tasks
    ]
    says = [look.says for look in carry_out(replace(plan, tasks=tuple(tasks)), drawn).proof.failures]
    assert "its place is set by a stop at the end, where only the first of its parts lies" in says


def test_what_is_held_behind_the_last_part_is_looked_at(tmp_path: Path) -> None:
    drawn = block(tmp_path, HOLE)
    plan = planned(drawn)
    cards = (
        replace(card, figures={**card.figures, "shortest": 102.0}) if card.station == "hand-sawing" else card
        for card in plan.stations
    )
    found = [look.says for look in carry_out(replace(plan, stations=tuple(cards)), drawn).proof.failures]
    assert found == ["what stays behind the last part is held beside the cut, 100 mm; at least 102 mm is asked"]


LAST = "{kind: halving, face: inside, from: left, distance: 30, width: 15, depth: 10}"
FIRST = "{kind: halving, face: inside, from: left, distance: 0, width: 15, depth: 10}"


def test_a_cut_that_runs_out_at_the_end_sawn_last_is_refused_with_how_to_draw_it(tmp_path: Path) -> None:
    """Turned end for end the halving runs out at the first end, which is there while the part is on its stick."""
    with pytest.raises(Refused) as refused:
        planned(block(tmp_path, LAST))
    (finding,) = (each for each in refused.value.findings if each.subject == "block/cut/cut")
    assert finding.remedy.startswith(
        "Draw the part turned end for end, so that the cut runs out at the left end, and measure all from that end: then it can "
        "be made on a longer stick, and the part is sawn off last. Or nearest: "
    )
    drawn = block(tmp_path, FIRST)
    assert carry_out(planned(drawn), drawn).proof.held


def test_what_runs_in_from_the_first_end_has_a_stick_to_itself(tmp_path: Path) -> None:
    """On a second part of the stick a cut that runs out at the left would run through the end of the first."""
    drawn = block(tmp_path, FIRST)
    plan = planned(drawn)
    (blank,) = plan.blanks
    assert (blank.yields, blank.pieces) == (1, 54)
    (finding,) = (each for each in plan.findings if each.code == "stick-each")
    assert finding.what.startswith("Each block is cut on a stick of its own, because the cut runs in from the end of the stick.")


def test_a_pair_on_sticks_is_told_apart_by_first_ends_at_one_side(tmp_path: Path) -> None:
    """Laid face edges together with first ends level, one is left and the other right: marked alike, both would be left."""
    plan = planned(handed(block(tmp_path, HOUSING)))
    said = {task: step for step in plan.steps if step.kind == "work" for task in step.tasks}
    faces = said["block/face-marks/mark"]
    assert faces.instructions[-2:] == (
        "Lay each pair face edges together, face sides up.",
        "Write left, right and first end as the picture shows.",
    )
    assert "each pair" in [check.what for check in faces.checks]
    assert "Square a knife line all round, near the marked end." in said["block/first-end/square"].instructions
    # Which end that is was chosen with the pair laid together.
    assert not any("end without splits" in line or "better end" in line for step in plan.steps for line in step.instructions)
    alike = planned(block(tmp_path, HOUSING))
    told = {task: step.instructions for step in alike.steps if step.kind == "work" for task in step.tasks}
    assert "Make all marks near an end without splits." in told["block/face-marks/mark"]
    assert "Square a knife line all round, near the face marks." in told["block/first-end/square"]
    assert not any("better end" in line for lines in told.values() for line in lines)
    assert not any("pair" in line or "marked end" in line for step in alike.steps for line in step.instructions)


@pytest.mark.parametrize(
    ("edges", "said"),
    [
        ("[inside/top]", "Plane only the face side corner away from the face edge."),
        ("[bottom/inside]", "Plane only the corner between face side and face edge."),
        ("[outside/bottom]", "Plane only the back corner at the face edge."),
        ("[inside/top, inside/bottom]", ""),
    ],
)
def test_of_one_long_corner_the_card_says_which_by_the_face_marks(edges: str, said: str, tmp_path: Path) -> None:
    plan = planned(block(tmp_path, f"{{kind: chamfer, edges: {edges}, size: 3}}", length=200))
    (step,) = (each for each in plan.steps if each.kind == "work" and "block/cut/cut" in each.tasks)
    assert [line for line in step.instructions if "corner" in line] == ([said] if said else [])
    assert "Plane with the grain along each marked edge." in step.instructions


def test_a_chamfer_along_one_edge_says_nothing_of_end_grain(tmp_path: Path) -> None:
    """A child who is told to plane end grain spoils both ends."""
    plan = planned(block(tmp_path, "{kind: chamfer, edges: [inside/top], size: 3}", length=200))
    (step,) = (each for each in plan.steps if each.kind == "work" and "block/cut/cut" in each.tasks)
    assert not any("end grain" in line for line in (*step.instructions, *step.method))


def test_a_stick_is_marked_out_across_the_card_and_each_part_with_a_cut_has_its_own_picture(tmp_path: Path) -> None:
    """Its parts' ends run from the first end: 45, 10 for the saw, 60. Their cuts would be a smudge there."""
    file = tmp_path / "toys.yaml"
    file.write_text(TWO_OF_A_SECTION, encoding="utf-8")
    drawn = read_job(file)[0]
    plan = planned(drawn)
    (step,) = (each for each in plan.steps if each.kind == "work" and "block/mark-out/mark" in each.tasks)
    pictured = Pictured(plan, drawn, carry_out(plan, drawn))
    whole, *parts = [panel.main[0][0] for panel in pictured.panels(step)]
    assert (whole.running, [view.running for view in parts]) == (True, [False, False])
    assert [(view.subject.letter, len(view.subject.waste)) for view in parts] == [("A", 1), ("B", 1)]
    shown = picture(step, pictured, 174.0, 32.0)
    assert shown.readable
    assert not picture(step, pictured, 114.0, 32.0).readable
    said = {kind: re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', shown.svg) for kind in ("running-size", "size", "end")}
    assert said["running-size"] == ["0", "45", "55", "115"]
    assert "10 waste" in said["size"]
    assert not any("saw" in words for words in said["size"])
    assert said["end"][0] == "first end"
    (apart,) = (each for each in plan.steps if each.kind == "work" and "block/length/cut" in each.tasks)
    acts = scenes(apart, pictured)
    assert [each.caption for each in acts] == ["A 1", "then the new end", "B 1"]
    # Only the 10 mm between the parts come off as waste, at the end of the next part; the rest of the stick holds that part.
    waste = [[thing.solid.volume for thing in each.scene.things if thing.look == "waste"] for each in acts]
    assert waste == [[], [pytest.approx(10 * 40 * 20)], []]
    spots = [float(x) for x in re.findall(r'<text class="running-size" x="([\d.]+)"', shown.svg)]
    assert spots == sorted(spots)


def test_no_way_of_squaring_the_first_end_leaves_it_open_which_end_of_a_pair_that_is() -> None:
    """Of a pair that is told apart by its first ends either is the wrong one, if it is chosen anew."""
    found = []
    for name, operation in ((n, each) for kind in knowledge().stations.values() for n, each in kind.operations.items()):
        said = operation.instructions
        plain, pairs = (said.where.get(f"part.{kind}-ends", ()) for kind in ("plain", "pair"))
        open_to_choice = [line for line in said.first_for.get("first-end", ()) if "better end" in line or "one end" in line]
        round_only = any(limit.of == "part.round" and limit.at_least for limit in operation.applies)
        if "first-end" in operation.makes and not round_only:
            assert {*open_to_choice} <= {*plain}, name
            assert any("marked" in line for line in pairs) or not open_to_choice, name
            found += [name] if open_to_choice else []
    assert len(found) >= 8


def test_a_stick_sawn_shorter_first_is_no_question_of_holding(tmp_path: Path) -> None:
    """The stop lies behind the block, towards the end that is held: sawn off first, it would take the block along. The block lies
    at the free end: sawn off first, it only gives the stop a new end."""
    file = tmp_path / "toys.yaml"
    file.write_text(TWO_OF_A_SECTION, encoding="utf-8")
    plan = planned(read_job(file)[0])
    (strip,) = plan.strips
    assert [piece.part for piece in strip.pieces] == ["block", "stop"]
    found = {(each.before, each.after): each for each in plan.reasons}
    with_it = found["block/hole/cut", "stop/length/cut"]
    assert (with_it.kind, with_it.sentence) == (
        "support",
        "The stop lies between the block and the end that is held: sawn off first, it takes the block with it.",
    )
    shorter = found["stop/trench/cut", "block/length/cut"]
    assert shorter.kind == "sequence"
    assert "It might still be held for the trench, but no such order is planned." in shorter.sentence
    assert "the stop would start from a new end" in shorter.sentence
