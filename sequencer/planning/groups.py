"""Joints closed in one go: what is glued, screwed or put together at the same time.

A group is the joints of one sub-assembly that are fixed alike and may come at the same moment. A panel or other piece
held in seats of a group goes in with the group, before it closes.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from sequencer.design.joining import MOVING_FITS, fit_of
from sequencer.findings import Finding, Refused
from sequencer.model.frame import Axis, axis_of
from sequencer.model.job import Job, Joint
from sequencer.planning.order import find_circle

FIXINGS = {
    "glue": "glue",
    "dowels": "glue",
    "wedge": "glue",
    "biscuits": "glue",
    "splines": "glue",
    "screws": "screw",
    "nails": "nail",
    "key": "fit-dry",
    "dry": "fit-dry",
}
"""Fixing of the job file to kind of work; the first that a joint names decides."""


@dataclass(frozen=True)
class Group:
    """Joints made in one step.

    name
        The sub-assembly's name; the joint's own if it is alone; `seat-in-place` if one part goes in; else `whole`. Where two
        would be alike the fixing is added.
    times
        How many alike sub-assemblies it stands for, made one after the other.
    also
        Kinds of fixing besides the first: screws while the glue is wet, nails when it has set.
    captured
        Pieces that can only go in before this group closes.
    after
        Names of groups made before, the sentence why, and whether that is asked for or chosen.
    """

    name: str
    fixing: str
    joints: tuple[Joint, ...]
    pieces: tuple[str, ...]
    captured: tuple[str, ...]
    after: tuple[tuple[str, str, bool], ...]
    times: int = 1
    also: tuple[str, ...] = ()
    derived: tuple[str, ...] = ()
    """Those of the groups before that the shapes or the glue ask for, not the drawing."""
    folded: tuple[str, ...] = ()
    """Sub-assemblies of the drawing that have no group of their own, because their joints are made in this one."""
    captures: tuple[str, ...] = ()
    """Those of the groups before that could not be put together any more after this one."""
    decided: tuple[str, ...] = ()
    """Those of the groups before that come first because somebody decided it, where either could."""


DRY = ("fit-dry", "key")
"""Kinds of work that close a joint without glue or metal: it is tried as it is made."""


def is_key(joint: Joint) -> bool:
    """Whether the entering piece is itself a key, driven in; a tenon that a key holds is only put together dry."""
    return "key" in joint.fixed and joint.fit == "driven"


def fixing_of(joint: Joint) -> str:
    """The kind of work that closes a joint: driving a key, gluing if it is glued at all, else the first fixing named."""
    if is_key(joint):
        return "key"
    kinds = [FIXINGS[fixing] for fixing in joint.fixed]
    return "glue" if "glue" in kinds else kinds[0]


def laid_in(job: Job, joint: Joint) -> bool:
    """Whether a piece lies in a rebate without being joined to it: glass, a picture, a backing that pins keep in."""
    seat = joint.seat
    cut = job.part_of(seat.piece).features.get(seat.feature)
    return cut is not None and cut.kind == "rebate" and not {"glue", "screws", "dowels", "biscuits", "splines"} & {*joint.fixed}


def kept_in(job: Job) -> dict[str, tuple[str, ...]]:
    """Joints by which a piece only lies loose in a rebate, as glass does, with the nailed or screwed joints that keep it there:
    they come after it, or after what lies on it, on the same piece."""
    laid = {name: joint for name, joint in job.joints.items() if fixing_of(joint) == "fit-dry" and laid_in(job, joint)}
    found: dict[str, tuple[str, ...]] = {}
    for _ in laid:
        for name, joint in laid.items():
            over = [other for other in job.joints.values() if name in other.after and other.seat.piece == joint.seat.piece]
            nailed = (each.name for each in over if fixing_of(each) in ("nail", "screw"))
            keepers = (*nailed, *(keeper for each in over for keeper in found.get(each.name, ())))
            found |= {name: tuple(dict.fromkeys(keepers))} if keepers else {}
    return found


Key = tuple[str, str, int]
"""What makes joints one group: sub-assembly, fixing, and how many groups must come before."""


Waits = Mapping[tuple[str, str], str]
"""Joints that wait for others without the drawing asking for it: (joint, the one before) to the sentence why."""


ShutIn = Callable[[str, Collection[str]], bool]
"""Whether a piece cannot be brought to its place any more once these others are joined."""


def joint_groups(
    job: Job,
    waits: Waits = MappingProxyType({}),
    together: Mapping[str, str] = MappingProxyType({}),
    shut_in: ShutIn | None = None,
) -> tuple[Group, ...]:
    """The groups of a job in an order that can be made; `waits` besides what the drawing asks for, `together` the joints that are
    made with another one's group. `shut_in`: asks the shapes; without them a piece that is held between others is shut in where
    the drawing does not say when it goes in. Refused if `after` of the joints goes in a circle, or asks for a piece to go in
    after what shuts it in."""
    if waits:
        job = replace(job, joints={name: _waiting(joint, waits) for name, joint in job.joints.items()})
    _refuse_circles(job)
    levels = dict.fromkeys(job.joints, 0)
    # A joint may be moved to another's moment, and what comes after it must follow: repeat until nothing moves. Levels only
    # rise, one round for each link of the longest chain.
    for _ in range(2 * len(job.joints) + 2):
        keys, captured, moved = _moments(job, levels, together, shut_in)
        risen = {name: _level(joint, keys, moved) for name, joint in job.joints.items()}
        if risen == levels:
            return _named(job, keys, captured, waits)
        levels = risen
    raise Refused([_no_moment(job, max((name for name in levels if job.joints[name].after), key=lambda name: levels[name]))])


def _waiting(joint: Joint, waits: Waits) -> Joint:
    more = (before for name, before in waits if name == joint.name and before not in joint.after)
    return replace(joint, after=(*joint.after, *more))


def _moments(
    job: Job, levels: dict[str, int], together: Mapping[str, str], shut_in: ShutIn | None
) -> tuple[dict[str, Key], dict[Key, list[str]], set[str]]:
    """The group of every joint, the pieces that go in as a group closes, and the joints moved to another's group."""
    joints = job.joints
    moved: set[str] = set()
    keys: dict[str, Key] = {
        name: (joint.assembly or _assembly_of(job, name), fixing_of(joint), levels[name]) for name, joint in joints.items()
    }
    for name, other in together.items():
        keys[name] = keys[other]
        moved.add(name)
    for name, joint in joints.items():
        fixed = next((keys[other] for other in keys if _fixes(joints[other], joint.enters_piece)), None)
        if fixed and keys[name][1] == "fit-dry" and not joint.after and not joint.crossing:
            # It bears there when it is fixed elsewhere: one movement, one step.
            keys[name] = fixed
            moved.add(name)
    for name, keepers in kept_in(job).items():
        # What only lies there is laid in and kept in one go: between lessons it would fall out.
        first = max((levels[before] + 1 for before in joints[name].after), default=0)
        moment = (*keys[keepers[0]][:2], max(first + 1, *(keys[keeper][2] for keeper in keepers)))
        keys |= dict.fromkeys((name, *keepers), moment)
        moved.add(name)
    captured: dict[Key, list[str]] = {}
    for piece, seats in _held_between(job).items():
        closing = _closing_key(job, seats, keys)
        if closing is None:
            continue
        own = [joint for joint in seats if not joint.after]
        late = [joint for joint in seats if joint.after]
        if shut_in(piece, _joined_by(job, piece, seats, keys, closing)) if shut_in is not None else bool(own):
            if late and shut_in is not None:
                raise Refused([_captive_finding(job, piece, seats)])
            captured.setdefault(closing, []).append(piece)
            moment = closing
        elif late:
            # It goes into all its seats in one go.
            moment = max((keys[joint.name] for joint in late), key=lambda key: key[2])
        elif not any(fit_of(job, joint) in MOVING_FITS for joint in own):
            # It could go in later, and keeps what is glued square if it is there: nothing demands it.
            moment = closing
        else:
            for joint in own:
                name, fixing, level = keys[joint.name]
                keys[joint.name] = (name, fixing, max(level, closing[2]))
            continue
        for joint in own:
            keys[joint.name] = moment
            moved.add(joint.name)
    return keys, captured, moved


