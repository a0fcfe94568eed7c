"""Flat views for marking out: what is solid, dashed and hatched, that sizes are the features' own, and that no label covers
another."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import replace

import pytest

from sequencer.features.base import Feature, mm
from sequencer.features.bevel import Bevel
from sequencer.features.groove import Groove
from sequencer.features.hole import Hole
from sequencer.features.housing import Housing
from sequencer.features.mitre import Mitre
from sequencer.features.notch import Notch
from sequencer.features.rebate import Rebate
from sequencer.features.tenon import Tenon
from sequencer.model.frame import Block, FaceName, axis_of, others
from sequencer.model.job import Allowance, Part
from sequencer.model.plan import Plan, Step
from sequencer.model.shapes import bounds
from sequencer.paper.composing import compose
from sequencer.paper.drawing import WIDTH, legend, picture
from sequencer.paper.frames import Frame
from sequencer.paper.longer_pieces import Ends
from sequencer.paper.part_view import View
from sequencer.paper.pictured import Pictured
from sequencer.paper.pieces import part_panels
from sequencer.paper.subject import Subject
from sequencer.paper.svg import Box, Pen, Picture
from sequencer.paper.views import body_of, hatched, seen
from sequencer.paper.wood_runs import Wood
from tests.made import job, making, plan

SVG = "{http://www.w3.org/2000/svg}"
BLOCK = Block(320.0, 90.0, 15.0)


def _side(*features: Feature, handed: bool = False, **changes: object) -> Part:
    """The side of the herb caddy, 320 x 90 x 15, with other features."""
    side = replace(job("herb-caddy").parts["side"], features={each.name: each for each in features}, handed=handed, names={})
    return replace(side, **changes)  # type: ignore[arg-type]


def _step(given: Plan, name: str) -> Step:
    return next(step for step in given.steps if f"side/{name}" in step.tasks and step.kind == "work")


def _marking(part: Part, *, after: Sequence[str] = (), title: str = "") -> Picture:
    """The picture of marking out the side, as the plan of the caddy has it; `after` names the tasks done to it by then."""
    given, drawn = plan("herb-caddy"), job("herb-caddy")
    mark = _step(given, "mark-out/mark")
    mark = replace(mark, title=title or mark.title)
    given = replace(given, steps=(*(replace(mark, id=name, tasks=(name,)) for name in after), mark))
    cut = [replace(given.tasks[0], id=name, part="side", feature=name.split("/")[1], kind="groove") for name in after]
    cut = [replace(task, kind="trim") if task.id.endswith("/trim") else task for task in cut]
    given = replace(given, tasks=(*(task for task in given.tasks if task.id not in after), *cut))
    changed = replace(drawn, parts={**drawn.parts, "side": part})
    return picture(mark, Pictured(given, changed, making("herb-caddy")))


def _texts(svg: str, kind: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(svg).iter(f"{SVG}text") if element.get("class") == kind]


def _sizes(svg: str) -> list[str]:
    return _texts(svg, "size")


def _path(svg: str, kind: str) -> str:
    return "".join(element.get("d", "") for element in ET.fromstring(svg).iter(f"{SVG}path") if element.get("class") == kind)


FEATURES = [
    Groove(name="g", face="inside", from_="bottom", distance=8.0, width=6.0, depth=6.0),
    Groove(name="stopped", face="inside", from_="top", distance=10.0, width=4.0, depth=5.0, stops={"left": 20.0, "right": 35.0}),
    Housing(name="h", face="inside", from_="left", distance=12.0, width=15.0, depth=5.0),
    Housing(name="middle", face="outside", from_="right", distance=150.0, width=15.0, depth=7.5),
    Rebate(name="r", edge=("inside", "right"), width=15.0, depth=5.0),
    Hole(name="through", face="inside", diameter=12.0, at=({"left": 40.0, "bottom": 25.0}, {"right": 40.0, "bottom": 25.0})),
    Hole(
        name="corners",
        face="outside",
        diameter=6.0,
        at=(
            {"left": 30.0, "bottom": 45.0},
            {"right": 30.0, "bottom": 45.0},
            {"left": 120.0, "top": 10.0},
            {"right": 90.0, "bottom": 8.0},
        ),
    ),
    Hole(name="blind", face="bottom", diameter=8.0, at=({"left": 60.0, "outside": 7.5},), depth=20.0),
    Hole(name="sunk", face="outside", diameter=4.5, at=({"left": 20.0, "top": 7.5},), countersink=9.0),
    Notch(name="n", edge="top", from_="left", length=30.0, depth=12.0),
]


@pytest.mark.parametrize("feature", FEATURES, ids=lambda feature: feature.name)
def test_sizes_in_the_picture_are_the_features_own_and_the_whole(feature: Feature) -> None:
    deep = axis_of(feature.opens()[0])
    wanted = {size.label for size in feature.dimensions(BLOCK) if deep not in size.axes}
    assert wanted
    whole = {mm(BLOCK.size(axis)) for axis in others(deep)}
    assert set(_sizes(_marking(_side(feature)).svg)) == wanted | whole


@pytest.mark.parametrize("handed", [False, True], ids=["one", "pair"])
@pytest.mark.parametrize("feature", FEATURES, ids=lambda feature: feature.name)
def test_no_text_covers_another_or_leaves_the_picture(feature: Feature, handed: bool) -> None:
    drawn = _marking(_side(feature, handed=handed))
    paper = Box(-0.6, -0.6, drawn.width + 0.6, drawn.height + 0.6)
    assert drawn.texts
    for index, box in enumerate(drawn.texts):
        assert box.left >= paper.left
        assert box.right <= paper.right
        assert box.top >= paper.top
        assert box.bottom <= paper.bottom
        assert not any(box.overlaps(other, -0.05) for other in drawn.texts[index + 1 :])


def test_waste_is_hatched_until_it_is_cut_and_the_cut_stays_to_be_seen() -> None:
    housing = FEATURES[2]
    before = _marking(_side(housing)).svg
    after = _marking(_side(housing), after=[f"side/{housing.name}/cut"]).svg
    assert _path(before, "waste")
    assert not _path(after, "waste")
    uncut = _marking(_side()).svg
    assert len(_path(after, "edge")) > len(_path(uncut, "edge"))


def test_hatching_stays_inside_the_waste() -> None:
    block = Block(100.0, 50.0, 10.0)
    frame = Frame("inside", block)
    cut = frame.shapes(Housing(name="h", face="inside", from_="left", distance=20.0, width=15.0, depth=5.0).removes(block))
    lines = hatched(Wood(body_of(frame, "rectangular"), ()), cut, 2.0)
    assert lines
    for line in lines:
        for x, y in (line.start, line.stop):
            assert 20.0 - 1e-3 <= x <= 35.0 + 1e-3
            assert -1e-3 <= y <= 50.0 + 1e-3


def test_edges_behind_wood_are_dashed_and_those_in_front_are_not() -> None:
    block = Block(100.0, 50.0, 10.0)
    channel = Groove(name="g", face="outside", from_="bottom", distance=8.0, width=6.0, depth=4.0).removes(block)
    for face, hidden in (("inside", True), ("outside", False)):
        frame = Frame(face, block)  # type: ignore[arg-type]
        lines = seen(Wood(body_of(frame, "rectangular"), frame.shapes(channel)))
        walls = [line for line in lines if line.start[1] == line.stop[1] and line.start[1] in (8.0, 14.0)]
        assert len(walls) == 2
        assert all(line.hidden is hidden for line in walls)
    view = View(Subject("A", block, channel), "inside", "")
    assert any(line.hidden for line in view.lines)


def test_a_cut_through_the_edge_opens_the_outline() -> None:
    block = Block(100.0, 50.0, 10.0)
    frame = Frame("inside", block)
    cuts = frame.shapes(Notch(name="n", edge="top", from_="left", length=30.0, depth=12.0).removes(block))
    lines = [line for line in seen(Wood(body_of(frame, "rectangular"), cuts)) if not line.hidden]
    assert not any(line.start[1] == line.stop[1] == 50.0 and min(line.start[0], line.stop[0]) < 29.9 for line in lines)
    assert any(line.start[1] == line.stop[1] == 38.0 for line in lines)


HANDLE = Hole(name="handle-hole", face="inside", diameter=16.0, at=({"left": 120.0, "top": 20.0},), depth=9.0)
PAIR = (
    Housing(name="left-housing", face="inside", from_="left", distance=12.0, width=15.0, depth=5.0),
    Housing(name="right-housing", face="inside", from_="right", distance=12.0, width=15.0, depth=5.0),
)


def test_the_right_hand_is_the_mirror_of_the_left() -> None:
    svg = _marking(_side(HANDLE, handed=True)).svg
    assert _texts(svg, "view") == ["inside, left hand", "right hand"]
    crosses = re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", _path(svg, "centre"))
    assert len(crosses) == 4
    outline = [float(x) for x in re.findall(r"[ML]([\d.]+) ", _path(svg, "edge"))]
    left, right = sorted({float(x) for x, _, other, _ in crosses if x == other})
    assert left - min(outline) == pytest.approx(max(outline) - right, abs=0.02)


def test_a_symmetrical_pair_is_drawn_once() -> None:
    assert _texts(_marking(_side(*PAIR, handed=True)).svg, "view") == ["inside face"]


def test_letters_marks_and_grain_are_in_the_picture() -> None:
    svg = _marking(_side(*PAIR)).svg
    assert _texts(svg, "letter") == ["A"]
    assert _path(svg, "face-side")
    assert _path(svg, "face-edge")
    assert _path(svg, "grain")
    assert ">along the grain<" in legend()
    assert _texts(svg, "end") == ["left", "right"]


def test_long_parts_are_broken_where_that_helps() -> None:
    hole = Hole(name="x", face="inside", diameter=6.0, at=({"left": 30.0, "bottom": 45.0},))
    assert _path(_marking(_side(hole, length=1800.0)).svg, "break")


def test_odd_titles_do_not_break_the_picture() -> None:
    title = '<b>"A & B" — 箱'
    assert ET.fromstring(_marking(_side(*PAIR), title=title).svg).get("aria-label") == title


def _where(svg: str, word: str) -> float:
    return next(float(each.get("x", "")) for each in ET.fromstring(svg).iter(f"{SVG}text") if each.text == word)


def test_ends_have_their_own_names_and_stand_at_the_right_side_of_every_view() -> None:
    at: tuple[dict[FaceName, float], ...] = ({"left": 30.0, "bottom": 20.0},)
    names: dict[str, FaceName] = {"foot": "left", "head": "right", "front-edge": "top"}
    inside = _marking(_side(Hole(name="h", face="inside", diameter=6.0, at=at), names=names)).svg
    outside = _marking(_side(Hole(name="h", face="outside", diameter=6.0, at=at), names=names)).svg
    assert _where(inside, "foot") < _where(inside, "head")
    assert _where(outside, "head") < _where(outside, "foot")
    assert _texts(inside, "edge-name") == ["front edge"]
    # The size from the foot stands at the end that is labelled so.
    assert abs(_where(outside, "30") - _where(outside, "foot")) < abs(_where(outside, "30") - _where(outside, "head"))


def test_both_hands_have_sizes_from_the_end_of_the_same_name() -> None:
    at: tuple[dict[FaceName, float], ...] = ({"left": 30.0, "bottom": 20.0},)
    hole = Hole(name="h", face="inside", diameter=6.0, at=at)
    svg = _marking(_side(hole, handed=True, names={"foot": "left", "head": "right"})).svg
    assert _texts(svg, "end") == ["foot", "head", "head", "foot"]
    assert _sizes(svg).count("30") == 2
    assert _sizes(svg).count("20") == 2


def test_an_angle_is_an_arc_with_its_rise() -> None:
    svg = _marking(_side(Mitre(name="m", end="right", long="bottom", angle=11.31))).svg
    assert "11.3 degrees: 18 in 90" in _sizes(svg)
    assert _path(svg, "angle")
    assert "320" in _sizes(svg)


def test_a_bevel_is_marked_from_its_end() -> None:
    svg = _marking(_side(Bevel(name="b", edge="bottom", low="inside", angle=30.0))).svg
    assert "30 degrees: 8.7 in 15" in _sizes(svg)
    assert "end view" in _texts(svg, "view")


def test_a_tenon_is_not_hatched_away() -> None:
    block = Block(200.0, 70.0, 22.0)
    tenon = Tenon(name="t", end="left", length=26.0, thickness=8.0, width=45.0, from_bottom=5.0)
    frame = Frame("inside", block)
    lines = hatched(Wood(body_of(frame, "rectangular"), ()), frame.shapes(tenon.removes(block)), 2.0)
    assert lines
    assert all(
        max(y, other) <= 5.001 or min(y, other) >= 49.999 for (_, y), (_, other) in ((each.start, each.stop) for each in lines)
    )


def test_a_tenon_is_marked_from_its_end() -> None:
    tenon = Tenon(name="t", end="left", length=26.0, thickness=5.0, width=60.0, from_bottom=10.0)
    sizes = _sizes(_marking(_side(tenon)).svg)
    assert {"26", "10", "60", "20", "5", "320", "90"} <= set(sizes)
    assert sizes.count("60") == 1


def test_waste_left_on_is_shown_until_it_is_trimmed() -> None:
    side = _side(*PAIR, allowances=(Allowance("right", 20.0, "glue"),))
    before = _marking(side).svg
    assert {"340", "20 left on"} <= set(_sizes(before))
    assert _path(before, "left-on")
    after = _marking(side, after=["side/right-allowance/trim"]).svg
    assert not {"340", "20 left on"} & set(_sizes(after))
    assert "320" in _sizes(after)
    assert not _path(after, "left-on")


def test_round_stock_has_a_round_end_and_no_face_marks() -> None:
    pen = Pen()
    (panel,) = part_panels(job("herb-caddy").parts["handle"], set())
    compose(pen, panel.main, panel.section, 0.0, 0.0, 86.0, 52.0)
    svg = pen.finish(86.0, 52.0, "handle")
    assert "diameter 20" in _sizes(svg)
    assert not _path(svg, "face-side")
    assert not _path(svg, "face-edge")


def test_marking_takes_no_more_than_its_step() -> None:
    """Parts of other steps are not in the picture."""
    given = plan("herb-caddy")
    svg = picture(_step(given, "mark-out/mark"), Pictured(given, job("herb-caddy"), making("herb-caddy"))).svg
    assert set(_texts(svg, "letter")) == {"A"}


def _marks(name: str, part: str, width: float = WIDTH) -> Picture:
    given = plan(name)
    step = next(step for step in given.steps if f"{part}/mark-out/mark" in step.tasks)
    return picture(step, Pictured(given, job(name), making(name)), width)


def test_a_long_piece_is_marked_out_with_all_its_parts_the_saw_cut_and_the_spare() -> None:
    """All four pieces of the frame, two of 246 and two of 196, from one of 949: 25 spare at each end, and between them room for a
    kerf of 3 cut at 45 degrees, which is 4.2 along the strip, rounded up to 5. Each is named where it lies."""
    drawn = _marks("picture-frame", "long-piece", 174.0)
    assert drawn.readable
    sizes = _sizes(drawn.svg)
    assert [sizes.count(each) for each in ("25 spare", "5 waste")] == [1, 1]
    assert 25 + 246 + 5 + 246 + 5 + 196 + 5 + 196 + 25 == 949
    # The front has the running sizes, the back, where the rebate is, no other than its own.
    running = [int(each) for each in _texts(drawn.svg, "running-size")]
    assert running == [0, 246, 246 + 5, 492 + 5, 492 + 10, 688 + 10, 688 + 15, 884 + 15]
    assert _texts(drawn.svg, "piece") == ["A 1: 246", "A 2: 246", "B 1: 196", "B 2: 196", "A 1", "A 2", "B 1", "B 2"]
    # On less than the width of the card it would be too small to work from.
    assert not _marks("picture-frame", "long-piece", 114.0).readable


def test_an_end_that_is_cut_later_is_over_length_and_says_the_real_length() -> None:
    """The side of the nest box is 280 long and comes to the bench 292.5 long: its slope is sawn later."""
    (first, *_) = part_panels(job("nest-box").parts["side"], set(), {"left": Ends({"right": 12.5})})
    view = first.main[0][0]
    assert view.frame.size[0] == 292.5
    assert {edge.label: edge.ends for edge in view.edges}["280"] == (0.0, 280.0)
    beyond = [around.span("x") for around in map(bounds, view.subject.waste)]
    assert (280.0, 292.5) in beyond
    assert "280" in _sizes(_marks("nest-box", "side").svg)
    assert "292.5" not in _sizes(_marks("nest-box", "side").svg)


def test_a_bent_line_is_drawn_round_its_template_and_needs_no_sizes() -> None:
    drawn = _marks("herb-caddy", "end")
    assert "draw round the template" in _texts(drawn.svg, "view")
    assert "radius 50" not in _sizes(drawn.svg)
    with_sizes = part_panels(job("herb-caddy").parts["end"], set())
    assert "radius 50" in {edge.label for panel in with_sizes for edge in panel.main[0][0].edges}
