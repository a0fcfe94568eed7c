"""Dowels, biscuits, wedges and splines tried on the pieces as they were made: each goes home, with room and no slack. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.design.loose_pieces import HOLES, Peg, Wedges, least_room, pegs, wedges
from sequencer.design.placement import Placement
from sequencer.design.splines import Spline, splines
from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, others
from sequencer.model.job import Job
from sequencer.model.plan import Bench
from sequencer.model.proof import Looked
from sequencer.model.shapes import Cone
from sequencer.solid.solids import Solid, box, joined, shape_solid

THINNER = 0.1
"""A loose piece is tried this much thinner all round, mm: a round hole is a many-sided one on a solid."""
MIDDLE = 1.5
"""Half of the middle of a biscuit that is as wide as the biscuit, mm: its edge is curved, and nearly straight there."""
TOUCH = 1.0
"""Wood in the way of less than this is none, mm3."""


class Loose:
    """The loose pieces of each joint, as the drawing gives them."""

    def __init__(self, job: Job, placement: Placement, bench: Bench) -> None:
        self.job, self.placement, self.bench = job, placement, bench
        self.pegs: dict[tuple[str, str], tuple[Peg, ...]] = {}
        self.wedges: dict[str, Wedges] = {}
        self.splines: dict[str, tuple[Spline, ...]] = {}
        for name, joint in job.joints.items():
            for kind, (_, word) in HOLES.items():
                if word in joint.fixed and (found := pegs(job, placement, joint, kind)):
                    self.pegs[name, kind] = found
            if (driven := wedges(job, joint)) is not None:
                self.wedges[name] = driven
            if across := splines(job, placement, joint):
                self.splines[name] = across

    def needed(self, joint: str) -> set[str]:
        """The kinds of work that put loose pieces into a joint."""
        found = {kind for name, kind in self.pegs if name == joint} | ({"wedge"} if joint in self.wedges else set())
        return found | ({"spline"} if joint in self.splines else set())

    def look(self, joints: Sequence[str], kind: str, standing: Mapping[str, Solid]) -> Iterator[Looked]:
        """The loose pieces of some joints tried on the solids of their pieces, by name."""
        for name in joints:
            joint = self.job.joints[name]
            ends = joint.enters_piece, joint.seat.piece
            if not all(piece in standing for piece in ends):
                continue
            one, other = (standing[piece] for piece in ends)
            if kind == "wedge" and name in self.wedges:
                yield self._wedge(name, self.wedges[name], one, other)
            for spline in self.splines.get(name, ()) if kind == "spline" else ():
                yield self._spline(spline, one, other)
            for peg in self.pegs.get((name, kind), ()):
                yield _goes_home(name, peg, one, other, self.bench)

    def _wedge(self, name: str, driven: Wedges, tenoned: Solid, mortised: Solid) -> Looked:
        """The slopes of the mortise are empty, so that the tenon or the wedges can spread there; the kerfs are sawn."""
        joint = self.job.joints[name]
        one, other = joint.enters_piece, joint.seat.piece
        body = self.placement.bodies[other]
        ramps = joined(shape_solid(shape).posed(self.placement.poses[other]) for shape in body.shapes(driven.mortise)[1:])
        wood = (ramps & mortised).volume + (ramps & tenoned).volume
        if ramps.empty or wood > TOUCH:
            return Looked(
                "loose", False, f"{name}: the wedges have no room to spread, {wood:.0f} mm3 of wood stands in the flare"
            )
        if driven.kerfs is not None:
            own = self.placement.bodies[one]
            kerfs = joined(shape_solid(shape).posed(self.placement.poses[one]) for shape in own.shapes(driven.kerfs))
            left = (kerfs & tenoned).volume
            if left > TOUCH:
                return Looked("loose", False, f"{name}: the kerfs are not sawn, {left:.0f} mm3 of wood stands in them")
        flare = mm(driven.mortise.flare or 0.0)
        return Looked(
            "loose", True, f"{name}: {driven.count} wedges {mm(driven.thick)} mm thick have {flare} mm to spread at each end"
        )

    def _spline(self, spline: Spline, one: Solid, other: Solid) -> Looked:
        """A spline down to the floor of its slot meets no wood, and wood stands close on both sides of it."""
        piece, slot = spline.pieces[0], spline.slot
        own = self.placement.bodies[piece]

        def body(wider: float) -> Solid:
            drawn = replace(slot, distance=max(slot.distance - wider, 0.0), width=slot.width + 2 * wider)
            return joined(shape_solid(shape).posed(self.placement.poses[piece]) for shape in own.shapes(drawn))

        what = f"{spline.joint}: a spline {mm(slot.width)} mm thick"
        met = (body(-THINNER) & one).volume + (body(-THINNER) & other).volume
        if met > TOUCH:
            return Looked("loose", False, f"{what} does not go home: it meets {met:.0f} mm3 of wood")
        beside = body(self.bench.glue_fills) - body(THINNER)
        held = ((beside & one).volume + (beside & other).volume) / beside.volume
        if held < 1 / 2:
            return Looked("loose", False, f"{what} is loose: wood stands beside {held:.0%} of it")
        return Looked("loose", True, f"{what} goes home, {mm(slot.depth)} mm deep at the corner")


def _goes_home(name: str, peg: Peg, one: Solid, other: Solid, bench: Bench) -> Looked:
    """A dowel or biscuit with the room below it meets no wood in either piece, and wood stands close round a dowel."""
    what = f"{name}: a {peg.kind} {mm(peg.whole)} mm across the joint"
    spare = least_room(peg.kind, bench)
    into = peg.into[0] + spare / 2, peg.into[1] + spare / 2
    body = _peg(peg, into, -THINNER, bench)
    met = (body & one).volume + (body & other).volume
    if met > TOUCH:
        return Looked("loose", False, f"{what} does not go home with {mm(spare)} mm to spare: it meets {met:.0f} mm3 of wood")
    if peg.kind == "dowel":
        round_it = _peg(peg, peg.into, bench.glue_fills, bench) - _peg(peg, peg.into, THINNER, bench)
        held = ((round_it & one).volume + (round_it & other).volume) / round_it.volume
        if held < 1 / 2:
            return Looked("loose", False, f"{what} is loose: wood stands round {held:.0%} of it")
    return Looked("loose", True, f"{what} goes home, {mm(peg.room)} mm to spare")


def _peg(peg: Peg, into: tuple[float, float], fatter: float, bench: Bench) -> Solid:
    """The body of a dowel or biscuit where it sits, so far into both pieces."""
    axis, sign = peg.across.axis, peg.across.sign
    middle = {each: peg.at[AXES.index(each)] for each in AXES}
    low, high = sorted((middle[axis] - sign * into[0], middle[axis] + sign * into[1]))
    if peg.kind == "dowel":
        first, second = others(axis)
        radius = peg.size / 2 + fatter
        return shape_solid(Cone(axis, (middle[first], middle[second]), low, high, radius, radius))
    return _biscuit(peg, axis, (low, high), middle, bench.biscuit_thickness + 2 * fatter)


def _biscuit(peg: Peg, axis: Axis, across: tuple[float, float], middle: Mapping[Axis, float], thick: float) -> Solid:
    """A biscuit's waist over its whole width and its length at the joint: two boxes that lie in its outline."""
    third = next(each for each in others(axis) if each != peg.run)

    def body(half: float, along: tuple[float, float]) -> Solid:
        spans = {
            axis: along,
            peg.run: (middle[peg.run] - half, middle[peg.run] + half),
            third: (middle[third] - thick / 2, middle[third] + thick / 2),
        }
        return box([spans[each][0] for each in AXES], [spans[each][1] for each in AXES])

    touch = middle[axis] - 0.5, middle[axis] + 0.5
    return joined([body(MIDDLE, across), body(peg.length / 2 - 1.0, touch)])
