"""Short parts that students work in one strip: where that saves enough and asks for nobody else, and else why not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sequencer.model.job import Aim, Decision, Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Rule, Workshop
from sequencer.planning.order import Circle
from sequencer.planning.planner import make_plan, ways_asked
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from sequencer.talk import ways_text
from tests.made import knowledge, workshop

RAILS = """format: 1
job: Short rails
stock:
  strip: {material: Scots pine, hardness: softwood, form: board, width: 30, thickness: 20, lengths: [2400], surface: planed}
parts:
  rail:
    count: 4
    stock: strip
    length: 120
    features:
      furrow: {kind: groove, face: inside, from: bottom, distance: 10, width: 6, depth: 6}
      hole: {kind: hole, face: outside, at: {left: 20, top: 7}, diameter: 5}
  post:
    count: 2
    stock: strip
    length: 150
    features:
      furrow: {kind: groove, face: inside, from: bottom, distance: 10, width: 6, depth: 6}
"""
LARGE = "Each piece is large enough to be held by itself: it is cut to length first."


@pytest.fixture(scope="module")
def rails(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """Four rails of 120 mm with a groove right along and a hole, two posts of 150 with the same groove."""
    file: Path = tmp_path_factory.mktemp("rails") / "job.yaml"
    file.write_text(RAILS, encoding="utf-8")
    return read_job(file)[0]


def alone(drawn: Job, *decisions: Decision, aim: Aim = "most-by-students", **changed: Any) -> Job:
    """The rails by themselves, changed so, without their hole."""
    rail = drawn.parts["rail"]
    rail = replace(rail, features={"furrow": rail.features["furrow"]}, **changed)
    stock = {name: replace(each, width=rail.width) for name, each in drawn.stock.items()}
    return replace(drawn, stock=stock, parts={"rail": rail}, decisions=decisions, aim=aim)


def planned(drawn: Job, shop: Workshop | None = None) -> Plan:
    return make_plan(drawn, shop or workshop(), knowledge())


def furrow_of(made: Plan, part: str = "rail") -> tuple[str, bool]:
    (task,) = (task for task in made.tasks if task.id == f"{part}/furrow/cut")
    return task.operation, task.in_the_long


def told(drawn: Job, shop: Workshop | None = None) -> dict[tuple[str, bool], str]:
    """What is said of each possible way of cutting the furrow of the rails."""
    (asked,) = ways_asked("rail/furrow", drawn, shop or workshop(), knowledge())
    return {(way.operation, way.in_the_long): why for way, why in zip(asked.ways, asked.why, strict=True) if way.possible}


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_students_plough_short_rails_and_posts_in_one_strip_and_cut_them_apart_after(rails: Job, shop: str) -> None:
    """A joiner ploughs all six in the stick: 25 + 4 x 120 + 2 x 150 + 5 x 3 + 25. Chiselled, the rails took 160 minutes."""
    made = planned(rails, workshop(shop))
    assert furrow_of(made) == furrow_of(made, "post") == ("plough-groove", True)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    cut_apart = min(place["rail/length/cut"], place["post/length/cut"])
    assert max(place["rail/furrow/cut"], place["post/furrow/cut"]) < cut_apart < place["rail/hole/cut"]
    (strip,) = made.strips
    students = workshop(shop).students
    assert (strip.length, len(strip.pieces), strip.sets) == (845, 6, 1)
    assert strip.count == students + max(2, round(students / 10 + 0.4))
    assert strip.why.startswith("The furrow is worked right along it, with one setting for A and B instead of 2;")
    assert "Cut apart first, the 4 pieces of A take 143 minutes more." in strip.why
    assert {task.who.operator for task in made.tasks if task.feature == "furrow"} == {"student"}
    assert carry_out(made, rails).proof.held


def test_no_reason_of_a_hand_tool_speaks_of_machines(rails: Job) -> None:
    """The plough has no cutter that a short piece is thrown by; the router table has."""

    def why_long(made: Plan) -> set[tuple[str, str]]:
        reasons = (reason for reason in made.reasons if reason.before == "rail/furrow/cut" and reason.kind == "support")
        return {(reason.sentence, reason.source) for reason in reasons if "in one long piece" in reason.sentence}

    ((sentence, source),) = why_long(planned(rails))
    assert sentence == (
        "The furrow is worked in one long piece, on which a hand tool has a longer run and the wood is better held than part by "
        "part; the parts are cut apart after."
    )
    assert source.startswith("common practice")
    ((sentence, source),) = why_long(planned(replace(rails, aim="least-time")))
    assert "held well clear of the cutter" in sentence
    assert "accident reports" in source


def test_ways_say_why_the_one_planned_was_taken(rails: Job) -> None:
    said = told(rails)
    assert said["plough-groove", True] == "Cut apart first, the 4 pieces of A take 143 minutes more."
    assert said["chisel-groove", False] == (
        "It takes 40 minutes a piece and 3 to set up, the way planned 2.8 minutes a piece and 8 to set up."
    )
    assert said["rout-groove", True] == "Staff would have to do it, and this job asks for most by students."
    printed = " ".join(ways_text(ways_asked("rail/furrow", rails, workshop(), knowledge())).split())
    assert "depth stop: 6 mm Cut apart first, the 4 pieces of A take 143 minutes more. possible: Groove" in printed


@pytest.mark.parametrize(
    ("changed", "way", "why"),
    [
        # 175 and 25 over length are 200: up to that there is no room for vice or stop and both hands.
        ({"length": 175.0}, ("plough-groove", True), ""),
        ({"length": 176.0}, ("plough-groove", False), LARGE),
        # What is more than half as broad as it is long is held by its breadth, but the plough asks for 150.
        ({"length": 150.0, "width": 76.0}, ("plough-groove", False), LARGE),
        ({"length": 149.0, "width": 76.0}, ("plough-groove", True), ""),
        # One that can be ploughed by itself gains nothing; one that cannot is ploughed in a longer piece.
        ({"count": 1, "length": 150.0}, ("plough-groove", False), "No way of doing it in a strip is quicker here."),
        ({"count": 1}, ("plough-groove", True), ""),
        (
            {"aim": "fewest-set-ups"},
            ("chisel-groove", False),
            "It takes 8 minutes to set up, the way planned 3; fewest set-ups are asked for.",
        ),
    ],
)
def test_what_is_worked_in_a_strip_and_why_not(rails: Job, changed: dict[str, Any], way: tuple[str, bool], why: str) -> None:
    drawn = alone(rails, **changed)
    assert furrow_of(planned(drawn)) == way
    assert not why or told(drawn)["plough-groove", True] == why


def test_a_small_saving_is_not_worth_a_strip(rails: Job) -> None:
    """Two rails of 160 save 36.5 minutes: half the ploughing, marking out, a first end, face marks."""
    drawn = alone(rails, count=2, length=160.0)
    assert furrow_of(planned(drawn)) == ("plough-groove", True)
    known = knowledge()
    figure = replace(known.working_figures["strip-saves"], value=37.0)
    asking = replace(known, working_figures={**known.working_figures, "strip-saves": figure})
    assert furrow_of(make_plan(drawn, workshop(), asking)) == ("plough-groove", False)
    (asked,) = ways_asked("rail/furrow", drawn, workshop(), asking)
    assert "One strip would save only 36.5 minutes for one thing; it is taken where it saves 37." in asked.why


def test_a_strip_that_asks_for_more_of_adults_is_not_taken(rails: Job) -> None:
    """Where the school asks for an adult beside each student at the plough, the chisel stays; the saving buys no supervision."""
    shop = workshop()
    strict = replace(shop, rules=(*shop.rules, Rule("ploughing", supervision="beside")))
    assert furrow_of(planned(alone(rails), strict)) == ("chisel-groove", False)
    assert told(alone(rails), strict)["plough-groove", True] == (
        "In one strip it asks for more: Plough the groove, students shown how, with an authorised adult beside."
    )


def test_a_student_has_strips_of_their_own_with_as_many_pieces_in_each(rails: Job) -> None:
    """Twelve rails do not lie in the 1200 mm that a student ploughs: two strips of six, and none is shared with a neighbour. One
    of 40 mm comes out of a piece long enough for the plough, and the rest of that is waste."""
    made = planned(alone(rails, count=12))
    (strip,) = made.strips
    assert (len(strip.pieces), strip.length) == (6, 785)
    assert strip.count == 2 * (workshop().students + 3)
    (blank,) = planned(alone(rails, count=1, length=40.0)).blanks
    assert (blank.yields, blank.why) == (1, "long enough to be worked, with an end to hold: the part is cut off it after")


def test_an_order_that_is_decided_settles_whether_it_is_a_strip(rails: Job) -> None:
    cut_first = Decision("rail/length", "Head", "so that each can be fitted", before="rail/furrow")
    assert furrow_of(planned(alone(rails, cut_first))) == ("chisel-groove", False)
    assert told(alone(rails, cut_first))["plough-groove", True] == (
        "In one strip it would come too early. Decided by Head: so that each can be fitted."
    )
    in_the_long = Decision("rail/furrow", "Head", "as we always do", before="rail/length")
    assert furrow_of(planned(alone(rails, in_the_long, length=300.0))) == ("plough-groove", True)
    assert furrow_of(planned(alone(rails, length=300.0))) == ("plough-groove", False)


def test_what_must_come_before_the_cut_keeps_it_piece_by_piece(tmp_path: Path) -> None:
    """A hole that the groove runs into is bored first, on the piece by itself: then no strip can be ploughed, and it is said."""
    file = tmp_path / "job.yaml"
    file.write_text(RAILS.replace("top: 7", "top: 15"), encoding="utf-8")
    drawn = read_job(file)[0]
    assert furrow_of(planned(drawn)) == ("chisel-groove", False)
    early = "In one strip it would come too early. The hole is bored first: the furrow runs into it and starts or ends there."
    assert told(drawn)["plough-groove", True] == early
    asked = Decision("rail/furrow", "Head", "to see", before="rail/length")
    with pytest.raises(Circle) as refused:
        planned(replace(drawn, decisions=(asked,)))
    assert refused.value.nor == (early,)


def test_what_is_only_brought_to_size_whole_is_not_said_to_be_worked_in_the_long(rails: Job) -> None:
    way = Decision("rail/furrow", "Head", "to practise", way="chisel-groove")
    (blank,) = planned(alone(rails, way)).blanks
    assert blank.why == "4 parts in one piece: they are brought to size in one and then cut apart"
