"""Joints closed in one go: what is glued, screwed or put together at the same time.

A group is the joints of one sub-assembly that are fixed alike and may come at the same moment. A panel or other piece
held in seats of a group goes in with the group, before it closes.
"""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.job import Job, Joint

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


def after_finish(job: Job, group: Group) -> bool:
    """Whether a group only puts in, without glue, what gets no finish: glass and backings go in when the finish is dry."""
    finished = {part for finish in job.finish for part in finish.parts}
    everything = not job.finish or any(not finish.parts for finish in job.finish)
    entering = {job.part_of(joint.enters_piece).name for joint in group.joints}
    return not everything and group.fixing != "glue" and not entering & finished


def assembly_of(job: Job, joint: str) -> str:
    return next((name for name, members in job.assemblies.items() if joint in members), "")


def made_first(name: str, *, decided: bool = False, straight: bool = False) -> str:
    """Why of two groups one is made first, where either could be. `straight`: else a piece would have to be tilted in."""
    title = name.replace("-", " ")
    if straight:
        return f"Either could come first; {title} is made first, so that every piece goes in straight and none is tilted in."
    how = "it is decided that " if decided else ""
    return f"Either could come first; {how}{title} is made first, and is then left alone until it is one piece."
