"""At which moment joints are made: what must come before them, what goes in with what, and which pieces a group shuts in."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field

from sequencer.design.joining import MOVING_FITS, fit_of
from sequencer.findings import Finding, Refused
from sequencer.model.frame import Axis, axis_of
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import assembly_of, fixing_of, kept_in

Key = tuple[str, str, int]
"""What makes joints one group: sub-assembly, fixing, and how many groups must come before."""


ShutIn = Callable[[str, Collection[str]], bool]
"""Whether a piece cannot be brought to its place any more once these others are joined."""


@dataclass
class Moments:
    """The moment of every joint; the pieces that can only go in before a group closes; the joints moved to another's moment."""

    keys: dict[str, Key]
    captured: dict[Key, list[str]] = field(default_factory=dict)
    moved: set[str] = field(default_factory=set)

    def move(self, name: str, moment: Key) -> None:
        """Makes a joint in another's moment."""
        self.keys[name] = moment
        self.moved.add(name)


def moments(job: Job, levels: dict[str, int], together: Mapping[str, str], shut_in: ShutIn | None) -> Moments:
    """The moment of every joint, the pieces that go in as a group closes, and the joints moved to another's moment. `levels`: how
    many groups must come before each joint; `together`: the joints that are made with another one's group. Refused if a piece is
    to go in after what shuts it in."""
    found = Moments(
        {name: (joint.assembly or assembly_of(job, name), fixing_of(joint), levels[name]) for name, joint in job.joints.items()}
    )
    for name, other in together.items():
        found.move(name, found.keys[other])
    _with_what_is_fixed(job, found)
    _kept_in_one_go(job, levels, found)
    for piece, seats in _held_between(job).items():
        closing = _closing_key(job, seats, found.keys)
        if closing is not None:
            _put_in(job, piece, seats, closing, found, shut_in)
    return found


def _with_what_is_fixed(job: Job, found: Moments) -> None:
    """What only bears there when it is fixed elsewhere: one movement, one step."""
    joints = job.joints
    for name, joint in joints.items():
        fixed = next((found.keys[other] for other in found.keys if _fixes(joints[other], joint.enters_piece)), None)
        if fixed and found.keys[name][1] == "fit-dry" and not joint.after and not joint.crossing:
            found.move(name, fixed)


def _kept_in_one_go(job: Job, levels: Mapping[str, int], found: Moments) -> None:
    """What only lies there is laid in and kept in one go: between lessons it would fall out."""
    for name, keepers in kept_in(job).items():
        first = max((levels[before] + 1 for before in job.joints[name].after), default=0)
        moment = (*found.keys[keepers[0]][:2], max(first + 1, *(found.keys[keeper][2] for keeper in keepers)))
        found.keys |= dict.fromkeys((name, *keepers), moment)
        found.moved.add(name)


def _put_in(job: Job, piece: str, seats: Sequence[Joint], closing: Key, found: Moments, shut_in: ShutIn | None) -> None:
    """When a piece that is held between others goes in: as the group closes that shuts it in; in one go into all its seats
    where the drawing has it come later; else as the group closes too, for nothing demands it later and it keeps what is glued
    square. What moves goes in after that."""
    own = [joint for joint in seats if not joint.after]
    late = [joint for joint in seats if joint.after]
    shut = bool(own) if shut_in is None else shut_in(piece, _joined_by(job, piece, seats, found.keys, closing))
    if shut:
        if late and shut_in is not None:
            raise Refused([_captive_finding(job, piece, seats)])
        found.captured.setdefault(closing, []).append(piece)
        moment = closing
    elif late:
        moment = max((found.keys[joint.name] for joint in late), key=lambda key: key[2])
    elif not any(fit_of(job, joint) in MOVING_FITS for joint in own):
        moment = closing
    else:
        for joint in own:
            name, fixing, level = found.keys[joint.name]
            found.keys[joint.name] = (name, fixing, max(level, closing[2]))
        return
    for joint in own:
        found.move(joint.name, moment)


def level_of(joint: Joint, found: Moments) -> int:
    """One more than anything it comes after, but for what goes in as its own group closes."""
    own = found.keys[joint.name]
    before = (found.keys[each] for each in joint.after if each not in found.moved or found.keys[each] != own)
    return max((own[2], *(key[2] + 1 for key in before)))


def _joined_by(job: Job, piece: str, seats: Sequence[Joint], keys: Mapping[str, Key], closing: Key) -> frozenset[str]:
    """What is one with the pieces that a piece sits in when a group has closed round it."""
    done = [
        {joint.enters_piece, joint.seat.piece}
        for joint in job.joints.values()
        if joint not in seats and (keys[joint.name][2], kind_rank(keys[joint.name])) <= (closing[2], kind_rank(closing))
    ]
    there = {joint.seat.piece for joint in seats}
    while more := {each for ends in done if ends & there for each in ends} - there - {piece}:
        there |= more
    return frozenset(there)


def _fixes(joint: Joint, piece: str) -> bool:
    return joint.enters_piece == piece and fixing_of(joint) != "fit-dry"


def _held_between(job: Job) -> dict[str, list[Joint]]:
    """Pieces that enter two or more others without being fixed there: panels, bottoms, loose bars."""
    seats: dict[str, list[Joint]] = {}
    for joint in job.joints.values():
        if joint.fixed[0] == "dry" and not joint.crossing:
            seats.setdefault(joint.enters_piece, []).append(joint)
    return {
        piece: found
        for piece, found in seats.items()
        if len({joint.seat.piece for joint in found}) > 1 and not any(_fixes(joint, piece) for joint in job.joints.values())
    }


def _closing_key(job: Job, seats: list[Joint], keys: dict[str, Key]) -> Key | None:
    """The group that closes round a piece: the last glued, screwed or nailed one that joins two of the pieces it sits in."""
    around = {joint.seat.piece for joint in seats}
    closing = [
        keys[joint.name]
        for joint in job.joints.values()
        if fixing_of(joint) != "fit-dry" and joint.enters_piece in around and joint.seat.piece in around
    ]
    return max(closing, key=lambda key: key[2], default=None)


def _on_four_sides(seats: Sequence[Joint]) -> bool:
    """Whether a piece is let in on both sides along two axes."""
    sides: dict[Axis, set[str]] = {}
    for joint in seats:
        if joint.its.face:
            sides.setdefault(axis_of(joint.its.face), set()).add(joint.its.face)
    return sum(1 for faces in sides.values() if len(faces) == 2) >= 2


def _captive_finding(job: Job, piece: str, seats: Sequence[Joint]) -> Finding:
    part = job.part_of(piece)
    late = next(joint for joint in seats if joint.after)
    size = f"{part.length:g} x {part.width:g}"
    held = "it is held on four sides and is larger than the opening both ways" if _on_four_sides(seats) else "it is shut out then"
    return Finding(
        "error",
        "captive-piece",
        late.name,
        f"The {part.name} ({size} mm) is to go in after {', '.join(late.after)}, but {held}: once "
        "the frame is closed it cannot go in.",
        "Nothing can be slid or tilted into grooves that are closed all round.",
        f"Put the {part.name} in before the last joint of the frame is closed (take `after` out of {late.name}), or replace "
        "the groove on one side by a rebate with a loose bead.",
        late.place,
        "common practice",
    )


def kind_rank(key: Key) -> tuple[int, int]:
    """Named sub-assemblies first, then what is glued, then what is screwed or nailed on, then what is only put in."""
    return (0 if key[0] else 1, ["glue", "screw", "nail", "fit-dry", "key"].index(key[1]))
