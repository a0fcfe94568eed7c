"""Which pieces hang together by joints: those of some tasks, and what a step has in hand with them."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.model.job import Job, Joint
from sequencer.model.plan import Task


def joints_of(tasks: Sequence[Task], job: Job) -> list[Joint]:
    """The joints that tasks are about, each once."""
    return [job.joints[name] for name in dict.fromkeys(name for task in tasks for name in task.joints)]


def hanging_on(links: Sequence[Joint], pieces: Sequence[str]) -> list[str]:
    """Some pieces, and all that joints make one body with them."""
    own = [joint for joint in links if {joint.enters_piece, joint.seat.piece} & {*pieces}]
    return list(dict.fromkeys((*pieces, *reached(links, own))))


def reached(links: Sequence[Joint], joints: Sequence[Joint]) -> list[str]:
    """All pieces that the joints of a step make one body with."""
    found = {piece for joint in joints for piece in (joint.enters_piece, joint.seat.piece)}
    grown = True
    while grown:
        more = {
            piece
            for joint in links
            for piece in (joint.enters_piece, joint.seat.piece)
            if {joint.enters_piece, joint.seat.piece} & found
        } - found
        found |= more
        grown = bool(more)
    return sorted(found)
