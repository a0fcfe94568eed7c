"""Answers about the order, word for word, from the plans of the examples; and what comes of an order that is asked for."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.asking.differences import differences
from sequencer.asking.orders import why_before, why_here
from sequencer.asking.supposing import suppose
from sequencer.cli import main
from sequencer.findings import Refused, Unusable
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.pipeline import Checked, check
from sequencer.plan_file import write_plan
from sequencer.planning.planner import make_plan
from tests.made import ROOT, job, knowledge, plan, workshop
from tests.planning.test_standing_on import DRAWER_FRONT

CADDY = ROOT / "examples" / "herb-caddy" / "job.yaml"
FULL = ROOT / "examples" / "workshops" / "full.yaml"


def _said(text: str) -> str:
    return " ".join(text.split())


def _checked(name: str) -> Checked:
    return check(ROOT / "examples" / name / "job.yaml", FULL)


def test_a_chain_of_reasons_is_spelled_out() -> None:
    assert _said(why_before(plan("herb-caddy"), knowledge(), "end/handle-hole", "end/top-outline")) == (
        "Step 21 (drill the handle hole: end (B)) must come before step 23 (shape the top outline: end (B)): step 21 (drill the "
        "handle hole: end (B)) before step 23 (shape the top outline: end (B)) [holding]: "
        "Square work first: the top outline takes away the straight left end that the part is held by. source: common practice"
    )


def test_where_nothing_demands_an_order_the_cost_of_the_other_is_said() -> None:
    assert _said(why_before(plan("herb-caddy"), knowledge(), "side/floor-groove", "end/handle-hole")) == (
        "Nothing demands an order between step 18 (cut the floor groove: side (A)) and step 21 (drill the handle hole: end (B)). "
        "The other way round takes no longer: of orders that change as little, the usual one of a workshop is taken. A decision "
        "may swap them."
    )


def test_an_order_that_saves_a_set_up_says_which() -> None:
    """All faces are marked in one go; that needs every blank, and a floor brought to width before the end's blank is cut
    would part it in two."""
    assert _said(why_before(plan("herb-caddy"), knowledge(), "end/rough-length", "floor/width")) == (
        "Nothing demands an order between step 3 (cut the blank: end (B)) and step 8 (bring to width: floor (D)). It saves "
        "changing: the other way round takes 4 min more: 'Mark face side and face edge: side, end, divider and floor (A, B, C, "
        "D)' would have to be set up once more. A decision may swap them."
    )


def test_a_step_says_what_it_waits_for_and_where_else_it_could_stand() -> None:
    assert _said(why_here(plan("herb-caddy"), knowledge(), "end/top-outline")) == (
        "Step 23, Shape the top outline: end (B) "
        "It waits for: "
        "step 21, Drill the handle hole: end (B): Square work first: the top outline takes away the straight left end that the "
        "part is held by. "
        "step 19, Cut the floor groove: end (B): Square work first: the top outline takes away the straight top edge that the "
        "part is held by. "
        "For it wait: "
        "steps 26 and 29: No edge tool or saw works on a sanded face: grit left in it blunts the edge. "
        "So it could stand anywhere between step 21 and step 26. Some of the other places between would cost as little "
        "changing, some up to 2 min more: of the cheapest, the usual one of a workshop is taken."
    )


def test_a_step_says_towards_what_the_plan_itself_chose_its_place() -> None:
    """The mortise is cut before the tenon by choice alone: the wider range counts without it, the narrower with it."""
    said = _said(why_here(plan("step-stool"), knowledge(), "leg/rail-mortise"))
    assert (
        "The plan itself chose its place towards: step 15, Cut the left tenon and the right tenon: end rail (B): Either could be "
        "cut first; the rail mortise is, so that the left tenon is fitted to it."
    ) in said
    assert said.endswith(
        "So it could stand anywhere between step 8 and step 18; as the plan chose, between step 8 and step 15. "
        "It stands beside step 13 (cut the spine lap: end rail (B)), at the same station. Some of the other places between would "
        "cost as little changing, some up to 6 min more: of the cheapest, the usual one of a workshop is taken."
    )


def test_a_step_that_costs_more_anywhere_else_says_so() -> None:
    said = _said(why_here(plan("picture-frame"), knowledge(), "long-piece/rebate"))
    assert said.endswith(
        "So it could stand anywhere between step 4 and step 9. At any other place between, changing set-ups would take "
        "2 min more."
    )
    said = _said(why_here(plan("step-stool"), knowledge(), "spine/left-lap"))
    assert said.endswith(
        "It stands beside step 13 (cut the spine lap: end rail (B)), at the same station. At any other place between, changing "
        "set-ups would take 3 to 6 min more."
    )


def test_a_step_that_costs_as_much_anywhere_else_stands_as_usual() -> None:
    said = _said(why_here(plan("nest-box"), knowledge(), "front/rough-length"))
    assert said.endswith(
        "So it could stand anywhere between the very beginning and step 6. No other place between costs more or less changing "
        "of set-ups: the usual one of a workshop is taken."
    )


def test_size_is_what_the_last_end_gives() -> None:
    """A blank over length has no size: the chain from it to the trial goes by what makes the last end."""
    said = _said(why_before(plan("nest-box"), knowledge(), "front/rough-length", "whole/dry-fit"))
    assert said.endswith(
        "step 28 (cut the roof bevel: front (C)) before step 30 (try it dry: back, side, front and floor) [fit]: The front must "
        "have its size before it is tried. source: common practice"
    )
    assert said.count("must have its size") == 1
    assert "step 3 (cut the blank: front (C)) before step 16 (mark out: front (C)) [reference]" in said


def test_a_step_that_can_stand_nowhere_else_says_so() -> None:
    said = _said(why_here(plan("herb-caddy"), knowledge(), "whole/coat-1/put-away"))
    assert said.endswith("So it cannot stand anywhere else than between step 36 and step 38.")


def test_no_step_is_listed_twice_in_what_another_waits_for() -> None:
    """The dry fit of the whole waits for one step with two rebates, each for a reason of its own."""
    for name in ("herb-caddy", "picture-frame"):
        for step in plan(name).steps:
            if step.kind in ("work", "wait"):
                said = why_here(plan(name), knowledge(), str(step.number))
                for block in re.findall(r"^(?:It waits for|For it wait):\n((?:  .*\n)*)", said, re.MULTILINE):
                    rows = re.findall(r"^  (steps? [\d, and]+)", block, re.MULTILINE)
                    numbers = [number for row in rows for number in re.findall(r"\d+", row)]
                    assert len(numbers) == len({*numbers}), (name, step.number)
    assert (
        "step 16, Cut the pot end rebate and the tool end rebate: side (A): The pot end rebate makes room for the end, so it is "
        "cut before they are tried. The tool end rebate makes room for the end, so it is cut before they are tried. step 13"
    ) in _said(why_here(plan("herb-caddy"), knowledge(), "whole/dry-fit"))


def test_an_order_nobody_demands_can_be_had_and_its_moves_are_listed() -> None:
    answer = suppose(_checked("herb-caddy"), "side/floor-groove", "side/divider-housing", lambda _: None)
    assert answer.possible
    said = _said(answer.text)
    assert said.startswith(
        "Step 18 (cut the floor groove: side (A)) can come before step 17 (cut the divider housing: side (A)): made on solids, "
        "all checks hold. It costs no time."
    )
    assert "- Moved: Cut the floor groove: side, from step 18 to step 16." in said
    assert said.endswith("- {about: side/floor-groove, before: side/divider-housing, by: ..., why: ...}")


def _settled_by(text: str, example: str, folder: Path) -> Checked:
    """The example with the decisions that an answer prints written into its file, by a role and for a reason."""
    printed = re.findall(r"^  - ({about: .*)$", text, re.MULTILINE)
    assert printed
    decided = "".join(
        f"  - {line.replace('by: ...', 'by: Head of technology').replace('why: ...', 'why: asked for')}\n" for line in printed
    )
    drawn = (ROOT / "examples" / example / "job.yaml").read_text(encoding="utf-8")
    file = folder / "job.yaml"
    head, found, rest = drawn.partition("\ndecisions:\n")
    file.write_text(f"{head}\ndecisions:\n{decided}{rest if found else ''}", encoding="utf-8")
    return check(file, FULL)


def test_steps_asked_by_number_are_settled_by_the_names_of_their_work(tmp_path: Path) -> None:
    """Step 16 cuts two rebates: both are named, and the job file takes what is printed."""
    answer = suppose(_checked("herb-caddy"), "18", "16", lambda _: None)
    assert answer.possible
    assert _said(answer.text).startswith(
        "Step 18 (cut the floor groove: side (A)) can come before step 16 (cut the pot end rebate and the tool end rebate: side "
        "(A)): made on solids, all checks hold."
    )
    assert answer.text.endswith(
        "  - {about: side/floor-groove, before: side/pot-end-rebate, by: ..., why: ...}\n"
        "  - {about: side/floor-groove, before: side/tool-end-rebate, by: ..., why: ...}"
    )
    checked = _settled_by(answer.text, "herb-caddy", tmp_path)
    assert checked.findings == _checked("herb-caddy").findings
    made = [task.id for task in make_plan(checked.job, workshop(), knowledge()).tasks]
    assert made.index("side/floor-groove/cut") < made.index("side/pot-end-rebate/cut")


@pytest.mark.parametrize(
    ("example", "later", "earlier"),
    [
        ("herb-caddy", "whole/dry-fit", "box/dry-fit"),
        ("step-stool", "spine-in-place/dry-fit", "end-frame/dry-fit"),
        ("step-stool", "seat/mark-out", "end-rail/mark-out"),
    ],
)
def test_what_is_joined_and_marked_can_be_decided_by_the_names_printed(
    example: str, later: str, earlier: str, tmp_path: Path
) -> None:
    answer = suppose(_checked(example), later, earlier, lambda _: None)
    assert answer.possible
    checked = _settled_by(answer.text, example, tmp_path)
    assert (checked.job.decisions[0].about, checked.job.decisions[0].before) == (later, earlier)
    assert not [finding for finding in checked.findings if finding.level == "error"]


def test_an_order_that_solid_reasons_forbid_is_refused_with_them() -> None:
    answer = suppose(_checked("herb-caddy"), "whole/clean-up", "whole/glue", lambda _: None)
    assert not answer.possible
    assert _said(answer.text) == (
        "Step 35 (clean up: the whole) cannot come before step 33 (glue and cramp: the whole). These reasons stand against it: "
        "step 33 (glue and cramp: the whole) before step 34 (leave the glue to set: the whole) [cure]: Glue holds only when it "
        "has set under the cramps. otherwise: A joint that is moved before the glue has set opens and does not hold. source: E. "
        "W. Foster, Carpentry and Woodwork, 1911, ch. XXV "
        "step 34 (leave the glue to set: the whole) before step 35 (clean up: the whole) [cure]: A joint is left alone until its "
        "glue has set. otherwise: A joint that is moved before the glue has set opens and does not hold. source: common "
        "practice No decision can undo all of these."
    )


@pytest.mark.parametrize(("later", "earlier"), [("peg-in", "corner"), ("peg-in/glue", "corner/glue"), ("peg-in", "corner/glue")])
def test_what_the_drawing_says_of_two_joints_is_what_stands_against_the_other_order(
    later: str, earlier: str, tmp_path: Path
) -> None:
    """Named are whole joints, with all that is tried, cleaned and left to set: what the drawing says of joining them is told."""
    file = tmp_path / "job.yaml"
    file.write_text(DRAWER_FRONT.replace("FIXED", "glue"), encoding="utf-8")
    answer = suppose(check(file, FULL), later, earlier, lambda _: None)
    assert not answer.possible
    assert _said(answer.text).partition(". ")[2] == (
        "This reason stands against it: step 14 (leave the glue to set: corner) before step 16 (glue and cramp: peg in) "
        "[drawing]: The drawing says that peg in comes after corner. source: common practice "
        "No decision can undo it; the drawing or its joints would have to say otherwise of peg-in."
    )


def test_the_joints_that_say_what_they_come_after_are_named(tmp_path: Path) -> None:
    """The joints of a bird house's roof come after those of its floor, and these after the walls': by way of both, too."""
    answer = suppose(check(ROOT / "tests" / "cases" / "s04-bird-house.yaml", FULL), "roof-1", "wall-1", lambda _: None)
    said = _said(answer.text)
    assert "These reasons stand against it:" in said
    assert "The drawing says that floor 1 comes after walls." in said
    assert said.endswith("the drawing or its joints would have to say otherwise of roof-1 and roof-2.")


def test_workmanship_can_be_overruled_by_a_decision() -> None:
    """The outside cleaned before the handle, the hanger fixed before the glass: somebody may decide otherwise, and is told
    what may come of it."""
    cases = (
        ("herb-caddy", "whole/glue", "whole/clean-outside", "stands in the way"),
        ("picture-frame", "backing-in/nail", "whole/hanger", "before the loose sheet goes in"),
    )
    for example, later, earlier, overruled in cases:
        answer = suppose(_checked(example), later, earlier, lambda _: None)
        assert answer.possible, example
        assert overruled in _said(answer.text).split("overrules: ")[1]
        assert "What may come of it:" in answer.text
        assert "No decision" not in answer.text


def test_no_hole_is_drilled_in_what_is_screwed_together() -> None:
    """The back of the nest box lies on no backing board any more when the sides stand out of it."""
    answer = suppose(_checked("nest-box"), "whole/screw", "back/top-hanger", lambda _: None)
    assert not answer.possible
    assert "The top hanger is cut while the back is still a piece by itself." in _said(answer.text)


def test_a_refused_order_names_the_reasons_that_refused_it() -> None:
    """The box against all work on the side: no shortest chain between any two of their tasks, but the circle that was met."""
    checked = _checked("herb-caddy")
    answer = suppose(checked, "box", "side", lambda _: None)
    made = plan("herb-caddy")
    asked = [
        Decision(one.id, "Head", "to see", before=other.id)
        for one in made.tasks
        for other in made.tasks
        if one.id.startswith("box/") and other.id.startswith("side/")
    ]
    with pytest.raises(Refused) as refused:
        make_plan(replace(checked.job, decisions=tuple(asked)), workshop(), knowledge())
    (circle,) = refused.value.findings
    (sentence,) = {each.sentence for each in made.reasons if each.kind != "decision" and each.sentence in circle.what}
    assert not answer.possible
    assert sentence in _said(answer.text)
    assert _said(answer.text).endswith("No decision can undo it.")
    assert answer.text.count("source: ") == 1


def test_a_set_up_is_said_to_come_before_what_it_is_for() -> None:
    made = make_plan(job("herb-caddy"), workshop("well-equipped"), knowledge())
    setting = next(step for step in made.steps if step.kind == "set-up")
    working = next(step for step in made.steps if step.kind == "work" and step.tasks == setting.tasks)
    told = (
        f"Step {setting.number} sets up what step {working.number} ({working.title[:1].lower()}{working.title[1:]}) is done "
        "with: a set-up comes right before the work that it is for."
    )
    assert _said(why_before(made, knowledge(), str(setting.number), str(working.number))) == told
    assert _said(why_before(made, knowledge(), str(setting.number), str(setting.number))) == told
    assert _said(why_here(made, knowledge(), str(setting.number))).startswith(f"{told} Step {working.number}, {working.title}")
    other = _said(why_before(made, knowledge(), str(setting.number), "side/floor-groove"))
    assert other.startswith(f"{told} Step {working.number} (")


def test_what_is_asked_of_many_steps_is_priced_for_them_all() -> None:
    said = _said(why_before(plan("herb-caddy"), knowledge(), "floor", "divider"))
    priced = re.search(r"to have all of (steps [\d, and]+) before all of (steps [\d, and]+) takes", said)
    assert priced is not None
    assert f"Nothing demands an order between {priced[2]} and {priced[1]}." in said


def test_what_may_yield_is_overruled_and_its_harm_named() -> None:
    """Sanding the inside before the dry fit gives up a reason of surface, which a teacher may decide."""
    answer = suppose(_checked("herb-caddy"), "box/clean-inside", "box/dry-fit", lambda _: None)
    assert answer.possible
    assert "overrules: Faces are cleaned after the dry fit, so that joints stay as they were fitted" in _said(answer.text)
    assert "What may come of it: What cleaning takes off is missing where the joint was fitted." in _said(answer.text)


def test_what_is_so_already_is_said() -> None:
    answer = suppose(_checked("herb-caddy"), "end/handle-hole", "end/top-outline", lambda _: None)
    assert answer.possible
    assert _said(answer.text) == (
        "It is so already: step 21 (drill the handle hole: end (B)) comes before step 23 (shape the top outline: end (B))."
    )


def _with(*decisions: Decision) -> Plan:
    return make_plan(replace(job("herb-caddy"), decisions=decisions), workshop(), knowledge())


def test_a_decision_is_printed_with_what_it_costs() -> None:
    decided = Decision(about="box/clean-inside", before="box/dry-fit", by="Head of technology", why="the trial comes last")
    line = _with(decided).decisions[0]
    assert line.cost.startswith("costs 2 min of changing set-ups; overrules: Faces are cleaned after the dry fit")
    longer = Decision(about="end/top-outline", minutes=30, by="Head of technology", why="slow class")
    line = _with(longer).decisions[0]
    # 12 min on each of two ends is planned; 30 min on each is decided.
    assert line.cost == "costs 36 min of work on each thing"


@pytest.mark.parametrize(
    ("name", "about", "before"),
    [
        ("herb-caddy", "whole/coat-1/wait", "whole/coat-1/put-away"),
        ("nest-box", "roof/back-bevel", "roof/roof-screws"),
        ("step-stool", "leg/foot-taper", "leg/rail-mortise"),
    ],
)
def test_no_decision_undoes_what_could_hurt_or_spoil_the_size(name: str, about: str, before: str) -> None:
    answer = suppose(_checked(name), about, before, lambda _: None)
    assert not answer.possible


def test_a_foot_that_is_tapered_first_is_not_level_enough_to_be_pressed_down() -> None:
    answer = suppose(_checked("step-stool"), "leg/foot-taper", "leg/rail-mortise", lambda _: None)
    assert not answer.possible
    assert "the order breaks: - only 48 % of the top face is left to press it down level by; " in _said(answer.text)


def test_a_shape_that_comes_first_asks_for_a_way_that_grips_it() -> None:
    """The hole is measured from the bottom edge and from what is left of the end; the outline takes only what it is held by."""
    answer = suppose(_checked("herb-caddy"), "end/top-outline", "end/handle-hole", lambda _: None)
    assert answer.possible
    said = _said(answer.text)
    assert "overrules: Square work first: the top outline takes away the straight left end that the part is held by." in said
    assert "made by brace-through-hole at hand-boring, no longer by bore-large-through-hole-on-wide-board at pillar-drill" in said


def test_a_choice_of_the_plan_s_own_gives_way_and_no_decision_moves_a_joint_that_is_wet() -> None:
    stool = job("step-stool")
    one, other = "end-rail/left-tenon", "leg/rail-mortise"
    decided = [Decision(one.replace("left", end), before=other, by="T", why="tenons first") for end in ("left", "right")]
    made = make_plan(replace(stool, decisions=tuple(decided)), workshop(), knowledge())
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place[f"{one}/cut"] < place[f"{other}/cut"]
    for about, before in (("whole/clean-up", "end-frame/cure"), ("whole/coat-1/coat", "end-frame/cure")):
        wet = Decision(about, before=before, by="T", why="quicker")
        with pytest.raises(Refused, match="round in a circle"):
            make_plan(replace(stool, decisions=(wet,)), workshop(), knowledge())


def test_a_changed_size_keeps_the_decisions_and_the_order(tmp_path: Path) -> None:
    decided = Decision(about="side/floor-groove", before="side/divider-housing", by="Head of technology", why="one plough")
    drawn = replace(job("herb-caddy"), decisions=(decided,))
    before = make_plan(drawn, workshop(), knowledge())
    text = CADDY.read_text(encoding="utf-8").replace("long: 320", "long: 330")
    assert text != CADDY.read_text(encoding="utf-8")
    file = tmp_path / "job.yaml"
    file.write_text(text, encoding="utf-8")
    longer = replace(check(file, FULL).job, decisions=(decided,))
    after = make_plan(longer, workshop(), knowledge(), earlier=tuple(task.id for task in before.tasks))
    assert [task.id for task in after.tasks] == [task.id for task in before.tasks]
    assert after.decisions == before.decisions
    assert differences(before, before) == []
    assert all(line.startswith("Step ") for line in differences(before, after))


def test_an_earlier_plan_is_read_and_what_changed_is_listed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    earlier = tmp_path / "earlier.json"
    decided = Decision(about="side/floor-groove", before="side/divider-housing", by="Head of technology", why="one plough")
    write_plan(_with(decided), earlier)
    words = ["plan", str(CADDY), "--workshop", str(FULL), "--earlier", str(earlier)]
    assert main(words) == 0
    assert "Nothing changed against the earlier plan." in capsys.readouterr().out
    earlier.write_text("{}", encoding="utf-8")
    assert main(words) == 2
    assert "holds no plan in the JSON form of this version" in _said(capsys.readouterr().err)
    assert main([*words[:-1], str(tmp_path / "none.json")]) == 2


def test_a_number_longer_than_any_step_is_no_step() -> None:
    with pytest.raises(Unusable) as unusable:
        why_here(plan("herb-caddy"), knowledge(), "9" * 5000)
    assert unusable.value.findings[0].remedy == f"Steps run from 1 to {len(plan('herb-caddy').steps)}."


def test_a_joint_is_asked_about_as_decisions_name_it() -> None:
    said = _said(why_here(plan("herb-caddy"), knowledge(), "corner-1"))
    assert "Glue and cramp: box" in said
    assert "Try it dry: box" in said
