"""The groups of joints held against the shapes: in which order the pieces of each group go in, which way, and whether they can.

What is joined before is one body. Where the drawing leaves the order open and the groups, made by kind of fixing, cannot be
closed one after the other, joints wait for others as the shapes demand. A set that is still wet is never carried to its place,
and no more joints are glued in one go than the glue stays open for: such a glue-up is made in two, the first of which sets first.
What no order puts together is refused.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from sequencer.design.joining import listed
from sequencer.design.placing import Placement, place
from sequencer.design.poses import Direction, normal
from sequencer.findings import Finding, Refused
from sequencer.model.frame import AXES, Point, opposite
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import Group, fixing_of, joint_groups
from sequencer.planning.limits import right_of, value_of
from sequencer.planning.shop import Shop
from sequencer.solid.blocking import Blocking
from sequencer.solid.disassembly import Disassembly, Locked, Move
from sequencer.solid.going_in import blocking_of
from sequencer.solid.locking import stops_said

SOURCE = "common practice"


@dataclass(frozen=True)
class Closing:
    """How the pieces of a group come together in one of its alike sub-assemblies.

    bodies
        What is brought together, each of one or several pieces that earlier groups have joined, by the name of its first.
    moves
        In the order they are made; empty where they cannot be.
    locked
        What locks them, where they cannot.
    """

    group: Group
    bodies: Mapping[str, tuple[str, ...]]
    moves: tuple[Move, ...] = ()
    locked: Locked | None = None

    @property
    def carried_wet(self) -> tuple[Move, ...]:
        """Moves that would carry several bodies with wet glue between them."""
        return tuple(move for move in self.moves if move.carried and self.group.fixing == "glue")


@dataclass(frozen=True)
class Assembly:
    """The groups in an order that the shapes allow, how each closes, and what is to be said of it."""

    groups: tuple[Group, ...]
    closings: tuple[Closing, ...]
    findings: tuple[Finding, ...] = ()


def assembled(job: Job, most: float = inf) -> Assembly:
    """The groups of a job, each of which can be closed in its turn; `most` joints can be glued in one go.

    Raises Refused as `joint_groups` does. What cannot be closed whatever waits for what is an error among the findings.
    """
    placement = place(job)
    blocking = blocking_of(job, placement)
    waits: dict[tuple[str, str], str] = {}
    said: list[Finding] = []
    groups = joint_groups(job)
    while True:
        found = tuple(closings(job, groups, placement, blocking))
        more = next((each for closing in found if (each := _must_wait(job, closing, found, most, placement, blocking))), None)
        if more is None or not more.waits.keys() - waits.keys():
            break
        try:
            groups = joint_groups(job, {**waits, **more.waits})
        except Refused:
            # The drawing itself asks for another order: what is then locked is said below.
            break
        waits |= more.waits
        said += more.findings
    locked = [closing for closing in found if closing.locked is not None]
    return Assembly(groups, found, (*said, *(locked_finding(job, closing, placement) for closing in locked)))


def most_joints(shop: Shop) -> float:
    """How many joints the workshop's gluing operations allow in one glue-up with the job's glue: the most of them; without end
    if none says."""
    most = []
    for kind, _, operation in shop.makers.get("glue", ()):
        for station in shop.stations.get(kind.station, ()):
            figures = {**shop.station_figures(kind, station), **shop.common_figures, **shop.glue_figures}
            for limit in operation.limits:
                comparison, right = right_of(limit)
                value = value_of(right, figures) if set(right.names) <= figures.keys() else None
                if limit.of == "joint.count" and comparison == "at_most" and value is not None:
                    most.append(value)
    return max(most, default=inf)


@dataclass(frozen=True)
class _Wait:
    """Joints that must wait for others, with the sentence why, and what is to be said of it."""

    waits: Mapping[tuple[str, str], str]
    findings: tuple[Finding, ...] = ()


def _must_wait(
    job: Job, closing: Closing, all_of: Sequence[Closing], most: float, placement: Placement, blocking: Blocking
) -> _Wait | None:
    """What must wait so that a group closes, none of it is moved wet, and the glue stays open for all of it."""
    if closing.locked is not None:
        return _shut_out(job, closing, placement, blocking)
    if closing.carried_wet:
        return _set_first(job, closing)
    if closing.group.fixing == "glue" and len(_joints_of(closing)) > most:
        return _in_two(job, closing, int(most))
    return None


def _joints_of(closing: Closing) -> list[Joint]:
    """The joints of its group that a closing makes."""
    pieces = {piece for own in closing.bodies.values() for piece in own}
    return [joint for joint in closing.group.joints if {joint.enters_piece, joint.seat.piece} <= pieces]


def _pieces_in(closing: Closing, bodies: Iterable[str]) -> set[str]:
    return {piece for body in bodies for piece in closing.bodies[body]}


def _inside(joint: Joint, pieces: Collection[str]) -> bool:
    return joint.enters_piece in pieces and joint.seat.piece in pieces


def _set_first(job: Job, closing: Closing) -> _Wait:
    """The joints inside a set that is carried to its place come first and set; those that close round it wait."""
    move = closing.carried_wet[0]
    moved, there = (_pieces_in(closing, bodies) for bodies in (move.bodies, move.onto))
    joints = _joints_of(closing)
    early = [joint for joint in joints if _inside(joint, moved) or _inside(joint, there)]
    late = [joint for joint in joints if joint not in early]
    names = listed(tuple(move.bodies))
    why = f"{names} go in as one: their joint sets first, for no wet joint is moved."
    note = Finding(
        "note",
        "glued-in-two",
        closing.group.name,
        f"{names} can only go in as one, so they are glued first and left until the glue has set.",
        "A joint that is moved while it is wet opens.",
        place=late[0].place if late else None,
        source=SOURCE,
    )
    return _Wait({(one.name, two.name): why for one in late for two in early}, (note,))


def _in_two(job: Job, closing: Closing, most: int) -> _Wait | None:
    """As many of the pieces as the glue stays open for are joined first; the rest goes in when they have set."""
    joints = _joints_of(closing)
    for number in range(len(closing.moves) - 1, 0, -1):
        move = closing.moves[number - 1]
        first = _pieces_in(closing, (*move.bodies, *move.onto))
        early = [joint for joint in joints if _inside(joint, first)]
        late = [joint for joint in joints if joint not in early]
        if 0 < len(early) <= most and any(fixing_of(joint) == "glue" for joint in late):
            break
    else:
        return None
    why = f"The glue stays open for {most} joints and this has {len(joints)}: it is glued in two goes."
    note = Finding(
        "note",
        "glued-in-two",
        closing.group.name,
        f"{closing.group.name} has {len(joints)} joints, and the glue stays open for {most}: it is glued in two goes, "
        f"{listed([joint.name for joint in early])} first.",
        "Glue that has skinned over before the joint closes does not hold.",
        "For one go take a glue that stays open longer.",
        late[0].place,
        SOURCE,
    )
    return _Wait({(one.name, two.name): why for one in late for two in early}, (note,))


def _shut_out(job: Job, closing: Closing, placement: Placement, blocking: Blocking) -> _Wait | None:
    """Joints in the order in which the pieces go together one by one, where the groups have closed in another."""
    pieces = [piece for piece in job.pieces() if piece in _pieces_in(closing, closing.bodies)]
    joints = [joint for joint in job.joints.values() if _inside(joint, pieces)]
    meet = {frozenset((joint.enters_piece, joint.seat.piece)) for joint in joints}
    moves = Disassembly(blocking, {piece: (piece,) for piece in pieces}, meet).order()
    if isinstance(moves, Locked) or any(move.carried for move in moves):
        return None
    moment = dict.fromkeys(pieces, 0) | {move.bodies[0]: number for number, move in enumerate(moves, 1)}
    closes = {joint.name: max(moment[joint.enters_piece], moment[joint.seat.piece]) for joint in joints}
    own = {joint.name for joint in _joints_of(closing)}
    waits = {}
    for late in joints:
        for early in joints:
            if late.name not in own and early.name in own and closes[early.name] < closes[late.name]:
                waits[late.name, early.name] = (
                    f"{early.enters_piece} goes in before {late.enters_piece} and {late.seat.piece} close round it."
                )
            if late.name in own and early.name not in own and closes[early.name] < closes[late.name]:
                waits[late.name, early.name] = f"{late.enters_piece} goes in when {early.enters_piece} is in."
    return _Wait(waits) if waits else None


def locked_finding(job: Job, closing: Closing, placement: Placement) -> Finding:
    """The refusal of what cannot be closed: which pieces lock each other, and what stops each on every way."""
    locked = closing.locked
    if locked is None:
        raise ValueError(f"{closing.group.name} is not locked")
    joint = next((each for each in _joints_of(closing) if each.enters_piece in _pieces_in(closing, locked.bodies)), None)
    return Finding(
        "error",
        "locked",
        closing.group.name,
        f"{listed(tuple(locked.bodies))} lock each other: when {words_of(closing)} is closed, none of them can be brought to "
        "its place.",
        " ".join(stops_said(locked, placement)),
        "Open one of the seats at an end, make one of the pieces in two, or let the last one in before the others are joined "
        "(`after`). `sequencer show` with `--locked` draws them.",
        joint.place if joint else None,
        SOURCE,
    )


def words_of(closing: Closing) -> str:
    """The name of a closing's group, as text."""
    return closing.group.name.replace("-", " ")