def _joined_by(job: Job, piece: str, seats: Sequence[Joint], keys: Mapping[str, Key], closing: Key) -> frozenset[str]:
    """What is one with the pieces that a piece sits in when a group has closed round it."""
    done = [
        {joint.enters_piece, joint.seat.piece}
        for joint in job.joints.values()
        if joint not in seats and (keys[joint.name][2], _kind_rank(keys[joint.name])) <= (closing[2], _kind_rank(closing))
    ]
    there = {joint.seat.piece for joint in seats}
    while more := {each for ends in done if ends & there for each in ends} - there - {piece}:
        there |= more
    return frozenset(there)


def _level(joint: Joint, keys: dict[str, Key], moved: set[str]) -> int:
    """One more than anything it comes after, but for what goes in as its own group closes."""
    own = keys[joint.name]
    return max((own[2], *(keys[before][2] + 1 for before in joint.after if before not in moved or keys[before] != own)))


def _no_moment(job: Job, name: str) -> Finding:
    return Finding(
        "error",
        "joint-circle",
        name,
        f"No moment fits {name}: it is to come after {', '.join(job.joints[name].after)}, which goes in with what waits for it.",
        "A piece that is held between others goes in when these are joined.",
        f"Take `after` out of {name}.",
        job.joints[name].place,
    )


