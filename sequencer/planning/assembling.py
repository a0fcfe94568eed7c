"""The groups of joints held against the shapes: in which order the pieces of each group go in, which way, and whether they can.

What is joined before is one body. Where the drawing leaves the order open and the groups, made by kind of fixing, cannot be
closed one after the other, joints wait for others as the shapes demand. A set that is still wet is never carried to its place,
and no more joints are glued in one go than the glue stays open for: such a glue-up is made in two, the first of which sets first.
What no order puts together is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf

from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.findings import Finding, Refused
from sequencer.model.job import Job, Joint
from sequencer.planning.closed_already import closed_already
from sequencer.planning.closing import Closing, closings, inside, joints_of, pieces_in, shapes_shut_in
from sequencer.planning.either_first import in_decided_order, with_captures, with_straight_ways
from sequencer.planning.grouping import joint_groups
from sequencer.planning.groups import Group
from sequencer.planning.waiting import SOURCE, Wait, must_wait
from sequencer.reading.words import listed
from sequencer.solid.going_in import blocking_of
from sequencer.solid.locking import stops_said


@dataclass(frozen=True)
class Assembly:
    """The groups in an order that the shapes allow, how each closes, and what is to be said of it."""

    groups: tuple[Group, ...]
    closings: tuple[Closing, ...]
    findings: tuple[Finding, ...] = ()
    undecided: tuple[Group, ...] = ()
    """The groups in the order they would have if nobody decided any."""


def assembled(job: Job, most: float = inf) -> Assembly:
    """The groups of a job, each of which can be closed in its turn; `most` joints can be glued in one go.

    Raises Refused as `joint_groups` does. What cannot be closed whatever waits for what is an error among the findings.
    """
    placement = place(job)
    blocking = blocking_of(job)
    wait = Wait()
    shut_in = shapes_shut_in(blocking)
    groups = joint_groups(job, shut_in=shut_in)
    while True:
        found = tuple(closings(job, groups, placement, blocking))
        more = must_wait(job, found, most, placement, blocking)
        if more is None or wait.holds(more):
            break
        try:
            groups = joint_groups(job, {**wait.waits, **more.waits}, {**wait.together, **more.together}, shut_in)
        except Refused:
            # The drawing itself asks for another order: what is then locked is said below.
            break
        wait = wait.and_also(more)
    captured = with_captures(job, groups, placement, blocking)
    undecided = with_straight_ways(job, captured, placement, blocking)
    groups = in_decided_order(undecided, job.decisions)
    if groups == captured:
        named = {group.name: group for group in groups}
        found = tuple(replace(closing, group=named[closing.group.name]) for closing in found)
    else:
        found = tuple(closings(job, groups, placement, blocking))
    said = (*wait.findings, *closed_already(job, groups))
    locked = [closing for closing in found if closing.locked is not None]
    return Assembly(groups, found, (*said, *(locked_finding(job, closing, placement) for closing in locked)), undecided)


def locked_finding(job: Job, closing: Closing, placement: Placement) -> Finding:
    """The refusal of what cannot be closed: which pieces lock each other, and what stops each on every way."""
    locked = closing.locked
    if locked is None:
        raise ValueError(f"{closing.group.name} is not locked")
    locks = pieces_in(closing, locked.bodies)
    made = {body: closing.bodies[body] for body in locked.bodies if len(closing.bodies[body]) > 1}
    late = [each for each in joints_of(closing) if _asked(job, each, made.values())]
    joint = next(iter(late), None) or next((each for each in joints_of(closing) if each.enters_piece in locks), None)
    what = listed([_joined(body, made.get(body, ())) for body in locked.bodies])
    why = " ".join(stops_said(locked, placement, {body: f"the body of {body}" for body in made}))
    ways = "Open one of the seats at an end, make one of the pieces in two"
    remedy = "let the last one in before the others are joined (`after`)"
    if late:
        asked = tuple(dict.fromkeys(name for each in late for name in _asked(job, each, made.values())))
        names = listed([each.name for each in late])
        why = f"The drawing asks for {names} after {listed(asked)}. {why}"
        remedy = f"take `after` out of {names}, so that the last piece can go in before the others are joined"
    return Finding(
        "error",
        "locked",
        closing.group.name,
        f"{what} lock each other: when {words_of(closing)} is closed, none of them can be brought to its place.",
        why,
        f"{ways}, or {remedy}. `sequencer show` with `--locked` draws them.",
        joint.place if joint else None,
        SOURCE,
    )


def _asked(job: Job, joint: Joint, made: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """The joints that the drawing asks a joint to come after and that have made one of some bodies."""
    inner = (each for each in job.joints[joint.name].after if each in job.joints)
    return tuple(each for each in inner if any(inside(job.joints[each], pieces) for pieces in made))


def _joined(body: str, pieces: Sequence[str]) -> str:
    """The name of a body with the pieces that it is joined with, if it is more than one."""
    rest = [piece for piece in pieces if piece != body]
    return f"{body} (joined with {listed(rest)})" if rest else body


def words_of(closing: Closing) -> str:
    """The name of a closing's group, as text."""
    return closing.group.name.replace("-", " ")
