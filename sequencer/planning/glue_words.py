"""Where glue is brushed, in the words of the trade: by the kinds of joint that one glue-up closes."""

from __future__ import annotations

from collections.abc import Iterable

from sequencer.features.base import Feature
from sequencer.model.job import Job, Joint, Seat
from sequencer.planning.groups import fixing_of

BLIND = ("mortise", "hole")
"""Kinds of feature that glue cannot leave at the bottom."""
SHORT = 9
"""So many words follow “Brush glue thinly” at most."""
EVERYWHERE = "on every face that meets in a joint"
ONLY = {
    "tenon": "on tenon cheeks, with little inside mortises",
    "rod": "inside each rod hole, with little at the bottom",
    "tongue": "on each tongue and in its groove",
    "pins": "on all faces between pins and tails",
    "fingers": "on all sides of the fingers",
    "lap": "on the floor and sides of each lap",
    "bridle": "on both cheeks of each bridle",
    "housing": "in each housing and on what goes in",
    "rebate": "in each rebate and on what goes in",
    "groove": "in each groove and on what goes in",
    "slot": "in each slot and on what goes in",
    "face": "on both faces that meet",
}
"""Where glue goes if all joints are of one kind."""
BESIDE = {
    "tenon": "on tenon cheeks",
    "rod": "inside rod holes",
    "tongue": "on tongues",
    "pins": "between pins and tails",
    "fingers": "between fingers",
    "lap": "in laps",
    "bridle": "on bridle cheeks",
    "housing": "in housings",
    "rebate": "in rebates",
    "groove": "in grooves",
    "slot": "in slots",
    "face": "on faces that meet",
}
"""The same beside other kinds."""
_OF_FEATURE = {
    "mortise": "tenon",
    "tenon": "tenon",
    "tongue": "tongue",
    "dovetails": "pins",
    "dovetail-pins": "pins",
    "finger-joint": "fingers",
    "bridle": "bridle",
    "bridle-tongue": "bridle",
    "halving": "lap",
    "housing": "housing",
    "dovetail-housing": "housing",
    "rebate": "rebate",
    "groove": "groove",
    "slot": "slot",
    "cut-out": "slot",
}


def glued_words(job: Job, joints: Iterable[Joint]) -> str:
    """What follows “Brush glue thinly”: `in housings and inside rod holes`; empty if nothing is glued."""
    kinds = list(dict.fromkeys(_kind(job, joint) for joint in joints if fixing_of(joint) == "glue"))
    if len(kinds) == 1:
        return ONLY[kinds[0]]
    said = " and ".join(BESIDE[kind] for kind in kinds)
    return said if len(said.split()) <= SHORT else EVERYWHERE


def blind(job: Job, joint: Joint) -> bool:
    """Whether glue that is pushed to the bottom of a glued joint cannot get out and keeps it from closing."""
    cut = _feature(job, joint.seat)
    if cut is None or cut.kind not in BLIND or fixing_of(joint) != "glue":
        return False
    return not cut.figures(job.part_of(joint.seat.piece).block).get("feature.through", 0.0)


def _kind(job: Job, joint: Joint) -> str:
    seat, its = _feature(job, joint.seat), _feature(job, joint.its)
    if seat is not None and seat.kind == "hole":
        return "rod"
    found = (_OF_FEATURE.get(each.kind) for each in (its, seat) if each is not None)
    return next((each for each in found if each), "face")


def _feature(job: Job, seat: Seat) -> Feature | None:
    return job.part_of(seat.piece).features.get(seat.feature)