def closings(job: Job, groups: Sequence[Group], placement: Placement, blocking: Blocking) -> Iterator[Closing]:
    """How each group closes, in the order of the groups. Pieces without a place are left out."""
    body_of: dict[str, tuple[str, ...]] = {piece: (piece,) for piece in job.pieces() if piece in blocking.standing}
    for group in groups:
        ends = [
            (joint.enters_piece, joint.seat.piece)
            for joint in group.joints
            if joint.enters_piece in body_of and joint.seat.piece in body_of
        ]
        after = dict(body_of)
        for one, two in ends:
            if after[one] != after[two]:
                both = _as_drawn(job, (*after[one], *after[two]))
                after |= dict.fromkeys(both, both)
        for whole in dict.fromkeys(after.values()):
            bodies = {own[0]: own for own in dict.fromkeys(body_of[piece] for piece in whole)}
            if len(bodies) < 2:
                continue
            name = {piece: first for first, own in bodies.items() for piece in own}
            meet = {frozenset((name[one], name[two])) for one, two in ends if one in name and two in name}
            found = Disassembly(blocking, bodies, meet, _outward(group, bodies, name, placement)).order()
            if isinstance(found, Locked):
                yield Closing(group, bodies, locked=found)
            else:
                yield Closing(group, bodies, found)
        body_of = after


def _outward(
    group: Group, bodies: Mapping[str, Sequence[str]], name: Mapping[str, str], placement: Placement
) -> dict[str, Point]:
    """The way each body that enters comes out of its seats, all together: away from the face that leads, else as these look."""
    found = {body: [0.0, 0.0, 0.0] for body in bodies}
    for joint in group.joints:
        way = _out_of(joint, placement)
        if joint.enters_piece in name and way is not None:
            found[name[joint.enters_piece]][AXES.index(way.axis)] += way.sign
    return {body: Point(*way) for body, way in found.items() if any(way)}


def _out_of(joint: Joint, placement: Placement) -> Direction | None:
    if joint.its.face is not None and joint.enters_piece in placement.poses:
        (face,) = placement.bodies[joint.enters_piece].faces((joint.its.face,))
        return placement.poses[joint.enters_piece].direction(normal(opposite(face)))
    bearing = placement.bearing(joint.name)
    return None if bearing is None else bearing.looks


def _as_drawn(job: Job, pieces: Sequence[str]) -> tuple[str, ...]:
    return tuple(piece for piece in job.pieces() if piece in pieces)
