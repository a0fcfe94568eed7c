"""What is drawn to slide must slide its whole way: out at one end, or from end to end of the channel it runs in. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sequencer.design.joining import fit_of
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction, face_towards
from sequencer.design.settling import moves_with
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, mm
from sequencer.findings import Finding
from sequencer.model.job import Job, Joint
from sequencer.reading.words import listed
from sequencer.solid.solids import Solid, joined
from sequencer.solid.sweeping import blocked
from sequencer.solid.whereabouts import face_word

LEAST_TRAVEL = 1.0
"""What moves less than this, both ways together, does not slide, mm."""
STEP = 0.2
"""How closely the place where a piece is stopped is found before it is measured, mm."""


@dataclass(frozen=True)
class _Way:
    """One way to slide: how far it goes, what it then meets (nothing if it comes out), how far it is to the channel's end."""

    direction: Direction
    reach: float
    meets: tuple[str, ...]
    channel: float


def sliding_findings(job: Job, placement: Placement, standing: Mapping[str, Solid]) -> Iterator[Finding]:
    """For each piece in a sliding fit that can neither come out nor run the length of its channel: an error if it cannot move
    at all, a warning if it moves part of the way."""
    said: set[str] = set()
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        run = bearing.seat.run if bearing is not None else None
        if bearing is None or run is None or fit_of(job, joint) != "sliding" or joint.enters_piece in said:
            continue
        axis = placement.poses[joint.seat.piece].direction(Direction(run, 1)).axis
        own = moves_with(job, joint.enters_piece, ("sliding",))
        if joint.seat.piece in own:
            said.add(joint.enters_piece)
            yield _held_fast(job, joint)
            continue
        ways = [_way(placement, standing, bearing, own, Direction(axis, sign)) for sign in (1, -1)]
        if any(not way.meets for way in ways) or all(way.reach >= way.channel - NEAR for way in ways):
            continue
        said.add(joint.enters_piece)
        yield _stuck(placement, joint, ways)


def _way(placement: Placement, standing: Mapping[str, Solid], bearing: Bearing, own: set[str], way: Direction) -> _Way:
    piece = bearing.meeting.joint.enters_piece
    group = next(group for group in placement.groups if piece in group)
    moving = joined(standing[name] for name in group if name in own)
    others = {name: standing[name] for name in group if name not in own}
    channel = max(_ahead(bearing.seat_spans[way.axis], way.sign) - _ahead(standing[piece].bounds.span(way.axis), way.sign), 0.0)
    clear = max(_ahead(body.bounds.span(way.axis), way.sign) for body in others.values())
    out = clear - _behind(moving.bounds.span(way.axis), way.sign)
    if out <= 0.0 or blocked(moving, list(others.values()), way, out) is None:
        return _Way(way, max(out, 0.0), (), channel)
    free = 0.0
    while out - free > STEP:
        half = (free + out) / 2
        if blocked(moving, list(others.values()), way, half) is None:
            free = half
        else:
            out = half
    met = {name: found for name, body in others.items() if (found := blocked(moving, [body], way, out)) is not None}
    reach = out - max(found.bounds.size(way.axis) for found in met.values())
    return _Way(way, max(reach, 0.0), tuple(met), channel)


def _ahead(span: tuple[float, float], sign: int) -> float:
    """The foremost level of a span, counted along the way."""
    return span[1] if sign > 0 else -span[0]


def _behind(span: tuple[float, float], sign: int) -> float:
    """The hindmost level of a span, counted along the way."""
    return span[0] if sign > 0 else -span[1]


def _held_fast(job: Job, joint: Joint) -> Finding:
    return Finding(
        "error",
        "cannot-slide",
        joint.name,
        f"{joint.enters_piece} is to slide in {joint.seat}, and other joints fix it to {joint.seat.piece}.",
        "It cannot move at all.",
        "Give each joint that is to slide `fit: sliding`, or take the fit out here.",
        joint.place,
        COMMON,
    )


def _stuck(placement: Placement, joint: Joint, ways: list[_Way]) -> Finding:
    pose, body = placement.poses[joint.enters_piece], placement.bodies[joint.enters_piece]
    words = []
    for way in ways:
        towards = face_word(body.part, face_towards(pose.own(way.direction)))
        words.append(f"towards its {towards} it goes {mm(way.reach)} mm and meets {listed(way.meets)}")
    moves = sum(way.reach for way in ways) > LEAST_TRAVEL
    return Finding(
        "warning" if moves else "error",
        "slides-part-way" if moves else "cannot-slide",
        joint.name,
        f"{joint.enters_piece} is to slide in {joint.seat}: {' and '.join(words)}.",
        "It neither comes out nor runs the length of its channel.",
        "Leave the channel open at one end, and cut what stands in the way lower or away.",
        joint.place,
        COMMON,
    )
