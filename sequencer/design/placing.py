"""Joints place the pieces: the first piece stands, a tree of joints in the order of the file places the rest.

Every joint is then measured where the pieces lie: what does not meet is a gap with its size and direction. mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sequencer.design.bodies import body
from sequencer.design.contacts import Meeting, Wish
from sequencer.design.joining import PANEL_FITS, fit_of
from sequencer.design.leaning import leaning
from sequencer.design.placement import Closure, Gap, Placement
from sequencer.design.poses import TURNS, Direction, Pose, Turn, face_towards
from sequencer.design.settling import settled
from sequencer.features.base import NEAR
from sequencer.findings import Finding
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Point, face_at
from sequencer.model.job import Job, Joint
from sequencer.model.once import once_for_a_drawing

MOST_TRIES = 24
"""How many other ways of turning pieces that look the same are tried where joints fail: a bound on the time."""


@dataclass(frozen=True)
class _Open:
    """Why a piece could not be placed yet."""

    turns: tuple[Turn, ...]
    axes: tuple[Axis, ...]
    joint: Joint


def _meetings(job: Job) -> dict[str, Meeting]:
    """The joints between their bodies, firm ones first: those that hold a panel loosely leave room and are no measure."""
    bodies = {name: body(job, piece) for name, piece in job.pieces().items()}
    used: Counter[str] = Counter()
    meetings: dict[str, Meeting] = {}
    for name, joint in job.joints.items():
        entering, other = bodies.get(joint.enters_piece), bodies.get(joint.seat.piece)
        if entering is not None and other is not None and entering is not other:
            meetings[name] = Meeting(joint, entering, other, used[str(joint.seat)], fit_of(job, joint) in PANEL_FITS)
            used[str(joint.seat)] += 1
    return dict(sorted(meetings.items(), key=lambda item: item[1].loose))


@once_for_a_drawing
def place(job: Job) -> Placement:
    """Where the pieces lie. Pieces in no joint stand alone, each in a group of its own."""
    pieces = job.pieces()
    meetings = _meetings(job)
    poses: dict[str, Pose] = {}
    placed_by: list[str] = []
    groups: list[tuple[str, ...]] = []
    unplaced: set[str] = set()
    findings: list[Finding] = []
    for start in pieces:
        if start in poses or start in unplaced:
            continue
        reached = _connected(meetings, start)
        group = _best_group({name: each for name, each in meetings.items() if each.ends[0] in reached}, start)
        poses.update(group.poses)
        placed_by.extend(group.placed_by)
        groups.append(tuple(group.poses))
        unplaced.update(reached - set(group.poses))
        findings.extend(
            _explain(piece, reason, meetings[reason.joint.name], group.poses) for piece, reason in group.stuck.items()
        )
    bodies = {name: body(job, piece) for name, piece in pieces.items()}
    closures = _closures(meetings, poses)
    order = tuple(name for name in pieces if name in unplaced)
    pushed = Placement(poses, bodies, meetings, tuple(groups), tuple(placed_by), closures, order, tuple(findings))
    lies = settled(job, pushed)
    level = replace(pushed, poses=lies, closures=_closures(meetings, lies))
    return replace(level, poses=leaning(job, level))


def _connected(meetings: Mapping[str, Meeting], start: str) -> set[str]:
    """Every piece that joints connect with the first, itself too."""
    reached, todo = {start}, [start]
    while todo:
        here = todo.pop()
        for each in meetings.values():
            if here in each.ends:
                new = set(each.ends) - reached
                reached |= new
                todo.extend(sorted(new))
    return reached


@dataclass
class _Group:
    """Pieces that joints connect, as they are being placed.

    picks
        Turns settled beforehand for pieces that may lie either way.
    either
        Pieces that look the same in several turns, with those turns: the first was taken.
    """

    poses: dict[str, Pose]
    picks: Mapping[str, Turn]
    placed_by: list[str] = field(default_factory=list)
    either: dict[str, tuple[Turn, ...]] = field(default_factory=dict)
    stuck: dict[str, _Open] = field(default_factory=dict)


def _best_group(meetings: Mapping[str, Meeting], start: str) -> _Group:
    """The group of a piece. Where a piece looks the same either way round and joints fail, the other ways are tried, the
    first `MOST_TRIES` of them."""
    best = _grow(meetings, start, {})
    fails = _failing(meetings, best)
    others = [(piece, turn) for piece, turns in best.either.items() for turn in turns[1:]]
    for piece, turn in others[:MOST_TRIES]:
        if not fails:
            break
        other = _grow(meetings, start, {**best.picks, piece: turn})
        if (better := _failing(meetings, other)) < fails:
            best, fails = other, better
    return best


def _failing(meetings: Mapping[str, Meeting], group: _Group) -> int:
    """How many pieces have no place, and how many joints do not close; a panel may be short of its groove."""

    def fails(name: str, closure: Closure) -> bool:
        loose = meetings[name].loose
        return closure.turned or any(abs(gap.amount) > NEAR and not (loose and gap.kind == "contact") for gap in closure.gaps)

    return len(group.stuck) + sum(fails(name, closure) for name, closure in _closures(meetings, group.poses).items())


def _grow(meetings: Mapping[str, Meeting], start: str, picks: Mapping[str, Turn]) -> _Group:
    """Places all that can be placed, in the order of the joints; what is sure goes before what may lie either way."""
    group = _Group({start: Pose()}, picks)
    tried: dict[tuple[str, bool], int] = {}
    """How many joints a piece had to placed ones when they did not say where it goes: it is tried again with more."""

    def added(piece: str, joints: list[Meeting], choose: bool) -> bool:
        if tried.get((piece, choose)) == len(joints):
            return False
        tried[(piece, choose)] = len(joints)
        return _add(group, piece, joints, choose)

    while True:
        reached: dict[str, list[Meeting]] = {}
        for each in meetings.values():
            for piece, other in (each.ends, each.ends[::-1]):
                if piece not in group.poses and other in group.poses:
                    reached.setdefault(piece, []).append(each)
        if not any(added(piece, joints, choose) for choose in (False, True) for piece, joints in reached.items()):
            return group


def _add(group: _Group, piece: str, joints: list[Meeting], choose: bool) -> bool:
    """Places a piece if its joints to placed pieces say where; else notes what is missing."""
    result = _pose_of(piece, joints, group, choose)
    if isinstance(result, _Open):
        group.stuck[piece] = result
        return False
    group.poses[piece], used = result
    group.placed_by.extend(used)
    group.stuck.pop(piece, None)
    return True


def _relative(each: Meeting, piece: str, turn: Turn, poses: Mapping[str, Pose]) -> Turn:
    """The entering piece's turn in the frame of the other, if `piece` is turned so."""
    entering, other = each.ends
    first = Pose(turn) if piece == entering else poses[entering]
    second = Pose(turn) if piece == other else poses[other]
    x, y, z = (second.own(direction) for direction in first.turn)
    return x, y, z


