"""Kinds of work that are no feature of the drawing: preparing stock, marking out, joining, finishing.

An operation of the knowledge `makes` feature kinds and these. Each has a place in the usual order of a workshop, used
only to break ties; what must come before what is said by reasons.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WorkKind:
    """A kind of work: `act` ends the task's name, `title` is printed."""

    name: str
    act: str
    title: str
    meaning: str


_ALL = (
    WorkKind("rough-length", "cut", "Cut the blank", "cut a blank, longer than the part, off the board or sheet"),
    WorkKind("face-marks", "mark", "Mark face side and face edge", "choose and mark the true face and edge of planed stock"),
    WorkKind("face-side", "plane", "Plane the face side", "make one broad face flat"),
    WorkKind("face-edge", "plane", "Plane the face edge", "make one edge straight and square to the face side"),
    WorkKind("thickness", "plane", "Bring to thickness", "make the other face parallel at the finished thickness"),
    WorkKind("width", "cut", "Bring to width", "make the other edge parallel at the finished width"),
    WorkKind("first-end", "square", "Square the first end", "make one end square"),
    WorkKind("length", "cut", "Cut to length", "cut the other end square at the finished length"),
    WorkKind("separate", "cut", "Cut the parts apart", "cut finished-section parts off a longer piece, at length"),
    WorkKind("mark-out", "mark", "Mark out", "mark every feature of the part from its face side, face edge and first end"),
    WorkKind("make-dowels", "cut", "Cut the dowels", "cut dowels from a rod, with chamfered ends and a groove for the glue"),
    WorkKind("make-wedges", "saw", "Saw the wedges", "saw wedges from a piece as thick as the tenon"),
    WorkKind("dry-fit", "try", "Try it dry", "put the parts together without glue and check"),
    WorkKind("clean-inside", "clean", "Clean the inside faces", "clean faces that cannot be reached after joining"),
    WorkKind("sand-round", "clean", "Sand smooth", "sand a round rod, which no plane cleans, before it is joined"),
    WorkKind("sand-curves", "clean", "Sand the curves", "sand curves that are sawn and filed, before the part is joined"),
    WorkKind("dowel", "dowel", "Set the dowels", "glue dowels into the first of two parts"),
    WorkKind("biscuit", "biscuit", "Set the biscuits", "glue biscuits into the slots of the first of two parts"),
    WorkKind("glue", "glue", "Glue and cramp", "join with glue under cramps"),
    WorkKind("wedge", "wedge", "Drive the wedges", "drive wedges into a joint while its glue is wet"),
    WorkKind("screw", "screw", "Screw together", "join with wood screws"),
    WorkKind("nail", "nail", "Nail together", "join with nails or pins"),
    WorkKind("key", "key", "Fit the keys", "fit loose keys that hold a joint without glue"),
    WorkKind("fit-dry", "fit", "Put together dry", "join without glue: pushed, keyed, wedged or loose"),
    WorkKind("cure", "wait", "Leave the glue to set", "leave the joint alone until the glue has set"),
    WorkKind("make-splines", "saw", "Saw the splines", "saw splines from a strip as thick as their slots are wide"),
    WorkKind("spline", "spline", "Glue the splines in", "glue splines into the slots that are sawn across a corner"),
    WorkKind("trim-splines", "trim", "Trim the splines flush", "saw off what stands out of splines when their glue has set"),
    WorkKind("trim", "trim", "Trim flush", "take off an allowance left until now"),
    WorkKind("flush", "trim", "Trim the wedges flush", "saw off what stands out of wedges when the glue has set"),
    WorkKind("clean-up", "clean", "Clean up", "clean the outside faces after joining"),
    WorkKind("coat", "coat", "Put on the finish", "apply one coat of finish"),
    WorkKind(
        "rags", "put-away", "Put the oily rags away", "hand every oily rag to staff, who store it where it cannot take fire"
    ),
    WorkKind("dry", "wait", "Leave to dry", "leave a coat to dry"),
    WorkKind("hardware", "fix", "Fix the hardware", "fix bought-in parts"),
)

PART_WORK = frozenset({
    "rough-length", "face-marks", "face-side", "face-edge", "thickness", "width", "first-end", "length", "separate", "mark-out",
    "trim", "sand-round", "sand-curves",
})  # fmt: skip
"""Kinds of work on one part; the others are done to several together."""

WAITS = ("cure", "dry")
"""Kinds of work in which nothing is done: glue or finish is left the time it needs."""

JOINS = ("glue", "screw", "nail", "key", "fit-dry")
"""Kinds of work after which parts hang together: who takes one up takes up all."""

NO_WOOD = ("rags", "make-dowels", "make-wedges", "make-splines")
"""Kinds of work that take up none of the parts that they are told of."""

WORK_KINDS: dict[str, WorkKind] = {kind.name: kind for kind in _ALL}
"""Every kind of work that is no feature, in the usual order of a workshop."""
