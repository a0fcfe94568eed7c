"""Cuts of one part: near enough to break into each other, or leaving nothing. mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product
from math import hypot

from sequencer.design.bodies import Body
from sequencer.features.base import NEAR, Feature, mm
from sequencer.features.channel import Trenched
from sequencer.features.checks import COMMON, LEAST_LEFT
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, axis_of, opposite
from sequencer.model.job import Job, Part
from sequencer.model.shapes import Bounds, Prism, bounds

_CHANNELS = ("groove", "housing", "halving")


def close_cuts(job: Job) -> Iterator[Finding]:
    """A warning for each pair of cuts of one part with too little wood between, or that run into each other unasked.

    Left out: cuts measured one in the other, and shapes and broken edges, whose waste other cuts run out into.
    """
    for part in job.parts.values():
        hands = {piece.hand: Body(piece, part) for piece in part.pieces}
        for first, second in combinations(part.features.values(), 2):
            if first.within == second.name or second.within == first.name:
                continue
            if {first.nature, second.nature} <= {"bored", "cut"}:
                own = next((own for own in hands.values() if own.feature(first.name) and own.feature(second.name)), None)
                if own is not None:
                    yield from _between(own, part, first, second)


def _between(own: Body, part: Part, first: Feature, second: Feature) -> Iterator[Finding]:
    pairs = list(product(own.boxes(first), own.boxes(second)))
    subject = f"{part.name}/{first.name}"
    touching = NEAR if _from_both_sides(first, second) else -NEAR
    if any(_share_wood(one, two, touching) and _clash(own, first, one, second, two) for one, two in pairs):
        yield Finding(
            "warning",
            "cuts-meet",
            subject,
            f"{first.name} and {second.name} run into each other.",
            "The second cut breaks out at the first.",
            f"Move one of them, or write `in: {first.name}` at {second.name} if they are meant to meet.",
            part.place_of(first.name),
            COMMON,
        )
        return
    left, along = min((_wood_between(one, two) for one, two in pairs), key=lambda found: found[0], default=(LEAST_LEFT, None))
    if NEAR < left < LEAST_LEFT - NEAR:
        where = f" along the {AXIS_WORDS[along]}" if along else ""
        yield Finding(
            "warning",
            "cuts-near",
            subject,
            f"Between {first.name} and {second.name} only {mm(left)} mm of wood is left{where}.",
            "So thin a wall breaks out when the second cut is made.",
            f"Leave at least {mm(LEAST_LEFT)} mm between them.",
            part.place_of(first.name),
            COMMON,
        )


def _wood_between(one: Bounds, two: Bounds) -> tuple[float, Axis | None]:
    """Wood between two boxes, and the axis it lies along if it is one only. 0 where they meet."""
    gaps = {axis: max(one.span(axis)[0] - two.span(axis)[1], two.span(axis)[0] - one.span(axis)[1], 0.0) for axis in AXES}
    axes = [axis for axis, gap in gaps.items() if gap > NEAR]
    return hypot(*gaps.values()), axes[0] if len(axes) == 1 else None


def _share_wood(one: Bounds, two: Bounds, touching: float) -> bool:
    """Whether two boxes take the same wood; `touching` over zero counts boxes that only meet."""
    return all(
        one.span(axis)[0] < two.span(axis)[1] + touching and two.span(axis)[0] < one.span(axis)[1] + touching for axis in AXES
    )


def _from_both_sides(first: Feature, second: Feature) -> bool:
    """Whether two channels are cut from opposite faces, or from faces of which none is common."""
    apart = not set(first.opens()) & set(second.opens()) or first.opens()[0] == opposite(second.opens()[0])
    return first.kind in _CHANNELS and second.kind in _CHANNELS and apart


def _clash(own: Body, first: Feature, one: Bounds, second: Feature, two: Bounds) -> bool:
    """Whether two cuts that share wood are not meant to.

    Meant are channels of one face that cross at right angles, a hole that lies whole within another cut, and whatever
    runs out into a tenon's shoulder, a rebate, a notch, a slot or a cut-out.
    """
    if first.nature == second.nature == "bored" or first.kind == second.kind == "mortise":
        return True
    if "bored" in (first.nature, second.nature):
        hole, round_it, cut, room = (first, one, second, two) if first.nature == "bored" else (second, two, first, one)
        if cut.kind not in (*_CHANNELS, "mortise"):
            return False
        into = axis_of(hole.opens()[0])
        return not all(_within(round_it.span(axis), room.span(axis)) for axis in AXES if axis != into)
    if isinstance(first, Trenched) and isinstance(second, Trenched) and first.kind in _CHANNELS and second.kind in _CHANNELS:
        return first.trench().run == second.trench().run or _from_both_sides(first, second)
    return False


def _within(inner: tuple[float, float], outer: tuple[float, float]) -> bool:
    return outer[0] - NEAR <= inner[0] and inner[1] <= outer[1] + NEAR


def nothing_left(job: Job) -> Iterator[Finding]:
    """Cuts that take a whole layer of their part away, or all of it: then it is another size of part, or none."""
    for part in job.parts.values():
        for feature in part.features.values():
            for shape in feature.removes(part.block):
                if not isinstance(shape, Prism) or not _square(shape):
                    continue
                around = bounds(shape)
                whole = [axis for axis in AXES if around.size(axis) >= part.block.size(axis) - NEAR]
                if len(whole) == 3:
                    what, code = f"takes the whole {part.name} away", "nothing-left"
                elif len(whole) == 2 and not feature.ends_part():
                    (axis,) = (axis for axis in AXES if axis not in whole)
                    low, high = around.span(axis)
                    if low > NEAR and high < part.block.size(axis) - NEAR:
                        # It parts the piece in two, which its own check says.
                        continue
                    what, code = f"takes {mm(around.size(axis))} mm off the whole {part.name}", "whole-layer"
                else:
                    continue
                yield Finding(
                    "error",
                    code,
                    f"{part.name}/{feature.name}",
                    f"The {feature.title} {what}: that is no cut in it.",
                    remedy="Correct its sizes, or draw the part smaller.",
                    place=part.place_of(feature.name),
                )


def walls_beside(job: Job, working: Working) -> Iterator[Finding]:
    """A groove or rebate leaves a wall between it and the edge along its run that stands up to the cut. A groove without any
    is a rebate by another name, and is said to be."""
    for part in job.parts.values():
        for feature in part.features.values():
            if not isinstance(feature, Trenched) or feature.kind not in ("groove", "rebate"):
                continue
            trench = feature.trench()
            far = part.block.size(axis_of(trench.beside)) - trench.distance - trench.width
            for face, wall in ((trench.beside, trench.distance), (opposite(trench.beside), far)):
                if feature.kind == "rebate" and face == trench.beside:
                    continue
                if -NEAR < wall < NEAR and feature.kind == "groove":
                    level, what = "warning", f"No wood is left between the {feature.title} and the {face} face."
                elif NEAR <= wall < working.least_wall - NEAR:
                    level, what = "error", f"Only {wall:.2g} mm of wood is left between the {feature.title} and the {face} face."
                else:
                    continue
                yield Finding(
                    "error" if level == "error" else "warning",
                    "no-wall",
                    f"{part.name}/{feature.name}",
                    what,
                    "So thin a wall breaks out in the cut."
                    if level == "error"
                    else "What lies in it is held from one side only.",
                    f"Leave 3 mm or more, {mm(working.least_wall)} mm at the least, or write it as a rebate of that edge.",
                    part.place_of(feature.name),
                    COMMON,
                )


def _square(shape: Prism) -> bool:
    """Whether a prism is a block: its outline fills the box round it."""
    corners = shape.outline
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))
    first, second = zip(*corners, strict=True)
    filled: float = abs(twice) / 2
    return bool(abs(filled - (max(first) - min(first)) * (max(second) - min(second))) < NEAR)