def _pose_of(piece: str, joints: list[Meeting], group: _Group, choose: bool) -> tuple[Pose, list[str]] | _Open:
    """The pose that the joints to placed pieces give, with the joints that gave it.

    Joints speak in the order of the file; one that contradicts those before it is left to be measured. `choose` settles
    turns that differ in nothing: a plain block can go in either way round.
    """
    poses = group.poses
    ranks: dict[Turn, int] = dict.fromkeys(TURNS, 0)
    used: list[str] = []
    for each in joints:
        alone = {turn: each.rank(_relative(each, piece, turn, poses)) for turn in TURNS}
        if all(rank is None for rank in alone.values()):
            return _Open((), (), each.joint)
        allowed = {turn: ranks[turn] + rank for turn, rank in alone.items() if rank is not None and turn in ranks}
        if allowed and len(allowed) < len(ranks):
            ranks = allowed
            used.append(each.joint.name)
    turns = tuple(turn for turn, rank in ranks.items() if rank == min(ranks.values()))
    for each in joints:
        misfits = {turn: round(each.misfit(_relative(each, piece, turn, poses)), 3) for turn in turns}
        turns = tuple(turn for turn in turns if misfits[turn] == min(misfits.values()))
    agrees = {turn: sum(each.agrees(_relative(each, piece, turn, poses)) for each in joints) for turn in turns}
    turns = tuple(turn for turn in turns if agrees[turn] == max(agrees.values()))
    own = joints[0].entering if joints[0].ends[0] == piece else joints[0].other
    if len(turns) > 1 and not (choose and len({own.outline(turn) for turn in turns}) == 1):
        return _Open(turns, (), joints[0].joint)
    turn = turns[0]
    if len(turns) > 1:
        group.either[piece] = turns
        turn = group.picks.get(piece, turn)
    moved: dict[Axis, float] = {}
    for firmness in range(3):
        for each in joints:
            relative = _relative(each, piece, turn, poses)
            if each.rank(relative) is None:
                continue
            for wish in each.wishes(relative):
                axis, shift = _in_group(each, piece, turn, wish, poses)
                if wish.firmness == firmness and axis not in moved:
                    moved[axis] = shift
                    if each.joint.name not in used:
                        used.append(each.joint.name)
    missing = tuple(axis for axis in AXES if axis not in moved)
    if missing:
        return _Open((turn,), missing, joints[0].joint)
    return Pose(turn, Point(moved["x"], moved["y"], moved["z"])), used


