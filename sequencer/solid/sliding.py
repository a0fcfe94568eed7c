"""What is drawn to slide must slide its whole way: out at one end, or from end to end of the channel it runs in. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sequencer.design.joining import fit_of, listed
from sequencer.design.placing import Bearing, Placement
from sequencer.design.poses import Direction, face_towards
from sequencer.design.settling import moves_with
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, mm
from sequencer.findings import Finding
from sequencer.model.frame import AXES
from sequencer.model.job import Job, Joint
from sequencer.solid.solids import Solid, joined
from sequencer.solid.sweeping import blocked
from sequencer.solid.whereabouts import face_word


@dataclass(frozen=True, eq=False)
class _Way:
    """One way to slide: how far to be clear of everything, how far to the end of the channel, and what is met first."""

    direction: Direction
    out: float
    channel: float
    met: Mapping[str, Solid]
    moving: Solid

    @property
    def free(self) -> bool:
        """Whether it comes right out that way."""
        return not self.met

    @property
    def reach(self) -> float:
        """How far it goes before it meets something; as far as it need go if nothing is met."""
        index = AXES.index(self.direction.axis)
        fronts = [_front(body, index, self.direction.sign) for body in self.met.values()]
        return max(min(fronts, default=0.0) - _tip(self.moving, index, self.direction.sign), 0.0) if fronts else self.out


def _tip(body: Solid, index: int, sign: int) -> float:
    """The foremost level of a body, counted along the way."""
    return (body.bounds.high if sign > 0 else body.bounds.low)[index] * sign


def _front(body: Solid, index: int, sign: int) -> float:
    """The level of a body that is met first, counted along the way."""
    return (body.bounds.low if sign > 0 else body.bounds.high)[index] * sign


def sliding_findings(job: Job, placement: Placement, standing: Mapping[str, Solid]) -> Iterator[Finding]:
    """An error for each piece in a sliding fit that can neither come out nor run the length of its channel."""
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
        ways = [_way(job, placement, standing, bearing, own, Direction(axis, sign)) for sign in (1, -1)]
        if any(way.free for way in ways) or all(way.reach >= way.channel - NEAR for way in ways):
            continue
        said.add(joint.enters_piece)
        yield _stuck(placement, joint, ways)


def _way(job: Job, placement: Placement, standing: Mapping[str, Solid], bearing: Bearing, own: set[str], way: Direction) -> _Way:
    group = next(group for group in placement.groups if bearing.meeting.joint.enters_piece in group)
    moving = joined(standing[name] for name in group if name in own)
    others = {name: standing[name] for name in group if name not in own}
    index = AXES.index(way.axis)
    out = max(_tip(body, index, way.sign) for body in others.values()) - _front(moving, index, way.sign)
    met = {name: found for name, body in others.items() if (found := blocked(moving, [body], way, max(out, NEAR))) is not None}
    low, high = bearing.seat_spans[way.axis]
    end = (high if way.sign > 0 else low) * way.sign
    piece = standing[bearing.meeting.joint.enters_piece]
    return _Way(way, out, max(end - _tip(piece, index, way.sign), 0.0), met, moving)


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
        words.append(f"towards its {towards} it goes {mm(way.reach)} mm and meets {listed(_first(way))}")
    return Finding(
        "error",
        "cannot-slide",
        joint.name,
        f"{joint.enters_piece} is to slide in {joint.seat}: {'; '.join(words)}.",
        "It neither comes out nor runs the length of its channel.",
        "Leave the channel open at one end, and cut what stands in the way lower or away.",
        joint.place,
        COMMON,
    )


def _first(way: _Way) -> list[str]:
    """What is met first, of several at the same level all."""
    index = AXES.index(way.direction.axis)
    fronts = {name: _front(body, index, way.direction.sign) for name, body in way.met.items()}
    return [name for name, front in fronts.items() if front <= min(fronts.values()) + NEAR]
