"""Plans of the examples in both workshops: what every plan must keep, and what taking a guard away must do."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

import pytest

from sequencer.findings import Refused
from sequencer.model.job import Allowance, Decision
from sequencer.model.workshop import Counted, Rule
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.reasons.grounds import TRADE
from tests.made import EXAMPLES, WORKSHOPS, job, knowledge, plan, without_guard, without_station_kind, workshop

BOTH = list(product(EXAMPLES, WORKSHOPS))


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_every_reason_holds_in_the_order(name: str, shop: str) -> None:
    made = plan(name, shop)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert [reason for reason in made.reasons if place[reason.before] >= place[reason.after]] == []


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_every_task_stands_in_exactly_one_working_step(name: str, shop: str) -> None:
    made = plan(name, shop)
    done = [task for step in made.steps if step.kind in ("work", "wait") for task in step.tasks]
    assert sorted(done) == sorted(task.id for task in made.tasks)
    assert [step.number for step in made.steps] == list(range(1, len(made.steps) + 1))


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_no_step_without_guard_line_and_hazard(name: str, shop: str) -> None:
    for step in plan(name, shop).steps:
        assert step.guard_line, step.id
        assert step.hazards, step.id
        assert step.hazard_line, step.id


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_no_staff_step_on_a_student_card(name: str, shop: str) -> None:
    for step in plan(name, shop).steps:
        if step.card == "student":
            assert step.who.operator != "staff", step.id
            assert step.kind in ("work", "wait"), step.id


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_a_staff_set_machine_is_set_before_use_and_guards_go_back(name: str, shop: str) -> None:
    made = plan(name, shop)
    for before, step in zip((None, *made.steps), made.steps, strict=False):
        kind = knowledge().stations[step.station_kind]
        if step.kind == "work" and kind.power == "machine" and kind.set_up_by == "staff":
            assert before is not None
            assert before.kind == "set-up"
            assert before.tasks == step.tasks
    for step, after in zip(made.steps, made.steps[1:], strict=False):
        task = next(task for task in made.tasks if task.id == step.tasks[0])
        if step.kind == "work" and knowledge().stations[step.station_kind].operations[task.operation].guards_off:
            assert after.kind == "guards-back"


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_nothing_forbidden_is_asked_for(name: str, shop: str) -> None:
    for step in plan(name, shop).steps:
        forbidden = {each for hazard in step.hazards for each in knowledge().hazards[hazard.name].forbids}
        lines = {each.name: each.title for each in step.wear}
        for thing in forbidden:
            assert lines[thing] == (knowledge().wear[thing].forbidden_line or knowledge().wear[thing].line)


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_equal_input_gives_an_equal_plan(name: str, shop: str) -> None:
    assert make_plan(job(name), workshop(shop), knowledge()) == plan(name, shop)


GUARDS_IN_USE = [
    (name, guard) for name in EXAMPLES for guard in sorted({guard.name for step in plan(name).steps for guard in step.guards})
]


@pytest.mark.parametrize(("name", "guard"), GUARDS_IN_USE)
def test_taking_a_guard_off_changes_the_way_or_refuses_and_says_why(name: str, guard: str) -> None:
    title = knowledge().guards[guard].name.lower()
    bare = without_guard(workshop(), guard)
    before = {task.id: task for task in plan(name).tasks}
    leaning = {task for step in plan(name).steps if guard in {each.name for each in step.guards} for task in step.tasks}
    try:
        after = make_plan(job(name), bare, knowledge())
    except Refused as refused:
        said = " ".join(finding.what for finding in refused.findings)
        assert f"The {title} is not fitted" in said
        return
    for step in after.steps:
        assert guard not in {each.name for each in step.guards}
    changed = {task.id: task for task in after.tasks}
    for task in leaning:
        if task in changed:
            assert (changed[task].operation, changed[task].station) != (before[task].operation, before[task].station)


def test_a_school_with_hand_tools_only_uses_no_machine() -> None:
    for name in EXAMPLES:
        for step in plan(name, "hand-tools").steps:
            assert knowledge().stations[step.station_kind].power in ("hand", "bench"), step.id


def test_nothing_left_is_refused_with_all_reasons_and_a_remedy() -> None:
    bare = workshop("hand-tools")
    for kind in ("ploughing", "chiselling", "hand-planing"):
        bare = without_station_kind(bare, kind)
    with pytest.raises(Refused) as refused:
        make_plan(job("herb-caddy"), bare, knowledge())
    finding = next(each for each in refused.value.findings if each.subject == "side/floor-groove/cut")
    assert finding.code == "no-way"
    assert "This workshop has no station for plough and rebate planes." in finding.what
    assert ": Add one (kind " in finding.remedy


def test_cut_to_length_then_groove_then_assemble_in_the_caddy() -> None:
    made = plan("herb-caddy")
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["side/length/cut"] < place["side/floor-groove/cut"] < place["box/glue/glue"]
    reasons = {(reason.before, reason.after): reason for reason in made.reasons}
    assert reasons["side/mark-out/mark", "side/floor-groove/cut"].sentence == "A cut needs its line."
    assert reasons["side/length/cut", "side/mark-out/mark"].kind == "reference"


def test_the_frame_is_rebated_in_the_long_first_and_says_why() -> None:
    made = plan("picture-frame")
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["long-piece/rebate/cut"] < place["long-piece/left-mitre/cut"]
    task = next(task for task in made.tasks if task.id == "long-piece/rebate/cut")
    assert task.in_the_long
    reason = next(r for r in made.reasons if (r.before, r.after) == ("long-piece/rebate/cut", "long-piece/left-mitre/cut"))
    assert reason.kind == "support"
    assert reason.sentence == (
        "The rebate runs out through both ends, so it is worked in the long piece; the left mitre then cuts the part off."
    )


def _decided(name: str, *decisions: Decision) -> object:
    return make_plan(replace(job(name), decisions=decisions), workshop(), knowledge())


def test_a_decision_for_the_staff_saw_grooves_in_the_long_and_puts_the_guards_back() -> None:
    made = make_plan(
        replace(
            job("herb-caddy"),
            decisions=(Decision("side/floor-groove", "Head of technology", "one class set", way="groove-on-saw"),),
        ),
        workshop(),
        knowledge(),
    )
    task = next(task for task in made.tasks if task.id == "side/floor-groove/cut")
    assert (task.who.operator, task.in_the_long) == ("staff", True)
    place = {each.id: number for number, each in enumerate(made.tasks)}
    assert place["side/floor-groove/cut"] < place["side/length/cut"]
    steps = [step for step in made.steps if task.id in step.tasks]
    assert [step.kind for step in steps] == ["set-up", "work", "guards-back"]
    assert all(step.card == "staff" for step in steps)
    assert made.decisions[0].by == "Head of technology"
    assert "Keep students out until the machine is isolated again." in steps[0].instructions


def test_a_set_up_calls_students_back_only_to_their_own_step() -> None:
    made = plan("herb-caddy", "well-equipped")
    seen = set()
    for step, after in pairwise(made.steps):
        if step.kind == "set-up":
            back = any(line.startswith("Call back") for line in step.instructions)
            assert back is (after.who.operator == "student"), step.id
            seen.add(back)
    assert seen == {True, False}


def test_a_decision_cannot_undo_a_guard() -> None:
    bare = without_guard(workshop(), "chuck-guard")
    decided = replace(job("herb-caddy"), decisions=(Decision("end/handle-hole", "Teacher", "quicker", station="pillar-drill"),))
    with pytest.raises(Refused) as refused:
        make_plan(decided, bare, knowledge())
    finding = next(each for each in refused.value.findings if each.subject == "end/handle-hole/cut")
    assert finding.code == "decision-refused"
    assert "is not fitted" in finding.what
    assert finding.why == "No decision can undo a limit, a guard or work-holding."


def test_a_decided_order_is_kept_and_printed() -> None:
    decisions = (Decision("end/floor-groove/cut", "Teacher", "the plough is free first", before="side/floor-groove/cut"),)
    made = make_plan(replace(job("herb-caddy"), decisions=decisions), workshop(), knowledge())
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["end/floor-groove/cut"] < place["side/floor-groove/cut"]
    assert any(reason.kind == "decision" and "the plough is free first" in reason.sentence for reason in made.reasons)


@pytest.mark.parametrize(("name", "shop"), BOTH)
def test_every_reason_has_a_sentence_and_a_source(name: str, shop: str) -> None:
    for reason in plan(name, shop).reasons:
        assert reason.sentence.endswith(".")
        assert reason.source
        cited = any(sign.isdigit() for sign in reason.source) or "decision" in reason.source or "common" in reason.source
        assert reason.source == TRADE or cited


def test_a_decision_about_nothing_is_an_error_with_the_nearest_name() -> None:
    decided = replace(job("herb-caddy"), decisions=(Decision("side/flor-groove", "Teacher", "quicker", way="plough-groove"),))
    with pytest.raises(Refused) as refused:
        make_plan(decided, workshop(), knowledge())
    (finding,) = (each for each in refused.value.findings if each.level == "error")
    assert finding.what == "A decision names side/flor-groove, and the job has no such feature, joint or task."
    assert finding.remedy == "Did you mean side/floor-groove?"


def test_a_decision_may_name_a_joint_and_settle_a_time() -> None:
    decided = replace(job("herb-caddy"), decisions=(Decision("corner-1", "Teacher", "timed last year", minutes=25),))
    made = make_plan(decided, workshop(), knowledge())
    assert next(task for task in made.tasks if task.id == "box/glue/glue").minutes == 25


def test_blanks_of_several_lengths_are_sawn_with_one_set_up_and_a_stop_for_each() -> None:
    # Legs 228, rails 194, spine 340 and seat 360 mm long, each 25 mm over length.
    setting, sawing = plan("step-stool").steps[:2]
    assert (setting.kind, sawing.kind) == ("set-up", "work")
    assert [piece.letter for piece in sawing.parts] == ["A", "B", "C", "D"]
    assert [(each.label[-3:], each.value) for each in sawing.settings] == [
        ("(A)", 273.0),
        ("(B)", 219.0),
        ("(C)", 365.0),
        ("(D)", 385.0),
    ]
    stops = "273 mm (A), 219 mm (B), 365 mm (C) and 385 mm (D)"
    assert sawing.instructions[0] == f"Check the stop block for each length: {stops}."
    assert f"Set the stop block for each length: {stops}." in setting.instructions


def test_a_station_that_policy_lets_nobody_use_is_not_used() -> None:
    school = replace(workshop(), rules=(*workshop().rules, Rule("pillar-drill", operator="nobody")))
    made = make_plan(job("herb-caddy"), school, knowledge())
    assert all(step.station_kind != "pillar-drill" for step in made.steps)
    assert all(
        set(step.tasks) <= {t.id for t in made.tasks if t.kind in ("cure", "dry")} for step in made.steps if step.kind == "wait"
    )


def test_a_guard_that_is_off_is_named_in_the_plan_that_goes_round_it() -> None:
    made = make_plan(job("herb-caddy"), without_guard(workshop(), "chuck-guard"), knowledge())
    note = next(finding for finding in made.findings if finding.code == "way-out" and finding.subject == "end/handle-hole/cut")
    assert "The chuck guard is not fitted at" in note.what


def test_a_second_fixing_has_its_own_step_after_the_glue_has_set() -> None:
    place = {task.id: number for number, task in enumerate(plan("picture-frame").tasks)}
    assert place["frame/cure/wait"] < place["frame/nail/nail"] < place["whole/clean-up/clean"]


def test_alike_sub_assemblies_are_made_in_one_step_with_all_their_pieces_cleaned() -> None:
    made = plan("step-stool")
    glued = [step for step in made.steps if step.tasks == ("end-frame/glue/glue",)]
    assert len(glued) == 1
    cleaned = next(step for step in made.steps if step.tasks == ("end-frame/clean-inside/clean",))
    assert {piece.part: piece.quantity for piece in cleaned.parts} == {"leg": 4, "end-rail": 2}


def test_oily_rags_are_put_away_before_anybody_leaves_the_coat_to_dry() -> None:
    place = {task.id: number for number, task in enumerate(plan("herb-caddy").tasks)}
    assert place["whole/coat-1/coat"] < place["whole/coat-1/put-away"] < place["whole/coat-1/wait"]


def test_cramps_that_do_not_reach_are_refused() -> None:
    short = Counted("sash-cramp-100", 4, 100, "sash-cramps")
    with pytest.raises(Refused) as refused:
        make_plan(job("herb-caddy"), replace(workshop(), counted={"sash-cramp-100": short}), knowledge())
    assert any("cramps that open" in finding.what for finding in refused.value.findings)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"when": "assembled"}, "seat-cut-late"),
        ({"name": "length"}, "reserved-name"),
    ],
)
def test_what_cannot_be_planned_is_said(change: dict[str, str], code: str) -> None:
    drawn = job("herb-caddy")
    side = drawn.parts["side"]
    groove = replace(side.features["floor-groove"], **change)  # type: ignore[arg-type]
    odd = replace(side, features={**side.features, "floor-groove": groove})
    with pytest.raises(Refused) as refused:
        make_plan(replace(drawn, parts={**drawn.parts, "side": odd}), workshop(), knowledge())
    assert code in {finding.code for finding in refused.value.findings}


def test_an_allowance_is_left_on_and_trimmed_when_the_joint_has_set() -> None:
    drawn = job("herb-caddy")
    side = replace(drawn.parts["side"], allowances=(Allowance("right", 10, "box"),))
    made = make_plan(replace(drawn, parts={**drawn.parts, "side": side}), workshop(), knowledge())
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["box/cure/wait"] < place["side/right-allowance/trim"]
    blank = next(blank for blank in made.blanks if blank.part == "side")
    assert blank.length >= 320 + 10
    too_much = replace(side, allowances=(Allowance("right", 400, "box"),))
    with pytest.raises(Refused):
        make_plan(replace(drawn, parts={**drawn.parts, "side": too_much}), workshop(), knowledge())


def test_the_plan_carries_the_teacher_s_own_words_and_the_figures_of_the_region() -> None:
    made = plan("herb-caddy")
    assert made.notes
    assert made.learning_aim == job("herb-caddy").learning_aim
    assert made.region is not None
    figures = {figure.name: (figure.value, figure.whose) for figure in made.region.figures}
    assert figures["dust of hardwood, mean of 8 hours"] == ("0.5 mg/m3", "AU")
    assert figures["noise over a day, first action value"] == ("80 dB(A)", "GB")
    assert any(line.startswith("Dust of ") for line in made.materials)


def test_what_the_plan_arranges_is_credited_on_the_risk_assessment() -> None:
    row = next(row for row in plan("herb-caddy").risks if row.hazard == "entanglement")
    texts = {control.text: control.steps for control in row.controls if control.level == "administrative"}
    assert "Students signed off for it first." in texts
    assert all(texts.values())


def test_a_sheet_is_sawn_to_the_blank_on_the_cutting_list() -> None:
    made = plan("herb-caddy", "well-equipped")
    (listed,) = (blank for blank in made.blanks if blank.part == "floor")
    assert (listed.length, listed.width) == (325, 175)
    (step,) = (step for step in made.steps if "floor/rough-length/cut" in step.tasks and step.kind == "work")
    assert step.operation == "Break a sheet down with the circular saw"
    # The sole of this saw reaches 120 mm from the batten to the blade.
    set_to = {setting.name: setting.value for setting in step.settings}
    assert (set_to["batten"], set_to["across"]) == (325 - 120, 175 - 120)
    assert "325 mm by 175 mm" in step.checks[0].limit


@pytest.mark.parametrize(("wide", "against"), [(170.0, True), (175.0, True), (177.0, True), (179.0, True), (180.0, False)])
def test_no_blade_runs_out_of_the_edge_of_a_sheet(wide: float, against: bool) -> None:
    """The blank is 175 mm wide, or the whole of a narrower sheet; beside it stay two kerfs of 2.4 mm, or the saw is not used."""
    drawn = job("herb-caddy")
    sheet = replace(drawn, stock={**drawn.stock, "panel": replace(drawn.stock["panel"], width=wide)})
    found = [way for _, ways, _ in ways_of("floor/rough-length", sheet, workshop("well-equipped"), knowledge()) for way in ways]
    (way,) = (way for way in found if way.operation == "break-sheet-with-circular-saw")
    assert any("run out of the edge of the sheet" in obstacle.what for obstacle in way.obstacles) is against


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_set_ups_that_are_counted_can_be_counted_in_the_list(name: str) -> None:
    made = plan(name)
    assert made.changing is not None
    assert made.changing.changes == sum(1 for step in made.steps if step.kind == "work")