def _in_group(each: Meeting, piece: str, turn: Turn, wish: Wish, poses: Mapping[str, Pose]) -> tuple[Axis, float]:
    """A wish as the shift of `piece` along an axis of the group."""
    entering, other = each.ends
    if piece == entering:
        there = poses[other].direction(Direction(wish.axis, 1))
        return there.axis, poses[other].shift[AXES.index(there.axis)] + there.sign * wish.moved
    there = Pose(turn).direction(Direction(wish.axis, 1))
    return there.axis, poses[entering].shift[AXES.index(there.axis)] - there.sign * wish.moved


def _closures(meetings: Mapping[str, Meeting], poses: Mapping[str, Pose]) -> dict[str, Closure]:
    return {name: _closure(each, poses) for name, each in meetings.items() if set(each.ends) <= set(poses)}


def _closure(each: Meeting, poses: Mapping[str, Pose]) -> Closure:
    """The joint measured where its pieces lie."""
    entering, other = (poses[name] for name in each.ends)
    x, y, z = (other.own(direction) for direction in entering.turn)
    if each.rank((x, y, z)) is None:
        return Closure(each.joint.name, (), turned=True)
    gaps = []
    for wish in each.wishes((x, y, z)):
        if wish.kind == "equal":
            continue
        there = other.direction(Direction(wish.axis, 1))
        index = AXES.index(there.axis)
        moved = (entering.shift[index] - other.shift[index]) * there.sign
        off = (moved - wish.moved) * wish.looks.sign
        off = max(abs(off) - wish.slack, 0.0) * (1 if off > 0 else -1)
        gaps.append(Gap(wish.kind, face_towards(wish.looks), 0.0 if abs(off) < NEAR else off))
    return Closure(each.joint.name, tuple(gaps))


def _explain(piece: str, reason: _Open, each: Meeting, poses: Mapping[str, Pose]) -> Finding:
    """Why a piece has no place, and what to add to the joint that comes first for it."""
    joint = each.joint
    entering, other = each.ends
    against = other if piece == entering else entering

    def says(code: str, what: str, why: str, remedy: str) -> Finding:
        return Finding("error", code, joint.name, what, why, remedy, joint.place, "")

    if each.mitred and each.corners is None:
        return says(
            "mitre-not-placed",
            f"{joint.its} and {joint.seat} are mitres of different angles or not of 45 degrees, so {piece} has no place.",
            "Only corners of two pieces at right angles, mitred at 45 degrees, can be placed.",
            "Correct the angles, or give the pieces another joint and note the angle for staff.",
        )
    if not each.can_bear:
        return says(
            "joint-unclear",
            f"{joint.its} and {joint.seat} cannot bear on each other, so {piece} has no place.",
            "A joint needs a face, or a feature that the piece has on this hand.",
            "Correct what the joint names.",
        )
    if not reason.turns:
        return says(
            "joint-contradicts",
            f"No way of laying {piece} against {against} does all that the joint says.",
            "The faces in contact and those in flush or align cannot all look as asked.",
            "Check which face bears, and which faces are to look the same way.",
        )
    if len(reason.turns) > 1:
        return says(
            "joint-undecided",
            f"It does not say which way round {piece} lies against {against}: {len(reason.turns)} ways are left.",
            "Its features may face the wrong way.",
            f"Add flush: {{face of {entering}: face of {other}}} for two faces in one plane, or align for two faces that only "
            "look the same way.",
        )
    words = [_along(axis, against, poses[against]) for axis in reason.axes]
    faces = [face_at(poses[against].own(Direction(axis, 1)).axis, False) for axis in reason.axes]
    return says(
        "joint-undecided",
        f"It does not say where {piece} lies along {' and '.join(words)}.",
        "Without a place nothing can be measured.",
        f"Add flush for faces in one plane, or a distance such as at: {{{faces[0]}: 20}}.",
    )


def _along(axis: Axis, piece: str, pose: Pose) -> str:
    return f"the {AXIS_WORDS[pose.own(Direction(axis, 1)).axis]} of {piece}"
