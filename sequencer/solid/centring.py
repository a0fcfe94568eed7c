"""Whether a piece can turn between two centres: solid wood at both ends where the centres bite, its weight about the line from
one to the other, and no gap in the length that the tool runs along. Share, mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sequencer.features.base import NEAR, mm
from sequencer.model.frame import AXES, Axis, FaceName, axis_of, face_at, others
from sequencer.model.shapes import Cone
from sequencer.solid.solids import Solid, box, joined, shape_solid

WHOLE_ENOUGH = 0.99
"""Share of the wood under a centre that must be there: all of it, but for the chords of the solid."""

SKIN = 0.5
"""How far below a turned surface it is looked for gaps, mm: deeper ones that do not come to the surface catch nothing."""
GAP = 2.0
"""A gap in that of less than this is none, mm3: below what can be felt."""


def centre_faults(body: Solid, along: Axis, across: float, deep: float, share: float) -> Iterator[str]:
    """What speaks against turning a body about the middle of its section, as sentences with figures.

    across, deep
        The wood a centre needs round the axis at an end, mm.
    share
        The farthest the middle of its weight may lie from the axis, as a share of its lesser width. Each half of the length
        is looked at by itself: two cuts that balance each other from end to end still shake it.
    """
    for end in (face_at(along, False), face_at(along, True)):
        there = _under_centre(body, end, across, deep)
        if there < WHOLE_ENOUGH:
            yield (
                f"of the wood that the centre needs at the {end} end, {mm(across)} mm across and {mm(deep)} mm deep, "
                f"{there * 100:.0f} % is there"
            )
    off = off_axis(body, along)
    allowed = share * min(body.bounds.size(axis) for axis in others(along))
    if off > allowed + 1e-6:
        yield f"the middle of its weight lies {off:.1f} mm off the line between the centres, and {allowed:.1f} mm is the most"


def catch_faults(body: Solid, along: Axis, stations: Sequence[tuple[float, float]]) -> Iterator[str]:
    """What the tool would catch on while a body is turned to a round about the middle of its section: a hole, mortise or groove
    that comes to the turned surface. `stations`: places along the axis and the diameter there, in order, mm."""
    centre = _middle(body, along)
    skins = []
    for (start, first), (stop, second) in pairwise(stations):
        if stop - start > NEAR:
            whole = shape_solid(Cone(along, centre, start, stop, first / 2, second / 2))
            inner = (max(across / 2 - SKIN, 0.0) for across in (first, second))
            skins.append(whole - shape_solid(Cone(along, centre, start, stop, *inner)))
    missing = joined(skins) - body
    if missing.volume > GAP:
        low, high = missing.bounds.span(along)
        begin = min(at for at, _ in stations)
        where = f"{mm(low - begin)} to {mm(high - begin)} mm from where it begins"
        yield f"the length that is turned has a gap in its surface, {where}, on which the tool catches"


def _under_centre(body: Solid, end: FaceName, across: float, deep: float) -> float:
    """How much of the disc of wood round the axis at an end is there, from 0 to 1."""
    along = axis_of(end)
    low, high = body.bounds.span(along)
    start, stop = (high - deep, high) if end == face_at(along, True) else (low, low + deep)
    disc = shape_solid(Cone(along, _middle(body, along), start, stop, across / 2, across / 2))
    return (body & disc).volume / disc.volume


def off_axis(body: Solid, along: Axis) -> float:
    """How far the middle of the weight of either half of the length lies from the middle of the section, mm; the worse."""
    low, high = body.bounds.span(along)
    half = (low + high) / 2
    return max(_off(body, along, span) for span in ((low, half), (half, high)))


def _off(body: Solid, along: Axis, span: tuple[float, float]) -> float:
    spans = {axis: body.bounds.span(axis) for axis in AXES} | {along: span}
    part = body & box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])
    if part.empty:
        return 0.0
    weight = dict(zip(AXES, part.centroid, strict=True))
    middle = _middle(body, along)
    return float(sum((weight[axis] - at) ** 2 for axis, at in zip(others(along), middle, strict=True)) ** 0.5)


def _middle(body: Solid, along: Axis) -> tuple[float, float]:
    """The axis a piece turns about: the middle of its section, as its diagonals find it."""
    first, second = (sum(body.bounds.span(axis)) / 2 for axis in others(along))
    return first, second
