"""Random small parts, several to a job, with cuts that reach either end among others: the plan that is made is proved, or it is
refused in words that say what to do."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as some

from sequencer.design.checking import check_design
from sequencer.findings import Refused, Unusable, has_errors
from sequencer.model.job import Job, Part
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from sequencer.solid.solids import box, joined, shape_solid
from tests.made import knowledge, workshop

Draw = some.DrawFn
MANY = settings(max_examples=160, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
STOCK = (
    "stick: {material: European beech, hardness: hardwood, form: board, width: 40, thickness: 20, lengths: [2000], "
    "surface: planed}"
)


def _within(draw: Draw, length: int) -> str:
    """A cut on a part 40 x 20 that lies well within it, measured from its first end."""
    face, along = draw(some.sampled_from(["inside", "outside"])), draw(some.integers(10, length - 15))
    return draw(
        some.sampled_from(
            [
                f"kind: hole, face: {face}, at: {{left: {along}, bottom: 20}}, diameter: 6",
                f"kind: hole, face: {face}, at: {{left: {along}, bottom: 20}}, diameter: 8, depth: 8",
                f"kind: screw-holes, face: {face}, at: {{left: {along}, bottom: 20}}, gauge: 6",
                f"kind: housing, face: {face}, from: left, distance: {along}, width: 10, depth: 6",
            ]
        )
    )


def _cut(draw: Draw, length: int) -> str:
    """A cut as a school draws it on a part 40 x 20, near its first end or its second, or right out at one of them."""
    face, edge = draw(some.sampled_from(["inside", "outside"])), draw(some.sampled_from(["bottom", "top"]))
    end = draw(some.sampled_from(["left", "left", "left", "right"]))
    away, out = draw(some.integers(0, max(1, length - 14))), draw(some.booleans())
    spot = f"at: {{{end}: {draw(some.integers(8, max(9, length - 8)))}, {edge}: {draw(some.integers(8, 30))}}}"
    return draw(
        some.sampled_from(
            [
                f"kind: hole, face: {face}, {spot}, diameter: 6",
                f"kind: hole, face: {face}, {spot}, diameter: 8, depth: 8",
                f"kind: screw-holes, face: {face}, {spot}, gauge: 6",
                f"kind: housing, face: {face}, from: {end}, distance: {away}, width: 12, depth: 6",
                f"kind: groove, face: {face}, from: {edge}, distance: 12, width: 6, depth: 5",
                f"kind: groove, face: {face}, from: {edge}, distance: 12, width: 6, depth: 5, stops: {{{end}: 10}}",
                f"kind: rebate, edge: {face}/{edge}, width: 8, depth: 6",
                f"kind: rebate, edge: {face}/{end}, width: 10, depth: 8",
                f"kind: notch, edge: {edge}, from: {end}, distance: {0 if out else away}, length: 12, depth: 12",
                f"kind: recess, face: {face}, length: 20, width: 14, depth: 4, at: {{{end}: {0 if out else 8}, {edge}: 8}}",
                f"kind: halving, face: {face}, from: {end}, distance: {0 if out else away}, width: 15, depth: 10",
                f"kind: mortise, face: {face}, length: 20, width: 8, at: {{{end}: 10, {edge}: 14}}, depth: 10",
                f"kind: chamfer, edges: [{face}/{edge if out else end}], size: 3",
                f"kind: rounded-corner, corners: [{end}/{edge}], radius: 10",
                f"kind: mitre, end: {end}, long: {edge}",
                f"kind: tenon, end: {end}, length: 12, thickness: 8",
            ]
        )
    )


@some.composite
def small_parts(draw: Draw) -> str:
    """A job of up to three parts, 28 to 110 mm long, as a file; in every other one all cuts lie well within their parts."""
    lines, within = [], draw(some.booleans())
    for number in range(draw(some.integers(1, 3))):
        length, count = draw(some.integers(28, 110)), draw(some.sampled_from([1, 2, 4]))
        cuts = ", ".join(
            f"cut-{each}: {{{(_within if within else _cut)(draw, length)}}}" for each in range(draw(some.integers(1, 3)))
        )
        hands = "handed: true, " if draw(some.integers(0, 5)) == 5 else ""
        lines.append(f"  part-{number}: {{count: {count}, {hands}stock: stick, length: {length}, features: {{{cuts}}}}}")
    return "\n".join(["format: 1", "job: Small parts", "stock:", f"  {STOCK}", "parts:", *lines, ""])


def read(text: str) -> Job:
    """The job, if it can be drawn so."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "job.yaml"
        file.write_text(text, encoding="utf-8")
        try:
            drawn = read_job(file)[0]
        except Unusable:
            assume(False)
            raise
    assume(not has_errors(check_design(drawn, knowledge())))
    assume(all(map(_sensible, drawn.parts.values())))
    return drawn


