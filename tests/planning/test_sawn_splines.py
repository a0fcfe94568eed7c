"""Splines across mitred corners: the corner is glued, each slot is sawn across both pieces in one cut, the spline is glued in and
trimmed flush; what does not meet, or cannot be sawn so, is refused.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.asking.orders import why_before
from sequencer.design.checking import check_design
from sequencer.features.hole import Hole
from sequencer.features.round_over import RoundOver
from sequencer.findings import Refused
from sequencer.model.job import Decision, Job, Joint, Part, Seat
from sequencer.model.plan import Plan, Task
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.made import job, knowledge, making, plan, workshop

FRAME = "tests/assemblies/sawn-splines.yaml"
BOX = "tests/assemblies/splined-box.yaml"
SQUARE = "tests/assemblies/splined-frame.yaml"


def drawn(**changed: object) -> Job:
    """The frame with every slot changed."""
    made = job(FRAME)
    parts = {
        name: replace(
            part,
            features={
                key: replace(each, **changed) if each.kind == "spline-slot" else each  # type: ignore[arg-type]
                for key, each in part.features.items()
            },
        )
        for name, part in made.parts.items()
    }
    return replace(made, parts=parts)


def kinds(made: Plan) -> list[str]:
    return [task.kind for task in made.tasks]


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_the_corner_is_glued_then_sawn_across_then_its_spline_is_glued_in_and_trimmed(shop: str) -> None:
    made = plan(FRAME, shop)
    late = kinds(made)[kinds(made).index("glue") :]
    assert late == ["glue", "cure", "spline-slot", "make-splines", "spline", "cure", "trim-splines", "clean-up"]
    assert making(FRAME, shop).proof.held
    slots = next(step for step in made.steps if "frame/spline-slot/cut" in step.tasks)
    assert [(piece.letter, piece.quantity) for piece in slots.parts] == [("A", 2), ("B", 2)]
    assert slots.card == "student"
    assert [thing.name for thing in slots.holding] == ["bench-vice"]
    assert {(setting.name, setting.text) for setting in slots.settings} >= {("distance", "7 mm"), ("width", "4 mm")}
    assert "Gauge 7 mm from the face side round each corner." in slots.instructions
    assert "Mark the slot 4 mm wide, 28 mm from the corner both ways." in slots.instructions


def test_nothing_of_the_slots_is_done_to_the_loose_pieces() -> None:
    made = plan(FRAME)
    assert not [task.id for task in made.tasks if task.part and "slot" in task.id]
    before = [state for state in making(FRAME).states if state.task != "frame/spline-slot/cut"]
    assert {state.task.split("/")[1] for state in before} == {"rough-length", "left-mitre", "right-mitre"}


def test_four_corners_take_less_than_the_eight_slots_that_are_chopped_in_loose_pieces() -> None:
    def minutes(name: str) -> float:
        return sum(step.minutes for step in plan(name).steps if any("slot" in task for task in step.tasks))

    assert minutes(FRAME) == 4 * 10
    assert minutes(FRAME) < minutes(SQUARE) / 3


# 28 along both edges: a triangle of 28 x 28 / 2, half of it in each piece, 4 thick.
def test_one_cut_takes_half_of_its_triangle_from_each_piece() -> None:
    states = [state for state in making(FRAME).states if state.task == "frame/spline-slot/cut"]
    assert len(states) == 4
    assert all(state.removed.volume == pytest.approx(28 * 28 / 4 * 4, abs=0.5) for state in states)


def _with(made: Plan, name: str, by: float) -> Plan:
    """The plan with a setting of the slots changed."""

    def turned(task: Task) -> Task:
        if task.kind != "spline-slot":
            return task
        return replace(
            task,
            settings=tuple(
                replace(each, value=each.value + by) if each.name == name and each.value is not None else each
                for each in task.settings
            ),
        )

    return replace(made, tasks=tuple(map(turned, made.tasks)))


@pytest.mark.parametrize(("setting", "by"), [("distance", 1.0), ("width", 1.0), ("depth", 1.0), ("depth", -1.0)])
def test_a_slot_sawn_a_millimetre_off_is_noticed(setting: str, by: float) -> None:
    proof = carry_out(_with(plan(FRAME), setting, by), job(FRAME)).proof
    assert not proof.held
    assert any(abs(part.difference) > 1 for part in proof.parts)


def test_a_slot_so_deep_that_it_comes_through_at_the_inner_corner_is_noticed() -> None:
    made = carry_out(_with(plan(FRAME), "depth", 23.0), job(FRAME))
    (sawn, *_) = [record for record in made.proof.tasks if record.task == "frame/spline-slot/cut"]
    says = "it comes through at the left end of short-piece.1, on its top face, in the corner with long-piece.1"
    assert says in [look.says for look in sawn.looked if not look.held]


def _moved(made: Plan, name: str, before: str) -> Plan:
    task = next(each for each in made.tasks if each.id == name)
    others = [each for each in made.tasks if each is not task]
    at = next(number for number, each in enumerate(others) if each.id == before)
    return replace(made, tasks=(*others[:at], task, *others[at:]))


@pytest.mark.parametrize(
    ("task", "before", "check", "says"),
    [
        ("frame/spline-slot/cut", "frame/glue/glue", "joined", "is not glued yet: the saw would part its pieces"),
        ("frame/spline-slot/cut", "frame/cure/wait", "wet", "the glue of frame has not set on"),
        ("frame/spline/spline", "frame/spline-slot/cut", "loose", "does not go home: it meets"),
        ("frame/trim-splines/trim", "frame/spline-cure/wait", "wet", "the glue of frame splines has not set on"),
    ],
)
def test_each_reason_shows_in_the_making_when_it_is_broken(task: str, before: str, check: str, says: str) -> None:
    proof = carry_out(_moved(plan(FRAME), task, before), job(FRAME)).proof
    broken = [look for record in proof.tasks if record.task == task for look in record.looked if not look.held]
    assert any(look.check == check and says in look.says for look in broken), broken


def test_why_the_slots_come_after_the_glue_is_said() -> None:
    reasons = {(reason.before, reason.after): reason for reason in plan(FRAME).reasons}
    sentence = "One saw cut goes across both pieces of a corner, so the corner is glued and has set before."
    assert reasons["frame/cure/wait", "frame/spline-slot/cut"].sentence == sentence
    assert sentence in " ".join(why_before(plan(FRAME), knowledge(), "frame/glue", "long-piece/left-slot").split())


def test_splines_are_trimmed_before_more_is_joined_on() -> None:
    made = job(FRAME)
    foot = Part("foot", "C", 1, "strip", 200.0, 30.0, 18.0, {})
    seats = Seat("foot", face="top"), Seat("long-piece.1", face="bottom")
    on = Joint("foot", "foot", *seats, ("glue",), at=(("left", 20.0), ("inside", 0.0)), align=(("inside", "inside"),))
    stands = replace(made, parts={**made.parts, "foot": foot}, joints={"foot": on, **made.joints})
    order = [task.id for task in make_plan(stands, workshop(), knowledge()).tasks]
    late = [name for name in order if name.startswith(("frame/trim", "foot/glue"))]
    assert late == ["frame/trim-splines/trim", "foot/glue/glue"]


def test_the_strip_that_splines_are_sawn_from_is_got_ready() -> None:
    strip = "strip of birch plywood or straight hardwood, 4 mm thick, 23 mm wide, 346 mm long"
    assert [(thing.name, thing.each) for thing in plan(FRAME).hardware] == [(strip, 1)]


def test_a_decision_on_one_of_its_slots_is_one_on_the_cut() -> None:
    decided = Decision("long-piece/left-slot", "Head of technology", "narrow chisels", way="saw-and-clear-spline-slots")
    made = make_plan(replace(job(FRAME), decisions=(decided,)), workshop(), knowledge())
    assert made.decisions[0].about == "long-piece/left-slot"
    assert not [each for each in made.findings if each.level == "error"]


# Gauged from the bottom edges, which come flush; the box is gripped over its edges.
def test_slots_at_two_heights_of_a_box_are_sawn_one_after_the_other_beside_its_bottom() -> None:
    made = plan(BOX)
    slots = [task for task in made.tasks if task.kind == "spline-slot"]
    assert [task.does for task in slots] == [
        "Saw the spline slots at 20 mm: front and side",
        "Saw the spline slots at 57 mm: front and side",
    ]
    assert making(BOX).proof.failures == ()
    taken = [len([state for state in making(BOX).states if state.task == task.id]) for task in slots]
    assert taken == [4, 4]
    steps = [step for step in made.steps if {*step.tasks} & {task.id for task in slots}]
    assert all(any("from the face edge" in line for line in step.instructions) for step in steps)
    (set_out,) = [step for step in made.steps if step.title.startswith("Mark out: front")]
    assert not any("slot" in line for line in (*set_out.instructions, *set_out.method))


# A saw takes 1 mm: one cut makes the slot, the knife cuts the splines. Between that and the narrowest chisel nothing clears it.
def test_a_slot_as_wide_as_a_saw_cut_is_one_cut_and_one_between_is_refused() -> None:
    thin = drawn(width=1.0, distance=8.5)
    made = make_plan(thin, workshop(), knowledge())
    chosen = {task.kind: task.operation for task in made.tasks}
    assert (chosen["spline-slot"], chosen["make-splines"]) == ("saw-spline-slots", "cut-thin-splines")
    assert carry_out(made, thin).proof.held
    with pytest.raises(Refused) as refused:
        make_plan(drawn(width=2.0, distance=8.0), workshop(), knowledge())
    (found,) = [each for each in refused.value.findings if each.level == "error"]
    assert found.code == "no-way"
    assert "given slots wider than one cut of the tenon saw" in found.what


@pytest.mark.parametrize(
    ("part", "changed", "code"),
    [
        ("long-piece", {"distance": 6.0}, "slots-do-not-meet"),
        ("long-piece", {"length": 24.0}, "slots-differ"),
        ("long-piece", {"length": 50.0}, "through-the-corner"),
        ("long-piece", {"long": "top"}, "slot-without-spline"),
    ],
)
def test_slots_that_are_no_one_cut_are_refused(part: str, changed: dict[str, object], code: str) -> None:
    made = job(FRAME)
    own = made.parts[part]
    slot = replace(own.features["left-slot"], **changed)  # type: ignore[arg-type]
    other = replace(made, parts={**made.parts, part: replace(own, features={**own.features, "left-slot": slot})})
    errors = [each.code for each in check_design(other, knowledge()) if each.level == "error"]
    assert code in errors


def errors(made: Job) -> list[tuple[str, str]]:
    return [(each.code, each.what) for each in check_design(made, knowledge()) if each.level == "error"]


def test_a_slot_that_nobody_saws_is_refused_though_that_of_its_alike_piece_is_sawn() -> None:
    made = job(FRAME)
    corner = replace(made.joints["corner-1"], fixed=("glue",))
    assert errors(replace(made, joints={**made.joints, "corner-1": corner})) == [
        ("slot-without-spline", "The right-slot is no slot of a corner that is fixed by splines in long-piece.1."),
        ("slot-without-spline", "The left-slot is no slot of a corner that is fixed by splines in short-piece.1."),
    ]


def test_the_slots_of_a_spare_piece_in_no_joint_are_refused() -> None:
    made = job(FRAME)
    spare = replace(made, parts={**made.parts, "long-piece": replace(made.parts["long-piece"], count=3)})
    assert [what for code, what in errors(spare) if code == "slot-without-spline"] == [
        f"The {side}-slot is no slot of a corner that is fixed by splines in long-piece.3." for side in ("left", "right")
    ]


# 18 thick, slots 4 wide: 14 from one face is the other face.
@pytest.mark.parametrize(
    ("distance", "what"),
    [
        (0.0, "Between the left-slot and the inside face no wood is left."),
        (14.0, "Between the left-slot and the outside face no wood is left."),
        (1.5, "Between the left-slot and the inside face only 1.5 mm of wood stands."),
        (12.5, "Between the left-slot and the outside face only 1.5 mm of wood stands."),
    ],
)
def test_a_slot_with_next_to_no_wood_beside_it_is_refused_on_either_side(distance: float, what: str) -> None:
    assert ("no-wood-beside-slot", what) in errors(drawn(distance=distance))


@pytest.mark.parametrize("by", [-7.0, 7.0])
def test_a_slot_sawn_at_the_very_face_is_noticed_on_either_side(by: float) -> None:
    proof = carry_out(_with(plan(FRAME), "distance", by), job(FRAME)).proof
    sawn = [record for record in proof.tasks if record.task == "frame/spline-slot/cut"]
    assert all("wood stands beside 0% of one side of the slot" in [look.says for look in record.looked] for record in sawn)


# The lower slots of the box end 23 up; the upper ones are moved down to them.
@pytest.mark.parametrize(
    ("distance", "what"),
    [
        (24.5, "Between the left-low and the left-high only 1.5 mm of wood stands."),
        (23.0, "Between the left-low and the left-high no wood is left."),
        (22.0, "The left-low and the left-high run into each other."),
    ],
)
def test_a_fin_between_two_slots_is_refused(distance: float, what: str) -> None:
    made = job(BOX)
    parts = {
        name: replace(
            part,
            features={
                key: replace(each, distance=distance) if key.endswith("-high") else each  # type: ignore[call-arg]
                for key, each in part.features.items()
            },
        )
        for name, part in made.parts.items()
    }
    found = [each for each in errors(replace(made, parts=parts)) if each[0] == "no-wood-beside-slot"]
    assert len(found) == 4
    assert found[0][1] == what


@pytest.mark.parametrize(("changed", "says"), [({"width": 4.05}, "4.05 mm wide"), ({"distance": 7.05}, "lies 7.05 mm")])
def test_slots_that_meet_but_differ_a_little_are_refused(changed: dict[str, object], says: str) -> None:
    made = job(FRAME)
    own = made.parts["long-piece"]
    slot = replace(own.features["left-slot"], **changed)  # type: ignore[arg-type]
    other = replace(made, parts={**made.parts, "long-piece": replace(own, features={**own.features, "left-slot": slot})})
    assert any(code == "slots-differ" and says in what for code, what in errors(other))


# 18 thick: 2.5 beside is enough for one saw cut, 3 for a chisel.
def test_a_slot_is_not_chiselled_between_cheeks_that_split_and_may_be_one_cut_there() -> None:
    with pytest.raises(Refused) as refused:
        make_plan(drawn(width=4.0, distance=2.5), workshop(), knowledge())
    (found,) = [each for each in refused.value.findings if each.level == "error"]
    assert found.code == "no-way"
    assert "given slots with too little wood beside them for a chisel" in found.what
    made = make_plan(drawn(width=1.0, distance=2.5), workshop(), knowledge())
    assert "saw-spline-slots" in {task.operation for task in made.tasks}
    edge = make_plan(drawn(width=4.0, distance=3.0), workshop(), knowledge())
    assert "saw-and-clear-spline-slots" in {task.operation for task in edge.tasks}


@pytest.mark.parametrize("name", [FRAME, BOX])
def test_the_card_turns_the_work_flat_and_grips_it_before_it_is_chiselled(name: str) -> None:
    for step in plan(name).steps:
        if not any("spline-slot" in task for task in step.tasks):
            continue
        saw, turn, chisel = step.instructions[-3:]
        assert (saw, turn) == (
            "Saw inside both lines, corner up in the vice.",
            "Turn the work flat, gripped low in the vice, outer side up.",
        )
        assert chisel.startswith("Chisel the waste")
        assert step.guard_line == "Grip the wood firmly in the bench vice."
        at = [
            step.method.index(each)
            for each in ("Grip it low, scrap beside, before you chisel.", "Chisel the waste out, down to the middle.")
        ]
        assert at == sorted(at)
        width = next(setting.text for setting in step.settings if setting.name == "width")
        assert f"Take a chisel {width} wide or narrower." in step.method


def test_edges_shaped_when_assembled_are_shaped_after_splines_are_trimmed() -> None:
    made = job(FRAME)
    own = made.parts["long-piece"]
    soft = RoundOver(name="soft", when="assembled", edges=(("inside", "bottom"),), radius=4.0)
    rounded = replace(made, parts={**made.parts, "long-piece": replace(own, features={**own.features, "soft": soft})})
    shaped = make_plan(rounded, workshop(), knowledge())
    order = [task.id for task in shaped.tasks]
    assert order.index("frame/trim-splines/trim") < order.index("long-piece/soft/cut")
    reasons = {(reason.before, reason.after): reason.sentence for reason in shaped.reasons}
    assert reasons["frame/trim-splines/trim", "long-piece/soft/cut"] == (
        "Splines are sawn and planed flush before the soft is worked across their corner."
    )


# The slot lies 7 to 11 of 18 deep, its floor goes from 28 along the outer edge to 14 up the mitre. A hole right through meets it,
# one 6 deep stops before it, one at 40 along is beyond it.
@pytest.mark.parametrize(("left", "depth", "closed"), [(14.0, None, True), (18.0, 6.0, False), (40.0, None, False)])
def test_a_hole_that_a_spline_would_fill_is_refused(left: float, depth: float | None, closed: bool) -> None:
    made = job(FRAME)
    own = made.parts["long-piece"]
    hole = Hole(name="hole", face="inside", at=({"left": left, "bottom": 8.0},), diameter=5.0, depth=depth)
    bored = replace(made, parts={**made.parts, "long-piece": replace(own, features={**own.features, "hole": hole})})
    assert ("closed-by-spline", "The hole runs into the left-slot.") in errors(bored) if closed else errors(bored) == []


def test_a_square_slot_that_is_to_be_cut_late_is_refused_with_how_to_draw_it() -> None:
    made = job(SQUARE)
    own = made.parts["long-piece"]
    late = {name: replace(each, when="assembled") if "slot" in name else each for name, each in own.features.items()}
    with pytest.raises(Refused) as refused:
        make_plan(replace(made, parts={**made.parts, "long-piece": replace(own, features=late)}), workshop(), knowledge())
    found = next(each for each in refused.value.findings if each.code == "seat-cut-late")
    assert found.what == "The left-slot is to be cut when the parts are assembled, and the joint spline-1 needs it for that."
    assert found.why == "A slot for a spline can be sawn late; it is sawn straight across the corner, so it is no square one."
    assert "draw a slot for a spline as a `spline-slot` in both parts" in found.remedy
