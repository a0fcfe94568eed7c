"""Glued joints whose two pieces are one body before it is their turn: no glue gets between them any more."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.findings import Finding
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import DRY, Group, fixing_of
from sequencer.reading.words import listed

Bodies = Mapping[str, frozenset[str]]
"""Every piece with the pieces that glue, screws or nails have made one with it."""


def closed_already(job: Job, groups: Sequence[Group]) -> Iterator[Finding]:
    """An error for each joint that is to be glued when earlier groups, in their order, have made its pieces one body. What was
    only put together dry comes apart again for the glue."""
    body_of: Bodies = {piece: frozenset([piece]) for piece in job.pieces()}
    for number, group in enumerate(groups):
        for joint in group.joints:
            if fixing_of(joint) == "glue" and joint.seat.piece in body_of[joint.enters_piece]:
                made = [earlier for earlier in groups[:number] if _joins(earlier, body_of[joint.enters_piece])]
                yield _finding(job.joints[joint.name], made)
        body_of = _joined(body_of, group)


def _joined(body_of: Bodies, group: Group) -> Bodies:
    found = dict(body_of)
    for joint in group.joints:
        if fixing_of(joint) not in DRY:
            both = found[joint.enters_piece] | found[joint.seat.piece]
            found |= dict.fromkeys(both, both)
    return found


def _joins(group: Group, body: frozenset[str]) -> bool:
    return any({joint.enters_piece, joint.seat.piece} <= body and fixing_of(joint) not in DRY for joint in group.joints)


def _finding(joint: Joint, made: Sequence[Group]) -> Finding:
    names, pieces = listed([group.name.replace("-", " ") for group in made]), f"{joint.enters_piece} and {joint.seat.piece}"
    is_are = "is" if len(made) == 1 else "are"
    why = "It cannot be opened to bring glue in: glue that is wiped along a closed joint does not hold it."
    if joint.after:
        why = f"The drawing asks for {joint.name} after {listed(joint.after)}. {why}"
        remedy = f"Take `after` out of {joint.name}, so that it is glued in the same go"
    else:
        remedy = f"Give {joint.name} the same `assembly` as the joints that close it"
    return Finding(
        "error",
        "closed-already",
        joint.name,
        f"{joint.name} is to be glued, and {pieces} are one body as soon as {names} {is_are} made.",
        why,
        f"{remedy}, or let it be the joint of a piece that is not joined yet.",
        joint.place,
        "common practice",
    )
