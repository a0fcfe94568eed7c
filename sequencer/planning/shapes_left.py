"""Shapes that earlier cuts have left where a later one has to bear: an edge that is broken follows whatever makes or crosses
it, so a taper, bevel or curve it meets is there before it.
"""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.features.base import Feature
from sequencer.knowledge.formats import StationKind
from sequencer.model.frame import AXES, FACES
from sequencer.model.job import Part
from sequencer.model.shapes import Bounds, bounds
from sequencer.planning.limits import Obstacle

TOUCH = 0.01
"""Shapes nearer than this meet, mm: below anything that can be marked."""


def meet(one: Bounds, other: Bounds) -> bool:
    """Whether two boxes touch."""
    return all(
        one.span(axis)[0] < other.span(axis)[1] + TOUCH and other.span(axis)[0] < one.span(axis)[1] + TOUCH for axis in AXES
    )


def followed_by(edge: Feature, part: Part) -> tuple[Feature, ...]:
    """What is cut before an edge is broken because the edge meets it; none for a cut that breaks no edge."""
    if edge.nature != "edge":
        return ()
    own = [bounds(shape) for shape in edge.removes(part.block)]
    return tuple(
        each
        for each in part.features.values()
        if each.nature != "edge"
        and each.when == "loose"
        and not (each.only and edge.only and each.only != edge.only)
        and any(meet(one, bounds(shape)) for one in own for shape in each.removes(part.block))
    )


def shapes_against(edge: Feature, part: Part, kind: StationKind) -> Iterator[Obstacle]:
    """A machine's fence and table ask for straight faces: an edge beside one that a shape has taken away is not fed there."""
    if kind.power != "machine":
        return
    for shape in followed_by(edge, part):
        lost = sorted({*shape.spoils()} & {*edge.opens()}, key=FACES.index)
        if lost and not shape.ends_part():
            yield Obstacle(
                "holding",
                f"The {shape.title} comes before it and leaves no straight {lost[0]} face to bear on fence or table.",
                f"Break this edge by hand, or draw it clear of the {shape.title}.",
            )