def after_finish(job: Job, group: Group) -> bool:
    """Whether a group only puts in, without glue, what gets no finish: glass and backings go in when the finish is dry."""
    finished = {part for finish in job.finish for part in finish.parts}
    everything = not job.finish or any(not finish.parts for finish in job.finish)
    entering = {job.part_of(joint.enters_piece).name for joint in group.joints}
    return not everything and group.fixing != "glue" and not entering & finished


def _fixes(joint: Joint, piece: str) -> bool:
    return joint.enters_piece == piece and fixing_of(joint) != "fit-dry"


def _assembly_of(job: Job, joint: str) -> str:
    return next((name for name, members in job.assemblies.items() if joint in members), "")


def _refuse_circles(job: Job) -> None:
    circle = find_circle((before, joint.name) for joint in job.joints.values() for before in joint.after)
    if not circle:
        return
    chain = " before ".join(circle)
    raise Refused(
        [
            Finding(
                "error",
                "joint-circle",
                circle[0],
                f"The joints are asked to come after each other in a circle: {chain}.",
                "Each of these waits for the next, so none can be first.",
                f"Take one of the `after` entries out: {_lines_of(job, circle)}.",
                job.joints[circle[0]].place,
            )
        ]
    )


def _lines_of(job: Job, names: Sequence[str]) -> str:
    """Joints with the line each stands in."""
    places = {name: job.joints[name].place for name in dict.fromkeys(names)}
    return " or ".join(f"{name} (line {place.line})" if place and place.line else name for name, place in places.items())


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


