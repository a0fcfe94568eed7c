"""Design checks that several kinds share: wood left under, beside and at the end of a cut.

Sheet material has no short grain; whoever collects the findings of a part made of sheet drops what is said of the grain.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import NEAR, Feature, finding, mm
from sequencer.findings import Finding
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, axis_of, face_at, others

Spans = Mapping[Axis, tuple[float, float]]
"""Low and high of a cut along each axis, mm."""

COMMON = "common practice"

LEAST_LEFT = 2.0
"""Under this nothing useful is left, mm: common practice."""
ENOUGH_LEFT = 3.0
"""Wood to leave under or beside a cut, mm: common practice; 5 in softwood."""
END_GRAIN = 10.0
"""Least wood along the grain between a cut and the end, mm: common practice."""


def left_under(
    feature: Feature,
    block: Block,
    face: FaceName,
    depth: float,
    *,
    usual: float = 1 / 3,
    most: float = 1 / 2,
    through: bool = False,
    source: str = COMMON,
) -> Iterator[Finding]:
    """What is left under a cut `depth` deep in a face. `usual` and `most` are shares of the wood there; `through` says
    that the kind may also go right through."""
    size = block.size(axis_of(face))
    left, where = size - depth, f"the {AXIS_WORDS[axis_of(face)]} is {mm(size)} mm there"
    shallower = f"Make it shallower; {mm(size * usual)} mm is usual here."
    if left <= NEAR:
        yield finding(
            feature,
            "error",
            "nothing-left",
            f"The {feature.title} is {mm(depth)} mm deep and {where}: nothing is left under it.",
            remedy=f"{shallower} Leave out `depth` to go right through." if through else shallower,
            source=source,
        )
    elif left < ENOUGH_LEFT - NEAR:
        yield finding(
            feature,
            "error" if left < LEAST_LEFT - NEAR else "warning",
            "thin-under-cut",
            f"The {feature.title} is {mm(depth)} mm deep and {where}: only {mm(left)} mm is left under it.",
            why="So little wood breaks through when it is cut or loaded.",
            remedy=f"{shallower} Leave at least 3 mm, in softwood 5 mm.",
            source=COMMON,
        )
    elif depth > most * size + NEAR:
        yield finding(
            feature,
            "warning",
            "deep-cut",
            f"The {feature.title} is {mm(depth)} mm deep and {where}: that is over {mm(most * size)} mm.",
            why="A deep cut weakens the part.",
            remedy=shallower,
            source=source,
        )


def thin_beside(feature: Feature, block: Block, face: FaceName, spans: Spans, grain: Axis) -> Iterator[Finding]:
    """A warning for each strip too thin between a cut in a face and an edge that runs along the grain."""
    for axis in others(axis_of(face)):
        if axis == grain:
            continue
        for edge, gap in _gaps(block, axis, spans):
            if NEAR < gap < ENOUGH_LEFT - NEAR:
                yield finding(
                    feature,
                    "warning",
                    "thin-beside-cut",
                    f"Between the {feature.title} and the {edge} face only {mm(gap)} mm of wood stands.",
                    why="So thin a strip splits off.",
                    remedy="Leave at least 3 mm, or carry the cut out to the edge.",
                    source=COMMON,
                )


def short_grain(feature: Feature, block: Block, face: FaceName, spans: Spans, grain: Axis) -> Iterator[Finding]:
    """A warning for each strip across the end of the grain that is short along it: shorter than the cut's lesser extent
    across the grain, and than 10 mm."""
    if axis_of(face) == grain:
        return
    lesser = min(high - low for low, high in (spans[axis] for axis in AXES if axis != grain))
    need = max(END_GRAIN, lesser)
    for end, gap in _gaps(block, grain, spans):
        if NEAR < gap < need - NEAR:
            yield finding(
                feature,
                "warning",
                "short-grain",
                f"Between the {feature.title} and the {end} face the wood is only {mm(gap)} mm long along the grain.",
                why="Short grain breaks away.",
                remedy=f"Leave at least {mm(need)} mm, cut the part to length afterwards, or carry the cut out to the end.",
                source=COMMON,
            )


def _gaps(block: Block, axis: Axis, spans: Spans) -> tuple[tuple[FaceName, float], tuple[FaceName, float]]:
    low, high = spans[axis]
    return (face_at(axis, False), low), (face_at(axis, True), block.size(axis) - high)
