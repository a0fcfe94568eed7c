"""The groups that the joints of a job make, in an order that can be made, each with a name and what it comes after."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from sequencer.findings import Finding, Refused
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import FIXINGS, Group, assembly_of, kept_in, made_first
from sequencer.planning.moments import Key, Moments, ShutIn, kind_rank, level_of, moments
from sequencer.planning.order import find_circle

Waits = Mapping[tuple[str, str], str]
"""Joints that wait for others without the drawing asking for it: (joint, the one before) to the sentence why."""


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
        found = moments(job, levels, together, shut_in)
        risen = {name: level_of(joint, found) for name, joint in job.joints.items()}
        if risen == levels:
            return _named(job, found, waits)
        levels = risen
    raise Refused([_no_moment(job, max((name for name in levels if job.joints[name].after), key=lambda name: levels[name]))])


def _waiting(joint: Joint, waits: Waits) -> Joint:
    more = (before for name, before in waits if name == joint.name and before not in joint.after)
    return replace(joint, after=(*joint.after, *more))


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


def _named(job: Job, found: Moments, waits: Waits) -> tuple[Group, ...]:
    members: dict[Key, list[Joint]] = {}
    for name, key in found.keys.items():
        members.setdefault(key, []).append(job.joints[name])
    times = _merge_alike(job, members, found.captured)
    order = sorted(members, key=lambda key: (key[2], kind_rank(key), list(members).index(key)))
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
        groups.append(
            Group(names[key], key[1], joints, pieces, tuple(found.captured.get(key, ())), after, times[key], also, derived)
        )
    return tuple(replace(group, folded=_folded(job, group, names.values())) for group in groups)


def _folded(job: Job, group: Group, names: Collection[str]) -> tuple[str, ...]:
    """The sub-assemblies that joints of a group belong to and no group is called after."""
    own = (joint.assembly or assembly_of(job, joint.name) for joint in group.joints)
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


def _why_after(name: str, earlier: list[Joint], joints: tuple[Joint, ...], waits: Waits) -> tuple[str, bool]:
    pairs = [(joint.name, before.name) for joint in joints for before in earlier if before.name in joint.after]
    asked = [joint for joint, before in pairs if (joint, before) not in waits]
    title = name.replace("-", " ")
    if pairs and not asked:
        return waits[pairs[0]], True
    if asked:
        return f"The drawing says that {asked[0].replace('-', ' ')} comes after {title}.", True
    return made_first(name), False
