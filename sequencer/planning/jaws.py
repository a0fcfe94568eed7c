"""Where the jaws of a cramp stand on what they press, and the ends of tenons they must keep off. mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil

from sequencer.design.joining import seat_feature
from sequencer.design.placement import Placement
from sequencer.design.poses import normal
from sequencer.features.mortise import Mortise
from sequencer.features.opening import Opening
from sequencer.features.tenon import Tenon
from sequencer.knowledge.working import Working
from sequencer.model.frame import Axis
from sequencer.model.job import Job, Joint

DRIVEN = ("wedge", "key")
"""What is driven at the end of a tenon while the cramps are on."""


@dataclass(frozen=True)
class Jaws:
    """The middles of the jaws of cramps side by side, along the axes of the group.

    run
        The axis along the joint, with the place of each on it.
    beside
        The axis across it, with their place on that.
    """

    run: Axis
    places: tuple[float, ...]
    beside: Axis
    level: float


@dataclass(frozen=True)
class TenonEnd:
    """The end of a tenon that comes out under a jaw on `piece`, and is kept free by a notched block.

    block
        Thickness of the block, mm: as that under any jaw, and what the tenon stands out.
    driven
        What is driven there while the cramp is on, a wedge or a key; empty if nothing is.
    spans
        Where it comes out, with the flare for its wedges, along the two axes of the face.
    """

    piece: str
    block: float
    driven: str
    spans: Mapping[Axis, tuple[float, float]] = field(hash=False)


def reaching(placement: Placement, piece: str, axis: Axis) -> tuple[float, float]:
    """Where a placed piece starts and ends along an axis, with the waste left on it until it is joined."""
    low, high = placement.span(piece, axis)
    body = placement.bodies[piece]
    for allowance in body.part.allowances:
        (face,) = body.faces((allowance.face,))
        way = placement.poses[piece].direction(normal(face))
        if way.axis == axis:
            low, high = (low, high + allowance.amount) if way.sign > 0 else (low - allowance.amount, high)
    return low, high


def set_jaws(
    placement: Placement,
    over: tuple[str, str],
    pressed: str,
    spans: Mapping[Axis, tuple[float, float]],
    number: int,
    working: Working,
) -> Jaws:
    """Where cramps stand along a joint: a single one in the middle of a narrow piece (up to `cramp_span`), else of the joint; of
    several the outer ones `cramp_from_end` from its ends. No jaw stands nearer to an edge of what it presses than half its
    width, `cramp_jaw`, where there is so much wood."""
    run, beside = sorted(spans, key=lambda axis: spans[axis][0] - spans[axis][1])
    low, high = spans[run]
    own = placement.span(pressed, run)
    if number == 1:
        wanted = [sum(own) / 2 if own[1] - own[0] <= working.cramp_span else (low + high) / 2]
    else:
        first, last = low + working.cramp_from_end, high - working.cramp_from_end
        wanted = [first + (last - first) * each / (number - 1) for each in range(number)]
    places = tuple(_on_wood(placement, over, run, at, working) for at in wanted)
    return Jaws(run, places, beside, _on_wood(placement, over, beside, sum(spans[beside]) / 2, working))


def _on_wood(placement: Placement, over: tuple[str, str], axis: Axis, at: float, working: Working) -> float:
    """The nearest place at which both jaws have wood under the whole of them, else the middle of what both pieces share."""
    low, high = shared(placement, over, axis)
    if high <= low:
        return at
    half = min(working.cramp_jaw, high - low) / 2
    return min(max(at, low + half), high - half)


def tenon_ends(
    job: Job, joints: Sequence[Joint], over: tuple[str, str], placement: Placement, working: Working
) -> tuple[TenonEnd, ...]:
    """The ends of tenons right through an outer piece of the joints that cramps close: a jaw on one would press it back."""
    found = []
    for joint in joints:
        bearing = placement.bearing(joint.name)
        tenon, seat = seat_feature(job, joint.its), seat_feature(job, joint.seat)
        through = isinstance(seat, Opening) and seat.blind() is None
        if joint.seat.piece not in over or bearing is None or not isinstance(tenon, Tenon) or not through:
            continue
        axis, sign = bearing.looks.axis, bearing.looks.sign
        tip, face = (
            reaching(placement, joint.enters_piece, axis)[0 if sign > 0 else 1],
            placement.span(joint.seat.piece, axis)[0 if sign > 0 else 1],
        )
        out, driven = (face - tip) * sign, next((each for each in DRIVEN if each in joint.fixed), "")
        flare = seat.flare or 0.0 if isinstance(seat, Mortise) else 0.0
        spans = {side: (low - flare, high + flare) for side, (low, high) in bearing.its_spans.items()}
        if out > -working.jaw_meets or driven:
            found.append(TenonEnd(joint.seat.piece, working.jaw_block + ceil(max(out, 0.0)), driven, spans))
    return tuple(found)


def beside(jaws: Jaws, ends: Sequence[TenonEnd], over: tuple[str, str], placement: Placement, working: Working) -> Jaws:
    """The jaws moved along the joint to beside the tenons that something is driven at, to the side that has more wood."""
    driven = [end.spans[jaws.run] for end in ends if end.driven and jaws.run in end.spans]
    if not driven:
        return jaws
    low, high = min(start for start, _ in driven), max(stop for _, stop in driven)
    start, stop = shared(placement, over, jaws.run)
    at = low - working.cramp_jaw / 2 if low - start > stop - high else high + working.cramp_jaw / 2
    return replace(
        jaws,
        places=tuple(
            at if low - working.cramp_jaw / 2 < place < high + working.cramp_jaw / 2 else place for place in jaws.places
        ),
    )


def shared(placement: Placement, pieces: Sequence[str], axis: Axis) -> tuple[float, float]:
    """Where pieces lie beside each other along an axis; low over high if they do not."""
    spans = [placement.span(piece, axis) for piece in pieces]
    return max(low for low, _ in spans), min(high for _, high in spans)
