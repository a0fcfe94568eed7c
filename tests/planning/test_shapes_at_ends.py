"""Shapes that take away a face: of waste that is left on until later, and of a long piece that is cut apart afterwards."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.features.base import Feature
from sequencer.features.bevel import Bevel
from sequencer.features.mitre import Mitre
from sequencer.findings import Refused
from sequencer.model.job import Allowance, Decision, Job, Joint, Part, Seat, Stock
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.made import knowledge, workshop
from tests.proving.damage import moved_before

BOARD = Stock("board", "radiata pine", "board", 67.0, 22.0, (2400.0,), surface="planed", hardness="softwood")
SLOPE = Bevel(name="slope", edge="right", low="outside", angle=15.0, leave=6.0)


def rail(*features: Feature, name: str = "rail", **changed: Any) -> Part:
    made = Part(name, name[0].upper(), 1, "board", 254.0, 52.0, 22.0, {each.name: each for each in features})
    return replace(made, face_side="outside", face_edge="bottom", **changed)


def on_a_wall(slope: Bevel) -> Job:
    """A rail with 15 mm left at its right end until another is nailed against it."""
    parts = {"rail": rail(slope, allowances=(Allowance("right", 15.0, "butt"),)), "wall": rail(name="wall")}
    joint = Joint(
        "butt",
        "wall",
        Seat("wall", "left"),
        Seat("rail", "inside"),
        ("nails",),
        at=(("left", 80.0),),
        flush=(("bottom", "bottom"),),
    )
    return Job("Waste", {}, {"board": BOARD}, parts, {"butt": joint})


def planned(drawn: Job, shop: str = "full") -> Plan:
    return make_plan(drawn, workshop(shop), knowledge())


def test_a_shape_on_an_end_with_waste_on_it_is_refused_before_the_part_is_joined() -> None:
    with pytest.raises(Refused) as refused:
        planned(on_a_wall(SLOPE))
    (found,) = (each for each in refused.value.findings if each.level == "error")
    assert (found.code, found.subject) == ("shape-on-waste", "rail/slope")
    assert found.what == "The slope takes away the right end of the rail, on which 15 mm are left until butt."
    assert found.remedy == "Cut it when the parts are joined (`when: assembled`), or leave nothing on there (`allowance`)."


def test_a_shape_on_the_other_end_is_no_matter() -> None:
    drawn = on_a_wall(replace(SLOPE, edge="left"))
    assert carry_out(planned(drawn), drawn).proof.held


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_cut_when_the_parts_are_joined_it_comes_after_the_waste_is_off(shop: str) -> None:
    drawn = on_a_wall(replace(SLOPE, when="assembled"))
    made = planned(drawn, shop)
    said = {(each.before, each.after): each.sentence for each in made.reasons}
    assert said["rail/right-allowance/trim", "rail/slope/cut"] == (
        "The waste is trimmed first: the slope is worked from the true right end."
    )
    assert carry_out(made, drawn).proof.held
    early = moved_before(made, "rail/slope/cut", "rail/right-allowance/trim")
    assert any(says.startswith("rail is not as drawn") for says in (look.says for look in carry_out(early, drawn).proof.failures))


def in_the_long(edge: str, *features: Feature, **changed: Any) -> Job:
    """Rails with a bevel along an edge that staff rip, where it can be done."""
    bevel = Bevel(name="bevel", edge=edge, low="outside", angle=10.0, **changed)  # type: ignore[arg-type]
    part = rail(bevel, *features, count=2)
    return Job("Rails", {}, {"board": BOARD}, {"rail": part}, {}, aim="least-time")


@pytest.mark.parametrize(("edge", "leave", "long"), [("top", 0.0, True), ("bottom", 0.0, False), ("bottom", 8.0, True)])
def test_a_bevel_that_takes_the_whole_face_edge_is_not_ripped_in_the_long(edge: str, leave: float, long: bool) -> None:
    """The long piece lies with its face edge against the fence when it is cut apart; with 8 mm of that left it still does."""
    drawn = in_the_long(edge, leave=leave)
    made = planned(drawn)
    (cut,) = (task for task in made.tasks if task.id == "rail/bevel/cut")
    assert cut.in_the_long is long
    assert carry_out(made, drawn).proof.held


def test_nobody_can_decide_it_either() -> None:
    asked = Decision("rail/bevel", "Technician", "for this check", way="rip-bevel")
    with pytest.raises(Refused) as refused:
        planned(replace(in_the_long("bottom"), decisions=(asked,)))
    assert "decision-refused" in {each.code for each in refused.value.findings}


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_mitres_are_sawn_before_a_bevel_takes_the_face_edge(shop: str) -> None:
    mitres = [Mitre(name=f"{end}-mitre", end=end, long="top") for end in ("left", "right")]  # type: ignore[arg-type]
    drawn = in_the_long("bottom", *mitres)
    made = planned(drawn, shop)
    said = {(each.before, each.after): each.sentence for each in made.reasons}
    assert said["rail/left-mitre/cut", "rail/bevel/cut"] == (
        "The left mitre is sawn first: the bevel takes away the bottom edge by which the long piece lies."
    )
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert max(place["rail/left-mitre/cut"], place["rail/right-mitre/cut"]) < place["rail/bevel/cut"]
    assert carry_out(made, drawn).proof.held
