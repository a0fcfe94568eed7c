"""What the cards say of mitres: how a rebated piece lies while its end is sawn and shot, how a frame is tried dry, and pinned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.mitre import Mitre
from sequencer.features.rebate import Rebate
from sequencer.findings import Refused
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.frame import FaceName
from sequencer.model.job import Job, Part
from sequencer.model.plan import Plan, Step
from sequencer.planning.packing import packing_figures
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.design.jobs import feature
from tests.made import job, knowledge, plan, workshop
from tests.outside.bench import board, ways
from tests.reading_level import grade

SHOPS = ("full", "hand-tools")
PACKED = "Put a packing strip in the rebate, 8 mm by 10 mm."


def doing(made: Plan, operation: str) -> list[Step]:
    return [step for step in made.steps if step.operation == operation and step.kind == "work"]


def long_piece(edge: tuple[FaceName, FaceName] = ("outside", "top"), stops: dict[FaceName, float] | None = None) -> Part:
    part = job("picture-frame").parts["long-piece"]
    rebate = part.features["rebate"]
    assert isinstance(rebate, Rebate)
    return replace(part, features={**part.features, "rebate": replace(rebate, edge=edge, stops=stops or {})})


def packed(part: Part) -> tuple[float, float]:
    mitre = part.features["left-mitre"]
    assert isinstance(mitre, Mitre)
    figures = packing_figures(part, mitre)
    return figures["part.packing-width"], figures["part.packing-depth"]


@pytest.mark.parametrize("shop", SHOPS)
def test_a_rebated_stick_is_sawn_and_shot_front_up_on_a_packing_strip(shop: str) -> None:
    found = doing(plan("picture-frame", shop), "Saw the mitre in the mitre box and shoot it")
    assert found
    for step in found:
        assert "Lay it with the front up, the outer edge against the back." in step.instructions
        assert PACKED in step.instructions
        assert PACKED in step.method
        assert "Keep the packing strip in the rebate while you plane." in step.method
        assert {"packing strip", "mitre shooting board"} <= {*step.tools}
        assert "mitre shooting board" in step.guard_line
        # The hand that holds the wood in the box is beside the slots: the card says so, and what keeps box and wood still.
        assert "Grip the mitre box in the vice." in step.guard_line
        assert "Keep the holding hand well away from the slots." in step.guard_line
        assert "Rest the long end on a block, level with the box floor." in step.instructions


def test_a_strip_is_only_asked_for_where_the_piece_lies_on_the_rebate_or_leans_against_it() -> None:
    assert packed(long_piece()) == (8.0, 10.0)
    assert packed(long_piece(("inside", "bottom"))) == (8.0, 10.0)
    assert packed(long_piece(("inside", "top"))) == (0.0, 0.0)
    assert packed(long_piece(stops={"left": 20.0})) == (0.0, 0.0)
    part = long_piece()
    one = replace(part, features={name: each for name, each in part.features.items() if name != "right-mitre"})
    assert packed(one) == (0.0, 0.0)
    splined = doing(plan("tests/assemblies/splined-frame.yaml"), "Saw the mitre in the mitre box and shoot it")
    assert splined
    assert not [line for step in splined for line in (*step.method, *step.tools) if "packing" in line]


@pytest.mark.parametrize("name", ["picture-frame", "tests/assemblies/splined-frame.yaml"])
def test_a_mitred_frame_is_tried_in_its_blocks_and_cramps_and_never_pared(name: str) -> None:
    made = plan(name)
    (tried,) = doing(made, "Put the mitred frame together dry and check")
    (glued,) = doing(made, "Glue mitres with corner blocks and sash cramps")
    assert tried.number < glued.number
    assert {each.name for each in tried.holding} == {"corner-blocks"}
    assert "Plane a shaving off it on the mitre shooting board." in tried.if_wrong
    assert "Never pare a mitre." in tried.if_wrong
    assert not [line for line in (*tried.instructions, *tried.method) if "by hand" in line or line.startswith("Pare")]
    assert any("diagonals" in check.how and check.card for check in tried.checks)


def test_other_dry_trials_stay_as_they_were() -> None:
    assert not doing(plan("step-stool"), "Put the mitred frame together dry and check")
    assert doing(plan("step-stool"), "Put it together dry and check")


@pytest.mark.parametrize("shop", SHOPS)
def test_a_mitre_is_pinned_in_drilled_holes_with_the_corner_held(shop: str) -> None:
    made = plan("picture-frame", shop)
    (pinned,) = doing(made, "Pin the mitres")
    said = pinned.instructions
    for line in (
        "Take all cramps off the frame first.",
        "Mark 2 pins a corner, half from each piece.",
        "Mark them 9 mm from the corner, on the outer edge.",
        "Place one 6 mm from front, one 6 mm from back.",
        "Drill a fine hole for each, through its piece.",
        "Grip one piece upright in the vice, that corner on top.",
    ):
        assert line in said, line
    assert said.index("Drill a fine hole for each, through its piece.") < said.index("Start each pin with light taps.")
    assert {"drill-contact", "hammer-blow"} <= {hazard.name for hazard in pinned.hazards}
    assert [each.name for each in pinned.holding] == ["bench-vice"]
    assert grade(" ".join(said)) <= 6.0
    assert not doing(made, "Nail the parts together")


def test_the_school_s_own_place_of_the_pins_is_printed() -> None:
    shop = workshop()
    bench = shop.stations["fixing"]
    own = replace(shop, stations={**shop.stations, "fixing": replace(bench, figures={**bench.figures, "mitre-pin-in": 12.0})})
    (pinned,) = doing(make_plan(job("picture-frame"), own, knowledge()), "Pin the mitres")
    assert "Mark them 12 mm from the corner, on the outer edge." in pinned.instructions


def test_nails_are_told_with_a_measure_from_the_ends_and_over_the_middle_of_the_wood_below() -> None:
    plans = [plan(f"tests/cases/{name}.yaml") for name in ("s04-bird-house", "s05-knife-box")]
    found = [step for made in plans for step in doing(made, "Nail the parts together")]
    assert len(found) > 2
    for step in found:
        assert "Keep them 15 mm from the ends of the joint." in step.instructions
        assert "Mark nails along the middle of the edge underneath." in step.instructions
        assert not [line for line in (*step.instructions, *step.method) if "away from the ends" in line]


def short_sides(length: float, width: float = 30) -> Job:
    """Four alike sides with a mitre at either end, from a planed board."""
    ends = [feature(f"{end}-mitre", "mitre", end=end, long="bottom") for end in ("left", "right")]
    return board(*ends, length=length, width=width, count=4)


def left_as_sawn() -> Knowledge:
    """What is known, but for the limit of the part's own length where a mitre is sawn to a line: so a school may write an
    operation that does not plane the end."""
    known = knowledge()
    kind = known.stations["hand-sawing"]
    operation = kind.operations["saw-mitre-to-line"]
    own = replace(operation, limits=tuple(limit for limit in operation.limits if limit.of != "part.length"))
    operations = {**kind.operations, "saw-mitre-to-line": own}
    return replace(known, stations={**known.stations, "hand-sawing": replace(kind, operations=operations)})


def mitred_by(drawn: Job) -> set[str]:
    return {task.operation for task in make_plan(drawn, workshop("hand-tools"), knowledge()).tasks if task.kind == "mitre"}


def test_no_part_shorter_than_a_hands_width_is_mitred_by_hand() -> None:
    """Behind the last saw cut a longer piece may be held, but the part itself lies on the shooting board, or stands in the vice,
    while its end is planed: 99 mm do not."""
    assert mitred_by(short_sides(100)) == {"saw-mitre-in-box"}
    with pytest.raises(Refused, match="too short to hold in the vice beside the plane, once it is sawn"):
        mitred_by(short_sides(99))
    (way,) = ways(short_sides(99), "rail/left-mitre/cut", "saw-mitre-in-box", workshop("hand-tools"))
    assert [each.remedy for each in way.obstacles] == ["It must be 1 mm longer."]
    assert "too short to hold on the mitre shooting board clear of the plane" in way.obstacles[0].what
    (way,) = ways(short_sides(99), "rail/left-mitre/cut", "saw-mitre-to-line", workshop("hand-tools"))
    assert [each.remedy for each in way.obstacles] == ["It must be 1 mm longer."]


# 25 off the first end, four parts, three cuts: a kerf of 1 and 2 to true it by, over the cosine of 45 degrees, in whole
# millimetres 5. Behind the last stay 25, or a hand's width of 100 and the kerf aslant, 1.4, where the part itself is shorter: no
# part so short is shot, so a school's own operation without that limit is asked here.
@pytest.mark.parametrize(("length", "blank"), [(100, 25 + 400 + 15 + 25), (99, 25 + 396 + 15 + 102), (60, 25 + 240 + 15 + 102)])
def test_behind_the_last_of_short_mitred_parts_a_hands_width_stays_to_hold(length: float, blank: float) -> None:
    drawn = short_sides(length)
    made = make_plan(drawn, workshop("hand-tools"), left_as_sawn())
    (line,) = made.blanks
    assert (line.length, line.yields) == (blank, 4)
    assert [look.says for look in carry_out(made, drawn).proof.failures] == []


def test_the_proof_looks_at_what_is_held_beside_the_last_mitre() -> None:
    drawn = short_sides(60)
    made = make_plan(drawn, workshop("hand-tools"), left_as_sawn())
    cards = (
        replace(card, figures={**card.figures, "shortest": 103.0}) if card.station == "hand-sawing" else card
        for card in made.stations
    )
    found = [look.says for look in carry_out(replace(made, stations=tuple(cards)), drawn).proof.failures]
    assert found == ["what stays behind the last part is held beside the cut, 101 mm; at least 103 mm is asked"]


@pytest.mark.parametrize("operation", ["saw-mitre-in-box", "saw-mitre-to-line", "saw-sloping-end-to-line"])
def test_every_mitre_sawn_by_hand_asks_for_a_hands_width_beside_the_cut(operation: str) -> None:
    limits = knowledge().stations["hand-sawing"].operations[operation].limits
    assert [limit.at_least for limit in limits if limit.of == "blank.held"] == ["station.shortest"]
    assert [limit.at_least for limit in limits if limit.of == "part.length"] == ["station.shortest"]


@pytest.mark.parametrize("long", ["bottom", "inside"])
def test_what_is_longer_is_cramped_while_a_mitre_is_sawn_off_a_stick(long: FaceName) -> None:
    """The stick is held and the part comes off; at the last one it is the part that is longer."""
    ends = [feature(f"{end}-mitre", "mitre", end=end, long=long) for end in ("left", "right")]
    made = make_plan(board(*ends, length=120, width=80, count=3), workshop("hand-tools"), knowledge())
    (sawn,) = [step for step in made.steps if step.kind == "work" and "-mitre" in " ".join(step.tasks)]
    assert "Cramp the longer stretch flat, the line past the bench edge." in sawn.instructions
    assert "Cramp the longer stretch flat, the line past the bench edge." in sawn.method
