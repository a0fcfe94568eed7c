"""Jigs as parts of the plan: only where they are needed, in sizes that follow from the work, drawn as they are listed."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from sequencer.knowledge.forms.jigs import Jig
from sequencer.model.jigs import JigLine
from sequencer.model.workshop import Workshop
from sequencer.paper.jig_pictures import body_of, jig_picture, jig_scene
from sequencer.planning.jigs import jig_pieces
from sequencer.planning.planner import make_plan, ways_of
from tests.made import job, knowledge, plan, workshop

JIGS = knowledge().jigs
FIGURES = {
    "part.length": 300.0, "part.width": 40.0, "part.thickness": 20.0, "feature.radius": 12.0, "feature.diameter": 8.0,
    "feature.depth": 15.0, "feature.length": 200.0,
    "feature.width": 60.0, "feature.slope": 8.0, "shape.depth": 12.0, "shape.length": 200.0, "shape.across": 20.0,
    "joint.corner-block": 30.0, "joint.mitre-high": 60.0,
}  # fmt: skip


def line(name: str, **figures: float) -> JigLine:
    jig: Jig = JIGS[name]
    sizes = jig_pieces(jig, FIGURES | {key.replace("_", "."): value for key, value in figures.items()})
    return JigLine(name, jig.name, jig.what, (), (), (), sizes, jig.fastening, jig.checks, jig.source)


def without(shop: Workshop, *names: str) -> Workshop:
    """The workshop without these ways of holding."""
    return replace(
        shop,
        counted={name: thing for name, thing in shop.counted.items() if (thing.kind or name) not in names},
        stations={
            name: replace(station, holding=tuple(each for each in station.holding if each not in names))
            for name, station in shop.stations.items()
        },
    )


def test_what_is_at_hand_is_not_made_again() -> None:
    assert "bench-hook" not in {jig.name for jig in plan("step-stool", "hand-tools").jigs}


def test_a_bench_hook_is_made_where_there_is_none_and_the_plan_rests_on_it() -> None:
    made = make_plan(job("step-stool"), without(workshop("hand-tools"), "bench-hook"), knowledge())
    (hook,) = (jig for jig in made.jigs if jig.name == "bench-hook")
    held = {step.number for step in made.steps if "bench-hook" in {each.name for each in step.holding}}
    assert set(hook.steps) == held
    assert held


def test_at_a_machine_holding_that_is_missing_is_not_made_for_the_plan() -> None:
    shop = without(workshop("well-equipped"), "mitre-sled")
    ((_, ways, _),) = ways_of("long-piece/left-mitre", job("picture-frame"), shop, knowledge())
    way = next(way for way in ways if way.operation == "cut-mitre-on-sled")
    assert "holding" in {each.kind for each in way.obstacles}


def test_a_template_is_as_large_as_its_part() -> None:
    made = plan("herb-caddy", "hand-tools")
    (template,) = made.jigs
    end = next(part for part in made.parts if part.name == "end")
    (board,) = template.pieces
    assert {board.length, board.width, board.thickness} == {end.length, end.width, 4}
    assert template.uses == ("top outline of the end",)
    assert all(task in {each.id for each in made.tasks} for task in template.tasks)


@pytest.mark.parametrize("name", JIGS)
def test_every_jig_is_drawn_with_each_of_its_pieces_named(name: str) -> None:
    jig = line(name)
    things = jig_scene(jig).things
    assert len(things) == sum(piece.count for piece in jig.pieces)
    for piece in jig.pieces:
        assert min(piece.length, piece.width, piece.thickness) > 0
        for body in piece.bodies:
            assert body_of(body).volume > 0
    drawn = jig_picture(jig, 76, 48)
    assert drawn.height <= 48
    said = " ".join(ElementTree.fromstring(str(drawn.svg)).itertext())
    for piece in jig.pieces:
        assert piece.name.replace("-", " ") in said


@pytest.mark.parametrize("name", JIGS)
def test_the_pieces_of_a_jig_do_not_stand_in_each_other(name: str) -> None:
    bodies = [thing.solid for thing in jig_scene(line(name)).things]
    for number, body in enumerate(bodies):
        for other in bodies[:number]:
            assert (body & other).volume < 1, name


def test_a_round_touches_both_sides_of_the_v() -> None:
    """Plain geometry: in a V of 90 degrees, flanks at 45."""
    (block,) = line("v-block").pieces
    outline = block.bodies[0].outline
    foot = min(outline[3:6], key=lambda at: at[1])
    for side in (outline[3], outline[5]):
        assert abs(side[0] - foot[0]) == pytest.approx(abs(side[1] - foot[1]))
        assert abs(side[0] - foot[0]) >= 40 / 2 * 0.71  # the round of 40 mm touches inside the V


def test_the_ledge_of_a_taper_jig_leans_as_the_taper_does() -> None:
    ledge = next(piece for piece in line("taper-jig").pieces if piece.name == "ledge")
    (x1, y1), (x2, y2) = ledge.bodies[0].outline[:2]
    assert (y1 - y2) / (x2 - x1) == pytest.approx(15 / 200)
    assert y2 == 40 - 15  # at the narrow end the line lies on the carrier's edge


def test_guide_holes_go_right_through() -> None:
    for name in ("drilling-jig", "dowelling-jig"):
        block = line(name).pieces[0].bodies[0]
        solid = body_of(block)
        bored = block.size[0] * block.size[1] * block.size[2] - solid.volume
        assert bored == pytest.approx(len(block.holes) * 3.14159 * 16 * block.size[2], rel=0.02)


def test_no_jig_near_a_blade_is_held_by_metal() -> None:
    for name in (
        "bench-hook",
        "shooting-board",
        "mitre-shooting-board",
        "crosscut-sled",
        "mitre-sled",
        "taper-jig",
        "cradle",
        "template-with-guide",
        "v-block",
    ):
        assert any(word in JIGS[name].fastening for word in ("no metal", "No metal", "no screws", "dowels for 60 mm")), name