def _sensible(part: Part) -> bool:
    """Whether every cut takes most of its wood itself, and together they leave the part its length: a drawing of anything else is
    wrong, and its proof says so."""
    block = part.block
    cuts = [joined(map(shape_solid, each.removes(block))) for each in part.features.values()]
    whole = box((0, 0, 0), (block.length, block.width, block.thickness))
    for number, cut in enumerate(cuts):
        others = joined([*cuts[:number], *cuts[number + 1 :]])
        there = (whole & cut).volume
        if there - (whole & cut & others).volume < 0.6 * there:
            return False
    return (whole - joined(cuts)).bounds.span("x") == (0.0, block.length)


def test_what_is_planned_on_sticks_is_proved_and_what_is_not_is_refused_with_a_remedy() -> None:
    """And enough of what the jobs are made for is among them: sticks with one part, with several, with parts of two kinds."""
    seen: Counter[str] = Counter()

    @MANY
    @given(small_parts(), some.sampled_from(["full", "well-equipped", "hand-tools"]))
    def each(text: str, shop: str) -> None:
        drawn = read(text)
        try:
            plan = make_plan(drawn, workshop(shop), knowledge())
        except Refused as refused:
            errors = [finding for finding in refused.findings if finding.level == "error"]
            assert errors
            assert all(finding.what and finding.remedy for finding in errors), text
            seen["refused"] += 1
            return
        proof = carry_out(plan, drawn).proof
        assert proof.held, (shop, [look.says for look in proof.failures], text)
        seen.update(_sticks_of(plan))

    each()
    assert seen["refused"] >= 25
    assert seen["stick"] >= 70
    assert seen["alone"] >= 35
    assert seen["several"] >= 30
    assert seen["shared"] >= 10


def _sticks_of(plan: Plan) -> Iterator[str]:
    """What kinds of stick the plan has. All that is cut on one comes before anything is sawn off it; between its pieces is room
    for two saw cuts and a slice that a saw takes, and a hand's width is behind the last."""
    place = {task.id: number for number, task in enumerate(plan.tasks)}
    on_sticks = {task.part for task in plan.tasks if task.kind == "mark-out" and task.in_the_long}
    strips = [strip for strip in plan.strips if {*strip.parts} <= on_sticks]
    for strip in strips:
        own = [task for task in plan.tasks if task.part in strip.parts]
        first = min(place[task.id] for task in own if task.kind == "separate")
        assert all(place[task.id] < first for task in own if task.in_the_long and task.kind != "separate")
        assert all(after.start - before.stop >= 2 * 1 + 5 for before, after in pairwise(strip.pieces))
        assert strip.end >= 100
    together = {part for strip in strips for part in strip.parts}
    yield from ["stick"] * bool(on_sticks)
    yield from ["alone"] * bool(on_sticks - together)
    yield from ["several"] * bool(strips)
    yield from ["shared"] * any(len(strip.parts) > 1 for strip in strips)
