"""What the shapes and the glue ask of the order in which joints are made, where the drawing leaves it open.

Of what is glued in one go nothing is moved wet, and there is no more of it than the glue stays open for: else frames that lie
flat are glued first and joined when they have set. A piece that would be shut out goes in with what closes round it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import inf

from sequencer.design.placement import Placement
from sequencer.findings import Finding
from sequencer.model.frame import AXES
from sequencer.model.job import Job, Joint
from sequencer.planning.closing import Closing, inside, joints_of, out_of, pieces_in
from sequencer.planning.groups import fixing_of
from sequencer.planning.limits import right_of, value_of
from sequencer.planning.shop import Shop
from sequencer.reading.words import listed
from sequencer.solid.blocking import Blocking
from sequencer.solid.disassembly import Disassembly, Locked, Move

SOURCE = "common practice"


@dataclass(frozen=True)
class Wait:
    """What is asked of the order of joints.

    waits
        Joints that wait for others: (joint, the one before) to the sentence why.
    together
        Joints that are made in one go with another one.
    """

    waits: Mapping[tuple[str, str], str] = field(default_factory=dict)
    together: Mapping[str, str] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    def holds(self, other: Wait) -> bool:
        """Whether the other asks for nothing new."""
        return other.waits.keys() <= self.waits.keys() and other.together.keys() <= self.together.keys()

    def and_also(self, other: Wait) -> Wait:
        """What both ask."""
        return Wait({**self.waits, **other.waits}, {**self.together, **other.together}, (*self.findings, *other.findings))


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


def must_wait(job: Job, found: Sequence[Closing], most: float, placement: Placement, blocking: Blocking) -> Wait | None:
    """The first thing that is asked so that each group closes, no wet joint is moved, and the glue stays open for all of it."""
    for number, closing in enumerate(found):
        if closing.locked is not None:
            more = _with_what_closes(job, closing, found[:number], blocking) or _shut_out(job, closing, blocking)
        elif closing.carried_wet:
            more = _flat_frames(job, closing, placement, blocking, most) or _set_first(closing, most)
        elif closing.group.fixing == "glue" and len(joints_of(closing)) > most:
            more = _flat_frames(job, closing, placement, blocking, most) or _in_two(closing, int(most))
        else:
            more = None
        if more is not None:
            return more
    return None


def _first(early: Sequence[Joint], late: Sequence[Joint], why: str, about: str, because: str, remedy: str = "") -> Wait:
    """Some joints are made first, and the others wait for them."""
    note = Finding("note", "glued-in-two", about, why, because, remedy, late[0].place if late else None, SOURCE)
    return Wait({(one.name, two.name): why for one in late for two in early}, {}, (note,))


def _flat_frames(job: Job, closing: Closing, placement: Placement, blocking: Blocking, most: float) -> Wait | None:
    """The joints that close along one axis wait: the others make frames that lie flat, each glued and set by itself. Of two ways
    the one whose first frames are the smaller."""
    joints = joints_of(closing)
    ways = {joint.name: out_of(joint, placement) for joint in joints}
    if any(way is None for way in ways.values()):
        return None
    found: list[tuple[float, float, list[Joint], list[Joint]]] = []
    for axis in AXES:
        late = [joint for joint in joints if (way := ways[joint.name]) is not None and way.axis == axis]
        early = [joint for joint in joints if joint not in late]
        if not late or not early or max(len(late), len(early)) > most:
            continue
        frames = _frames(closing, early)
        singly = (_order(closing, blocking, {body: (body,) for body in frame}) for frame in frames)
        then = _order(closing, blocking, {frame[0]: frame for frame in frames})
        if all(_one_by_one(moves) for moves in (*singly, then)):
            size = sum(job.part_of(joint.enters_piece).length for joint in early)
            found.append((max(len(late), len(early)), size, early, late))
    if not found:
        return None
    _, _, early, late = min(found, key=lambda each: each[:2])
    frames = [frame for frame in _frames(closing, early) if len(frame) > 1]
    number = "One frame is" if len(frames) == 1 else "Two frames are" if len(frames) == 2 else f"{len(frames)} frames are"
    why = f"{number} glued first and left until the glue has set; then the rest is glued to them."
    because = (
        f"It has {len(joints)} joints, and the glue stays open for {most:g}."
        if len(joints) > most
        else "A frame that must be carried to its place is moved, and a joint that is moved while it is wet opens."
    )
    return _first(early, late, why, closing.group.name, because)


def _frames(closing: Closing, joints: Sequence[Joint]) -> list[tuple[str, ...]]:
    """The bodies of a closing that some joints make one."""
    own = {piece: body for body, pieces in closing.bodies.items() for piece in pieces}
    frame_of: dict[str, tuple[str, ...]] = {body: (body,) for body in closing.bodies}
    for joint in joints:
        one, two = own[joint.enters_piece], own[joint.seat.piece]
        if frame_of[one] != frame_of[two]:
            both = tuple(body for body in closing.bodies if body in (*frame_of[one], *frame_of[two]))
            frame_of |= dict.fromkeys(both, both)
    return list(dict.fromkeys(frame_of.values()))


def _order(closing: Closing, blocking: Blocking, frames: Mapping[str, Sequence[str]]) -> tuple[Move, ...] | Locked:
    """How frames, each of several bodies of a closing, come together."""
    bodies = {name: tuple(piece for body in frame for piece in closing.bodies[body]) for name, frame in frames.items()}
    return Disassembly(blocking, bodies).order()


def _one_by_one(moves: tuple[Move, ...] | Locked) -> bool:
    return not isinstance(moves, Locked) and not any(move.carried for move in moves)


def _set_first(closing: Closing, most: float) -> Wait:
    """The joints inside a set that is carried to its place come first and set; those that close round it wait."""
    move = closing.carried_wet[0]
    moved, there = (pieces_in(closing, bodies) for bodies in (move.bodies, move.onto))
    joints = joints_of(closing)
    early = [joint for joint in joints if inside(joint, moved) or inside(joint, there)]
    if len(early) > most:
        early = [joint for joint in joints if inside(joint, moved)]
    late = [joint for joint in joints if joint not in early]
    names = listed(tuple(move.bodies))
    why = f"{names} can only go in as one: they are glued first and left until the glue has set."
    return _first(early, late, why, closing.group.name, "A joint that is moved while it is wet opens.")


def _in_two(closing: Closing, most: int) -> Wait | None:
    """As many of the pieces as the glue stays open for are joined first; the rest goes in when they have set."""
    joints = joints_of(closing)
    for number in range(len(closing.moves) - 1, 0, -1):
        move = closing.moves[number - 1]
        there = pieces_in(closing, (*move.bodies, *move.onto))
        early = [joint for joint in joints if inside(joint, there)]
        late = [joint for joint in joints if joint not in early]
        if 0 < len(early) <= most and any(fixing_of(joint) == "glue" for joint in late):
            why = f"The glue stays open for {most} joints and this has {len(joints)}: it is glued in two goes."
            because = "Glue that has skinned over before the joint closes does not hold."
            remedy = "For one go take a glue that stays open longer."
            return _first(early, late, why, closing.group.name, because, remedy)
    return None


def _with_what_closes(job: Job, closing: Closing, before: Sequence[Closing], blocking: Blocking) -> Wait | None:
    """What is glued in, and would be shut out by an earlier glue-up, is glued in the same go; not where the drawing says when."""
    own = joints_of(closing)
    if closing.group.fixing not in ("glue", "fit-dry") or any(joint.after for joint in own):
        return None
    pieces = pieces_in(closing, closing.bodies)
    for earlier in reversed(before):
        closed = joints_of(earlier)
        if earlier.group.fixing != "glue" or not pieces_in(earlier, earlier.bodies) <= pieces:
            continue
        all_pieces = {piece: (piece,) for piece in job.pieces() if piece in pieces}
        if _one_by_one(Disassembly(blocking, all_pieces, _meet([*own, *closed])).order()):
            names, name = listed([joint.name for joint in own]), earlier.group.name.replace("-", " ")
            note = Finding(
                "note",
                "goes-in-with",
                closing.group.name,
                f"{names} close in the same go as {name}.",
                f"When {name} is closed, {listed(sorted({joint.enters_piece for joint in own}))} cannot go in any more.",
                place=own[0].place,
                source=SOURCE,
            )
            return Wait({}, {joint.name: closed[0].name for joint in own}, (note,))
    return None


def _meet(joints: Sequence[Joint]) -> Collection[frozenset[str]]:
    return {frozenset((joint.enters_piece, joint.seat.piece)) for joint in joints}


def _shut_out(job: Job, closing: Closing, blocking: Blocking) -> Wait | None:
    """Joints in the order in which the pieces go together one by one, where the groups have closed in another."""
    pieces = [piece for piece in job.pieces() if piece in pieces_in(closing, closing.bodies)]
    joints = [joint for joint in job.joints.values() if inside(joint, pieces)]
    moves = Disassembly(blocking, {piece: (piece,) for piece in pieces}, _meet(joints)).order()
    if isinstance(moves, Locked) or not _one_by_one(moves):
        return None
    moment = dict.fromkeys(pieces, 0) | {move.bodies[0]: number for number, move in enumerate(moves, 1)}
    own = {joint.name for joint in joints_of(closing)}
    waits = dict(_in_their_turn(joints, moment, own))
    return Wait(waits) if waits else None


def _in_their_turn(
    joints: Sequence[Joint], moment: Mapping[str, int], own: Collection[str]
) -> Iterator[tuple[tuple[str, str], str]]:
    """Of the joints of a group and those of others, which waits for which by the moments at which their pieces go in."""
    closes = {joint.name: max(moment[joint.enters_piece], moment[joint.seat.piece]) for joint in joints}
    for late in joints:
        for early in joints:
            if closes[early.name] >= closes[late.name] or (late.name in own) == (early.name in own):
                continue
            why = (
                f"{late.enters_piece} goes in when {early.enters_piece} is in."
                if late.name in own
                else f"{early.enters_piece} goes in before {late.enters_piece} and {late.seat.piece} close round it."
            )
            yield (late.name, early.name), why