def _named(job: Job, keys: dict[str, Key], captured: dict[Key, list[str]], waits: Waits) -> tuple[Group, ...]:
    members: dict[Key, list[Joint]] = {}
    for name, key in keys.items():
        members.setdefault(key, []).append(job.joints[name])
    times = _merge_alike(job, members, captured)
    order = sorted(members, key=lambda key: (key[2], _kind_rank(key), list(members).index(key)))
    names: dict[Key, str] = {}
    for key in order:
        plain = key[0] or _plain_name(job, members[key])
        if times[key] > 1:
            plain = plain.rstrip("0123456789").rstrip("-") or plain
        tries = (plain, f"{plain}-{key[1]}", *(f"{plain}-{key[1]}-{number}" for number in range(2, len(order) + 2)))
        names[key] = next(name for name in tries if name not in names.values())
    groups = []
    for place, key in enumerate(order):
        joints = tuple(members[key])
        pieces = tuple(dict.fromkeys(piece for joint in joints for piece in (joint.seat.piece, joint.enters_piece)))
        after = tuple(
            (names[earlier], *_why_after(names[earlier], members[earlier], joints, waits))
            for earlier in order[:place]
            if set(pieces) & {piece for joint in members[earlier] for piece in (joint.seat.piece, joint.enters_piece)}
            or any(joint.name in later.after for joint in members[earlier] for later in joints)
        )
        derived = tuple(earlier for earlier, why, _ in after if why in waits.values())
        also = tuple(
            kind
            for kind in ("screw", "nail")
            if kind != key[1] and any(FIXINGS[fixing] == kind for joint in joints for fixing in joint.fixed)
        )
        groups.append(Group(names[key], key[1], joints, pieces, tuple(captured.get(key, ())), after, times[key], also, derived))
    return tuple(replace(group, folded=_folded(job, group, names.values())) for group in groups)


def _folded(job: Job, group: Group, names: Collection[str]) -> tuple[str, ...]:
    """The sub-assemblies that joints of a group belong to and no group is called after."""
    own = (joint.assembly or _assembly_of(job, joint.name) for joint in group.joints)
    return tuple(dict.fromkeys(name for name in own if name and name not in names))


def _merge_alike(job: Job, members: dict[Key, list[Joint]], captured: dict[Key, list[str]]) -> dict[Key, int]:
    """Joins named sub-assemblies that are made of the same parts in the same way; how many each key then stands for."""

    def make_up(key: Key) -> tuple[object, ...]:
        joints = (
            (
                job.part_of(joint.enters_piece).name,
                joint.its.face or joint.its.feature,
                job.part_of(joint.seat.piece).name,
                joint.seat.face or joint.seat.feature,
                joint.fixed,
            )
            for joint in members[key]
        )
        return (key[1], key[2], tuple(sorted(joints, key=repr)))

    times = dict.fromkeys(members, 1)
    first: dict[tuple[object, ...], Key] = {}
    for key in [key for key in members if key[0]]:
        alike = first.setdefault(make_up(key), key)
        if alike != key:
            members[alike] += members.pop(key)
            captured.setdefault(alike, []).extend(captured.pop(key, ()))
            times[alike] += times.pop(key)
    return times


def _plain_name(job: Job, joints: list[Joint]) -> str:
    """A name for joints without a sub-assembly: the joint's own, the part that goes in, or `whole`. What it keeps in goes by its
    name."""
    lying = kept_in(job)
    joints = [joint for joint in joints if joint.name not in lying] or joints
    if len(joints) == 1:
        return joints[0].name
    entering = {job.part_of(joint.enters_piece).name for joint in joints}
    return f"{entering.pop()}-in-place" if len(entering) == 1 else "whole"


def _kind_rank(key: Key) -> tuple[int, int]:
    """Named sub-assemblies first, then what is glued, then what is screwed or nailed on, then what is only put in."""
    return (0 if key[0] else 1, ["glue", "screw", "nail", "fit-dry", "key"].index(key[1]))


def _why_after(name: str, earlier: list[Joint], joints: tuple[Joint, ...], waits: Waits) -> tuple[str, bool]:
    pairs = [(joint.name, before.name) for joint in joints for before in earlier if before.name in joint.after]
    asked = [joint for joint, before in pairs if (joint, before) not in waits]
    title = name.replace("-", " ")
    if pairs and not asked:
        return waits[pairs[0]], True
    if asked:
        return f"The drawing says that {asked[0].replace('-', ' ')} comes after {title}.", True
    return made_first(name), False


def made_first(name: str, *, decided: bool = False) -> str:
    """Why of two groups one is made first, where either could be."""
    how = "it is decided that " if decided else ""
    return f"Either could come first; {how}{name.replace('-', ' ')} is made first, and is then left alone until it is one piece."
