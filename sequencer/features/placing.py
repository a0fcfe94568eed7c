"""Where a cut stands in a face: spots, spans, and the dimensions that mark them out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sequencer.features.base import NEAR, Dimension, mm, refuse
from sequencer.model.fields import AxisWord
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, Point, axis_of, face_at, is_high, opposite, others
from sequencer.model.marks import Between, Spot
from sequencer.model.shapes import Prism

Span = tuple[float, float]

AXIS_CALLED: dict[AxisWord, Axis] = {"length": "x", "width": "y", "thickness": "z"}


def point(spot: Mapping[Axis, float]) -> Point:
    """A point from its coordinate along each axis."""
    return Point(*(spot[axis] for axis in AXES))


def prism(axis: Axis, corners: Iterable[Mapping[Axis, float]], span: Span) -> Prism:
    """A prism along an axis from its corners by the two other axes."""
    first, second = others(axis)
    return Prism(axis, tuple((corner[first], corner[second]) for corner in corners), *span)


def bounding(title: str, face: FaceName, at: Mapping[FaceName, float]) -> None:
    """Refuses distances that do not place a spot in a face: from that face itself, or from two faces along one axis."""
    for named in at:
        if axis_of(named) == axis_of(face):
            raise refuse(f"the {title} is in the {face} face; it cannot be placed there by a distance from the {named} face")
    if len({axis_of(named) for named in at}) < len(at):
        first, second = at
        raise refuse(f"the {title} is placed twice along the {AXIS_WORDS[axis_of(first)]}, from {first} and from {second}")


def run_in(face: FaceName, along: AxisWord | None, block: Block) -> Axis:
    """The axis that something long runs along in a face: as said, else the longer one of the face."""
    first, second = others(axis_of(face))
    if along is not None:
        return AXIS_CALLED[along]
    return first if block.size(first) >= block.size(second) else second


def runs_in(title: str, face: FaceName, along: AxisWord | None) -> None:
    """Refuses a direction that does not lie in a face."""
    if along is not None and AXIS_CALLED[along] == axis_of(face):
        raise refuse(f"the {title} is in the {face} face, which does not run along the {along}")


def meet(title: str, one: FaceName, two: FaceName) -> None:
    """Refuses two faces that do not meet in an edge."""
    if axis_of(one) == axis_of(two):
        raise refuse(f"the {title} names the faces {one} and {two}, which do not meet; name two faces that meet in an edge")


def at_an_end(title: str, end: FaceName) -> None:
    """Refuses an end that is none."""
    if axis_of(end) != "x":
        raise refuse(f"the {title} is at an end of the part, left or right; {end} is not an end")


def placed(block: Block, face: FaceName, at: Mapping[FaceName, float], sizes: Mapping[Axis, float]) -> dict[Axis, Span]:
    """Spans in a face of what is `sizes` large there (0 for a spot): each distance goes to the near side, an axis
    without one is centred."""
    spans: dict[Axis, Span] = {}
    for axis in others(axis_of(face)):
        size = sizes.get(axis, 0.0)
        edge = next((named for named in at if axis_of(named) == axis), None)
        if edge is None:
            low = (block.size(axis) - size) / 2
            spans[axis] = (low, low + size)
        else:
            spans[axis] = block.span(edge, at[edge], at[edge] + size)
    return spans


def lines_across(block: Block, at: Mapping[FaceName, float], axis: Axis, size: float) -> Between:
    """The two lines square to an axis between which lies what is `size` long there: from the face that `at` names, or
    centred and then from the low face."""
    for face, near in at.items():
        if axis_of(face) == axis:
            return Between(face, near, near + size)
    near = (block.size(axis) - size) / 2
    return Between(face_at(axis, False), near, near + size)


def spot_in(block: Block, face: FaceName, at: Mapping[FaceName, float]) -> Spot:
    """A spot in a face by one distance along each of its axes; along an axis that `at` leaves out it is the middle."""
    one, two = (lines_across(block, at, axis, 0.0) for axis in others(axis_of(face)))
    return (one.face, one.near), (two.face, two.near)


def placing(block: Block, face: FaceName, at: Mapping[FaceName, float], spans: Mapping[Axis, Span]) -> list[Dimension]:
    """The dimensions from edges to the near sides of what stands in a face; from the low edge where it is centred."""
    sizes = []
    for axis in others(axis_of(face)):
        edge = next((named for named in at if axis_of(named) == axis), face_at(axis, False))
        near = spans[axis][is_high(edge)]
        spot = {other: span[0] for other, span in spans.items()} | {axis_of(face): block.level(face)}
        start, stop = point(spot | {axis: block.level(edge)}), point(spot | {axis: near})
        if abs(near - block.level(edge)) > NEAR:
            sizes.append(Dimension(axis, start, stop, mm(abs(near - block.level(edge)))))
    return sizes


def references(face: FaceName, at: Mapping[FaceName, float]) -> tuple[FaceName, ...]:
    """The faces a place in a face is measured from: those named, and both along an axis that is centred."""
    named = {axis_of(edge): edge for edge in at}
    faces: list[FaceName] = []
    for axis in others(axis_of(face)):
        faces += [named[axis]] if axis in named else [face_at(axis, False), face_at(axis, True)]
    return (*faces, face)


def all_references(face: FaceName, spots: Iterable[Mapping[FaceName, float]]) -> tuple[FaceName, ...]:
    """The faces that any of several spots is measured from, each once."""
    return tuple(dict.fromkeys(named for at in spots for named in references(face, at)))


def both_sides(face: FaceName, through: bool) -> tuple[FaceName, ...]:
    """The face a cut enters, and the opposite one too if it goes through."""
    return (face, opposite(face)) if through else (face,)


def without_repeats(dimensions: Iterable[Dimension]) -> tuple[Dimension, ...]:
    """Each size once: the same span along the same axis is not dimensioned again."""
    seen: dict[tuple[object, ...], Dimension] = {}
    for each in dimensions:
        index = AXES.index(each.along)
        ends = sorted((round(each.start[index], 6), round(each.stop[index], 6)))
        seen.setdefault((each.along, *ends), each)
    return tuple(seen.values())
