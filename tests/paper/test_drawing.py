"""Pictures: what is solid, dashed and hatched, that sizes are the features' own, and that no label covers another."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
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
from sequencer.model.frame import Block, FaceName
from sequencer.model.job import Allowance, Job
from sequencer.model.plan import Plan, Step
from sequencer.paper.drawing import draw_step, legend, picture
from sequencer.paper.part_view import Subject, View
from sequencer.paper.svg import Box
from sequencer.paper.views import Frame, Wood, body_of, hatched, seen
from tests.paper.sample import make

SVG = "{http://www.w3.org/2000/svg}"


def _step(plan: Plan, name: str) -> Step:
    return next(step for step in plan.steps if step.id == name)


def _sizes(svg: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(svg).iter(f"{SVG}text") if element.get("class") == "size"]


def _path(svg: str, kind: str) -> str:
    return "".join(element.get("d", "") for element in ET.fromstring(svg).iter(f"{SVG}path") if element.get("class") == kind)


def _alone(feature: Feature, *, handed: bool = False) -> tuple[Job, Plan, Step]:
    """The sample with one feature on its first part, and the step that cuts it."""
    plan, job = make()
    side = replace(job.parts["side"], features={feature.name: feature}, handed=handed)
    job = replace(job, parts={**job.parts, "side": side})
    task = replace(plan.tasks[9], id=f"side/{feature.name}/cut", feature=feature.name, kind=feature.kind)
    step = replace(_step(plan, "housings"), tasks=(task.id,))
    plan = replace(plan, tasks=(task,), steps=(step,))
    return job, plan, step


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
def test_sizes_in_the_picture_are_the_features_own(feature: Feature) -> None:
    job, plan, step = _alone(feature)
    wanted = {size.label for size in feature.dimensions(Block(320.0, 90.0, 15.0))}
    assert wanted
    assert set(_sizes(draw_step(job, step, plan))) == wanted


@pytest.mark.parametrize("handed", [False, True], ids=["one", "pair"])
@pytest.mark.parametrize("feature", FEATURES, ids=lambda feature: feature.name)
def test_no_text_covers_another_or_leaves_the_picture(feature: Feature, handed: bool) -> None:
    job, plan, step = _alone(feature, handed=handed)
    drawn = picture(job, step, plan)
    paper = Box(-0.6, -0.6, drawn.width + 0.6, drawn.height + 0.6)
    for index, box in enumerate(drawn.texts):
        assert box.left >= paper.left
        assert box.right <= paper.right
        assert box.top >= paper.top
        assert box.bottom <= paper.bottom
        assert not any(box.overlaps(other, -0.05) for other in drawn.texts[index + 1 :])


def test_every_step_of_the_sample_keeps_its_texts_apart() -> None:
    plan, job = make()
    for step in plan.steps:
        texts = picture(job, step, plan).texts
        for index, box in enumerate(texts):
            assert not any(box.overlaps(other, -0.05) for other in texts[index + 1 :]), step.id


def test_waste_is_hatched_and_nothing_else() -> None:
    feature = FEATURES[2]
    job, plan, step = _alone(feature)
    assert _path(draw_step(job, step, plan), "waste")
    cut = replace(step, id="after", number=99, tasks=("side/none/cut",), parts=step.parts)
    done = replace(plan, steps=(step, cut))
    after = draw_step(job, cut, done)
    assert not _path(after, "waste")
    assert _path(after, "edge")


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


def test_the_right_hand_is_the_mirror_of_the_left() -> None:
    plan, job = make()
    svg = draw_step(job, _step(plan, "handle-hole"), plan)
    titles = [element.text for element in ET.fromstring(svg).iter(f"{SVG}text") if element.get("class") == "view"]
    assert "inside, left hand" in titles
    assert "right hand" in titles
    centres = [float(x) for x in re.findall(r"M([\d.]+) [\d.]+L", _path(svg, "centre"))]
    assert len(centres) == 4


def test_a_symmetrical_pair_is_drawn_once() -> None:
    plan, job = make()
    assert "right hand" not in draw_step(job, _step(plan, "housings"), plan)


def test_features_of_earlier_steps_are_cut_and_later_ones_are_not() -> None:
    plan, job = make()
    before = draw_step(job, _step(plan, "housings"), plan)
    after = draw_step(job, _step(plan, "handle-hole"), plan)
    assert len(_path(after, "edge")) > len(_path(before, "edge")) / 2
    groove_only = replace(plan, steps=(_step(plan, "handle-hole"),))
    assert len(_path(draw_step(job, _step(plan, "handle-hole"), groove_only), "edge")) < len(_path(after, "edge"))


def test_stock_steps_show_the_size_being_made_and_the_waste_beyond() -> None:
    plan, job = make()
    svg = draw_step(job, _step(plan, "length"), plan)
    assert _sizes(svg) == ["320", "170"]
    assert _path(svg, "waste")
    blank = draw_step(job, _step(plan, "blanks"), plan)
    assert {mm(line.length) for line in plan.blanks[:2]} <= set(_sizes(blank))


def test_letters_marks_and_grain_are_in_the_picture() -> None:
    plan, job = make()
    svg = draw_step(job, _step(plan, "housings"), plan)
    assert re.search(r'class="letter"[^>]*>A<', svg)
    assert _path(svg, "face-side")
    assert _path(svg, "face-edge")
    assert 'class="grain"' in svg
    assert ">along the grain<" in legend()
    assert ">left<" in svg
    assert ">right<" in svg


def test_letters_are_large_enough_to_read() -> None:
    plan, job = make()
    for step in plan.steps:
        for element in ET.fromstring(draw_step(job, step, plan) or "<svg/>").iter(f"{SVG}text"):
            assert float(element.get("font-size", "0")) >= 3.175, element.text  # 9 pt


def test_putting_together_names_parts_and_joints() -> None:
    plan, job = make()
    dry = draw_step(job, _step(plan, "dry-fit"), plan)
    assert "left housing, right housing" in dry
    assert "glue" not in dry
    assert "left housing, right housing: glue" in draw_step(job, _step(plan, "glue"), plan)


def test_long_parts_are_broken_where_that_helps() -> None:
    job, plan, step = _alone(Hole(name="x", face="inside", diameter=6.0, at=({"left": 30.0, "bottom": 45.0},)))
    long = replace(job.parts["side"], length=1800.0)
    assert _path(draw_step(replace(job, parts={"side": long}, joints={}), step, plan), "break")


def test_pictures_are_the_same_every_time_and_hold_no_ids() -> None:
    plan, job = make()
    for step in plan.steps:
        svg = draw_step(job, step, plan)
        assert svg == draw_step(job, step, plan)
        assert " id=" not in svg
        assert not re.search(r"\d\.\d{3}", _path(svg, "edge") if svg else "")


def test_odd_titles_do_not_break_the_picture() -> None:
    plan, job = make()
    step = replace(_step(plan, "length"), title='<b>"A & B" — 箱')
    assert ET.fromstring(draw_step(job, step, plan)).get("aria-label") == '<b>"A & B" — 箱'


def _texts(svg: str, kind: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(svg).iter(f"{SVG}text") if element.get("class") == kind]


def _named(feature: Feature, names: dict[str, FaceName], *, handed: bool = False, marking: bool = False) -> str:
    """The picture of a feature, cut or marked, on a part with names of its own."""
    job, plan, step = _alone(feature, handed=handed)
    job = replace(job, parts={**job.parts, "side": replace(job.parts["side"], names=names)})
    if marking:
        plan = replace(plan, tasks=(replace(plan.tasks[0], kind="mark-out", feature=""),))
    return draw_step(job, step, plan)


def _where(svg: str, word: str) -> float:
    return next(float(each.get("x", "")) for each in ET.fromstring(svg).iter(f"{SVG}text") if each.text == word)


def test_ends_have_their_own_names_and_stand_at_the_right_side_of_every_view() -> None:
    at: tuple[dict[FaceName, float], ...] = ({"left": 30.0, "bottom": 20.0},)
    names: dict[str, FaceName] = {"foot": "left", "head": "right", "front-edge": "top"}
    inside = _named(Hole(name="h", face="inside", diameter=6.0, at=at), names)
    outside = _named(Hole(name="h", face="outside", diameter=6.0, at=at), names)
    assert _where(inside, "foot") < _where(inside, "head")
    assert _where(outside, "head") < _where(outside, "foot")
    assert _texts(inside, "edge-name") == ["front edge"]
    # The size from the foot stands at the end that is labelled so.
    assert abs(_where(outside, "30") - _where(outside, "foot")) < abs(_where(outside, "30") - _where(outside, "head"))


def test_both_hands_have_sizes_from_the_end_of_the_same_name() -> None:
    at: tuple[dict[FaceName, float], ...] = ({"left": 30.0, "bottom": 20.0},)
    svg = _named(Hole(name="h", face="inside", diameter=6.0, at=at), {"foot": "left", "head": "right"}, handed=True)
    assert _texts(svg, "end") == ["foot", "head", "head", "foot"]
    assert _sizes(svg).count("30") == 2
    assert _sizes(svg).count("20") == 2


def test_marking_out_gives_the_whole_length_and_width() -> None:
    svg = _named(Hole(name="h", face="inside", diameter=6.0, at=({"left": 30.0, "bottom": 20.0},)), {}, marking=True)
    assert {"320", "90"} <= set(_sizes(svg))


def test_an_angle_is_an_arc_with_its_rise() -> None:
    slope = Mitre(name="m", end="right", long="bottom", angle=11.31)
    svg = _named(slope, {})
    assert "11.3 degrees: 18 in 90" in _sizes(svg)
    assert _path(svg, "angle")
    assert "320" in _sizes(svg)


def test_a_bevel_is_marked_from_its_end() -> None:
    svg = _named(Bevel(name="b", edge="bottom", low="inside", angle=30.0), {}, marking=True)
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
    sizes = _sizes(_named(tenon, {}, marking=True))
    assert {"26", "10", "60", "20", "5", "320", "90"} <= set(sizes)
    assert sizes.count("60") == 1


def test_waste_left_on_is_shown_until_it_is_trimmed() -> None:
    plan, job = make()
    side = replace(job.parts["side"], allowances=(Allowance("right", 20.0, "glue"),))
    job = replace(job, parts={**job.parts, "side": side})
    length = draw_step(job, _step(plan, "length"), plan)
    assert {"340", "20 left on"} <= set(_sizes(length))
    assert _path(length, "left-on")
    task = replace(plan.tasks[0], id="side/right-allowance/trim", kind="trim", part="side", feature="right-allowance")
    step = replace(_step(plan, "housings"), id="trim", tasks=(task.id,))
    trim = draw_step(job, step, replace(plan, tasks=(*plan.tasks, task), steps=(*plan.steps, step)))
    assert _sizes(trim) == ["20"]
    assert _path(trim, "waste")
    later = replace(step, id="later", tasks=("side/none/cut",))
    after = draw_step(job, later, replace(plan, tasks=(*plan.tasks, task), steps=(*plan.steps, step, later)))
    assert "340" not in _sizes(after)


def test_mitres_in_a_long_stick_show_how_the_pieces_lie_in_it() -> None:
    mitre = Mitre(name="m", end="left", long="bottom")
    job, plan, step = _alone(mitre)
    plan = replace(plan, tasks=tuple(replace(task, in_the_long=True) for task in plan.tasks))
    blank = replace(plan.blanks[0], part="side", length=700.0, yields=2)
    svg = draw_step(job, step, replace(plan, blanks=(blank,)))
    assert "320" in _sizes(svg)
    assert not _path(svg, "break")
    slopes = [line for line in re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", _path(svg, "edge")) if line[0] != line[2]]
    assert len([line for line in slopes if line[1] != line[3]]) >= 2


def test_round_stock_has_a_round_end_and_no_face_marks() -> None:
    plan, job = make()
    side = replace(job.parts["side"], section="round", width=15.0, features={})
    svg = draw_step(replace(job, parts={"side": side}, joints={}), _step(plan, "length"), plan)
    assert "diameter 15" in _sizes(svg)
    assert not _path(svg, "face-side")
    assert not _path(svg, "face-edge")


def test_joining_shows_where_each_hand_stands() -> None:
    plan, job = make()
    svg = draw_step(job, _step(plan, "glue"), plan)
    assert _texts(svg, "view") == ["upright", "from above"]
    assert {"left", "right"} <= set(_texts(svg, "hand"))
    assert {"A", "B"} <= set(_texts(svg, "letter"))
