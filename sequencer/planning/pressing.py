"""Where the cramps of a glue-up press: which pieces each draws together, straight into the joint, and where jaws stand. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction, normal
from sequencer.features.base import NEAR
from sequencer.features.dovetail_pins import DovetailPins
from sequencer.features.finger_joint import FingerJoint
from sequencer.knowledge.working import Working
from sequencer.model.frame import Axis, others
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import fixing_of
from sequencer.planning.jaws import Jaws, TenonEnd, beside, reaching, set_jaws, shared, tenon_ends
from sequencer.planning.mitred_corners import mitred


@dataclass(frozen=True)
class Press:
    """Cramps side by side over the same pieces.

    axis
        The axis of the group it presses along.
    over
        The two outer pieces, one under each jaw.
    between
        The piece that both of them are pressed on to; empty where they are pressed on each other. Where both outer ones are the
        same piece, what lies in its slot: the cheeks of the slot are pressed on to it.
    number
        How many, along the joint.
    opening
        Between the jaws, mm: from the outside of one piece to the outside of the other, with what stands out there and a block
        under each jaw.
    jaws
        Where they stand.
    ends
        Ends of tenons under the jaws, which must not be pressed.
    across
        Whether they press across the way the joint goes together, as into the shoulder of a rebate at a corner.
    tails
        Whether they press tails down between their pins, which must not be pressed.
    """

    axis: Axis
    over: tuple[str, str]
    between: str
    number: int
    opening: float
    jaws: Jaws
    ends: tuple[TenonEnd, ...] = ()
    across: bool = False
    tails: bool = False


@dataclass(frozen=True)
class _Draw:
    """A piece to be pressed on to another, against the way its seat looks. `spans`: where they lie on each other, along the
    two other axes."""

    piece: str
    onto: str
    joint: Joint
    looks: Direction
    spans: Mapping[Axis, tuple[float, float]] = field(hash=False)
    across: bool = False
    cheeks: bool = False
    tails: bool = False

    @property
    def length(self) -> float:
        return max(max(high - low, 0.0) for low, high in self.spans.values())

    def apart(self, other: _Draw) -> float:
        """How far the middles of two lie from each other, across the way they are pressed."""
        return max(abs(sum(self.spans[axis]) - sum(other.spans[axis])) / 2 for axis in self.spans)


def is_lap(joint: Joint) -> bool:
    """Whether both pieces of a joint are let into each other."""
    return bool(joint.its.feature) and (joint.crossing or joint.fit == "lapped")


def cramps_along(length: float, working: Working) -> int:
    """Cramps along one joint: one up to `cramp_span`, else two and one more for each `cramp_apart` between the outer ones, which
    stand `cramp_from_end` from its ends. The figures and their sources stand in `lists/working-figures.yaml`."""
    if length <= working.cramp_span:
        return 1
    return 1 + max(1, ceil(round((length - 2 * working.cramp_from_end) / working.cramp_apart, 6)))


def presses(job: Job, joints: Sequence[Joint], placement: Placement, working: Working) -> Iterator[Press]:
    """The cramps of a glue-up.

    Seats that face each other on both sides of a piece are drawn on to it by the same cramps, and so are pieces on both sides
    of one that they enter; any other joint by its own, over both its pieces, but for joints of one piece that lie nearer to each
    other than `cramp_span`. Corners that close two ways, in a rebate and with fingers, are pressed both ways. Tails are pressed
    down between their pins and never along them: they lock against that, and nothing closes. What is glued into
    a slot right through, as a spline is, holds by the cheeks of the slot and is pressed between them. Mitres, keys, rods and
    pieces without a place are left out.
    """
    draws = [draw for joint in joints for draw in _draws(job, joint, placement)]
    for axis in dict.fromkeys(draw.looks.axis for draw in draws):
        yield from _along(job, [draw for draw in draws if draw.looks.axis == axis], placement, working)


def _draws(job: Job, joint: Joint, placement: Placement) -> Iterator[_Draw]:
    """Which way a joint is pressed, or both ways."""
    bearing = placement.bearing(joint.name)
    round_in = job.part_of(joint.enters_piece).section == "round"
    if fixing_of(joint) != "glue" or bearing is None or round_in or mitred(job, joint):
        return
    piece, onto = joint.enters_piece, joint.seat.piece
    sides = others(bearing.looks.axis)
    seat = job.part_of(onto).features.get(joint.seat.feature)
    if isinstance(seat, DovetailPins):
        yield _onto_pins(placement, joint, seat)
        return
    if seat is not None and seat.kind == "cut-out":
        across = min(sides, key=lambda each: bearing.seat_spans[each][1] - bearing.seat_spans[each][0])
        lying = {axis: shared(placement, (piece, onto), axis) for axis in others(across)}
        yield _Draw(piece, onto, joint, Direction(across, 1), lying, cheeks=True)
        return
    yield _Draw(piece, onto, joint, bearing.looks, {axis: bearing.region(axis) for axis in sides})
    if seat is not None and seat.kind in ("rebate", "housing") and bearing.floor is not None:
        way = _open_side(placement, onto, bearing)
        if way is not None:
            (run,) = (axis for axis in sides if axis != way.axis)
            deep = min(bearing.face, bearing.floor), max(bearing.face, bearing.floor)
            yield _Draw(piece, onto, joint, way, {run: bearing.region(run), bearing.looks.axis: deep}, across=True)
    if isinstance(seat, FingerJoint):
        (end,) = placement.bodies[onto].faces((seat.end,))
        way = placement.poses[onto].direction(normal(end)).reversed
        spans = {axis: shared(placement, (piece, onto), axis) for axis in others(way.axis)}
        yield _Draw(onto, piece, joint, way, spans)


def _onto_pins(placement: Placement, joint: Joint, pins: DovetailPins) -> _Draw:
    """Tails are pressed the way they go in: from the end of the board with the pins, between the outermost tails."""
    tailed, pinned = joint.enters_piece, joint.seat.piece
    (end,) = placement.bodies[pinned].faces((pins.end,))
    way = placement.poses[pinned].direction(normal(end))
    spans = {axis: shared(placement, (tailed, pinned), axis) for axis in others(way.axis)}
    across = placement.poses[pinned].direction(normal("top")).axis
    half_pin = pins.spacing(placement.bodies[pinned].block).half_pin
    spans[across] = spans[across][0] + half_pin, spans[across][1] - half_pin
    return _Draw(tailed, pinned, joint, way, spans, tails=True)


def _open_side(placement: Placement, onto: str, bearing: Bearing) -> Direction | None:
    """The side to which a seat at a corner is open, of the two beside its run; None where wood stands on both or on neither."""
    axis = min(others(bearing.looks.axis), key=lambda each: bearing.seat_spans[each][1] - bearing.seat_spans[each][0])
    seat, own = bearing.seat_spans[axis], placement.span(onto, axis)
    at_low, at_high = seat[0] <= own[0] + NEAR, seat[1] >= own[1] - NEAR
    return Direction(axis, 1 if at_high else -1) if at_low != at_high else None


def _along(job: Job, draws: Sequence[_Draw], placement: Placement, working: Working) -> Iterator[Press]:
    """The cramps that press along one axis."""
    left: list[_Draw] = []
    for draw in draws:
        facing = [each for each in left if each.looks.sign != draw.looks.sign and _outer(each, draw) is not None]
        nearest = min(facing, key=draw.apart, default=None)
        if nearest is None or draw.apart(nearest) > working.cramp_span:
            left.append(draw)
            continue
        left.remove(nearest)
        turned = draw.piece == nearest.piece and draw.looks.sign > 0
        yield _press(job, (draw, nearest) if turned else (nearest, draw), placement, working)
    pressed: list[_Draw] = []
    for draw in left:
        if any(_alike(one, draw) and one.apart(draw) < working.cramp_span for one in pressed):
            continue
        pressed.append(draw)
        yield _press(job, (draw,), placement, working)


def _outer(one: _Draw, other: _Draw) -> tuple[tuple[str, str], str] | None:
    """The outer pieces of two that are pressed towards each other, and the one between; None if they have none between."""
    if one.cheeks or other.cheeks:
        return None
    if one.piece == other.piece and not one.across and not other.across:
        return (one.onto, other.onto), one.piece
    if one.onto == other.onto and one.across == other.across:
        return (one.piece, other.piece), one.onto
    return None


def _alike(one: _Draw, other: _Draw) -> bool:
    return one.piece == other.piece and one.looks == other.looks and one.across == other.across


def _press(job: Job, drawn: Sequence[_Draw], placement: Placement, working: Working) -> Press:
    """The cramps for one joint, or for two that face each other."""
    first = drawn[0]
    over, between = ((first.onto, first.onto), first.piece) if first.cheeks else ((first.piece, first.onto), "")
    if len(drawn) == 2:
        over, between = _outer(*drawn) or (over, between)
    axis, number = first.looks.axis, max(cramps_along(draw.length, working) for draw in drawn)
    work = [reaching(placement, piece, axis) for piece in (*over, *([between] if between else []))]
    opening = max(high for _, high in work) - min(low for low, _ in work) + 2 * working.jaw_block
    longest = max(drawn, key=lambda draw: draw.length)
    jaws = set_jaws(placement, over, longest.piece, longest.spans, number, working)
    ends = () if first.across else tenon_ends(job, [draw.joint for draw in drawn], over, placement, working)
    stand = beside(jaws, ends, over, placement, working)
    return Press(axis, over, between, number, opening, stand, ends, first.across, any(draw.tails for draw in drawn))
