"""How the pieces of each group of joints come together: what is brought to what, in which order and which way, by the shapes.

What is joined before is one body.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, normal
from sequencer.design.standing import up_of
from sequencer.model.frame import AXES, Point, opposite
from sequencer.model.job import Job, Joint
from sequencer.planning.at_the_bench import told_moves
from sequencer.planning.groups import Group, fixing_of
from sequencer.planning.moments import ShutIn
from sequencer.solid.blocking import Blocking
from sequencer.solid.disassembly import Disassembly, Locked, Move


@dataclass(frozen=True)
class Closing:
    """How the pieces of a group come together in one of its alike sub-assemblies.

    bodies
        What is brought together, each of one or several pieces that earlier groups have joined, by the name of its first.
    moves
        In the order they are made; empty where they cannot be.
    told
        The moves as the card tells them: down where they can be.
    locked
        What locks them, where they cannot.
    """

    group: Group
    bodies: Mapping[str, tuple[str, ...]]
    moves: tuple[Move, ...] = ()
    told: tuple[Move, ...] = ()
    locked: Locked | None = None

    @property
    def carried_wet(self) -> tuple[Move, ...]:
        """Moves that would carry several bodies with wet glue between them."""
        return tuple(move for move in self.moves if move.carried and self.group.fixing == "glue")


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
            found = Disassembly(blocking, bodies, meet, _outward(group, name, placement), _glued(group, name, placement)).order()
            if isinstance(found, Locked):
                yield Closing(group, bodies, locked=found)
            else:
                up = up_of(placement, next((each for each in placement.groups if whole[0] in each), whole))
                yield Closing(group, bodies, found, told_moves(found, bodies, meet, blocking, up))
        body_of = after


def shapes_shut_in(blocking: Blocking) -> ShutIn:
    """The shapes, asked whether a piece cannot be brought to its place any more once others are joined. What has no place shuts
    nothing in and is not shut in."""
    known: dict[tuple[str, frozenset[str]], bool] = {}

    def shut_in(piece: str, joined: Collection[str]) -> bool:
        there = tuple(each for each in blocking.standing if each in joined)
        question = (piece, frozenset(there))
        if question not in known:
            alone = piece not in blocking.standing or not there
            known[question] = not alone and not Disassembly(blocking, {piece: (piece,), there[0]: there}).comes_away(
                piece, there[:1]
            )
        return known[question]

    return shut_in


def _outward(group: Group, name: Mapping[str, str], placement: Placement) -> dict[tuple[str, str], Point]:
    """The way each body comes away from each other by their joints: what enters away from the face that leads, else as its seat
    looks, and what is entered the other way."""
    found: dict[tuple[str, str], list[float]] = {}
    for joint in group.joints:
        way = out_of(joint, placement)
        if way is None or joint.enters_piece not in name or joint.seat.piece not in name:
            continue
        own, other = name[joint.enters_piece], name[joint.seat.piece]
        for pair, sign in (((own, other), 1), ((other, own), -1)):
            found.setdefault(pair, [0.0, 0.0, 0.0])[AXES.index(way.axis)] += sign * way.sign
    return {pair: Point(*way) for pair, way in found.items() if any(way)}


def _glued(group: Group, name: Mapping[str, str], placement: Placement) -> set[frozenset[str]]:
    """Pairs of bodies of which one is glued into a seat of the other. A rebate is open at the corner: nothing slides along it."""
    return {
        frozenset((name[joint.enters_piece], name[joint.seat.piece]))
        for joint in group.joints
        if joint.enters_piece in name and joint.seat.piece in name and fixing_of(joint) == "glue"
        if (seat := placement.bodies[joint.seat.piece].part.features.get(joint.seat.feature)) and seat.kind != "rebate"
    }


def out_of(joint: Joint, placement: Placement) -> Direction | None:
    """The way the entering piece of a joint comes out: away from its face that leads, else as its seat looks."""
    if joint.its.face is not None and joint.enters_piece in placement.poses:
        (face,) = placement.bodies[joint.enters_piece].faces((joint.its.face,))
        return placement.poses[joint.enters_piece].direction(normal(opposite(face)))
    bearing = placement.bearing(joint.name)
    return None if bearing is None else bearing.looks


def _as_drawn(job: Job, pieces: Sequence[str]) -> tuple[str, ...]:
    return tuple(piece for piece in job.pieces() if piece in pieces)


def joints_of(closing: Closing) -> list[Joint]:
    """The joints of its group that a closing makes."""
    pieces = {piece for own in closing.bodies.values() for piece in own}
    return [joint for joint in closing.group.joints if {joint.enters_piece, joint.seat.piece} <= pieces]


def pieces_in(closing: Closing, bodies: Iterable[str]) -> set[str]:
    """The pieces of some bodies of a closing."""
    return {piece for body in bodies for piece in closing.bodies[body]}


def inside(joint: Joint, pieces: Collection[str]) -> bool:
    """Whether a joint connects two of some pieces."""
    return joint.enters_piece in pieces and joint.seat.piece in pieces
