"""Dowels, biscuits, wedges and splines as work: what to lay out and buy, when each is made, put in and trimmed. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.job import Job
from sequencer.model.plan import Reason
from sequencer.model.stock_lists import LooseThing
from sequencer.planning.groups import Group
from sequencer.planning.joined_names import WHOLE
from sequencer.planning.loose import SLOTS, SPLINE_CURE
from sequencer.planning.reasons.grounds import WET
from sequencer.planning.work import Work, hardware_of

TRADE = "common practice"
ROSS = "G. A. Ross, Elementary Course in Woodwork, 1901, exercise 8: shoulders clamped up before the wedges are driven"
OPEN = "A joint that does not close is found when it can no longer be eased."
ACROSS = "common practice: keyed mitres of frames and boxes are sawn after gluing"
LIFTED = "Saw and plane pull a spline out of wet glue."
GRABS = "Glue grabs while somebody looks for what is missing, and the joint stays open."
PLURAL: Mapping[str, str] = {"dowel": "dowels", "biscuit": "biscuits", "wedge": "wedges", "spline": "splines"}


def use_line(work: Work) -> str:
    """What to lay out for making or putting in loose pieces, as a card prints it; empty for other work."""
    if "joint.loose" not in work.figures:
        return ""
    count, length, width, thick = (
        work.figures[f"joint.{name}"] for name in ("loose", "loose-length", "loose-width", "loose-thickness")
    )
    match work.kind:
        case "make-dowels":
            return f"Use: dowel rod, diameter {mm(width)} mm, for {count:g} dowels {mm(length)} mm long."
        case "dowel":
            return f"Use: {count:g} dowels, diameter {mm(width)} x {mm(length)} mm."
        case "biscuit":
            return f"Use: {count:g} biscuits, {mm(length)} x {mm(width)} mm."
        case "make-wedges":
            return f"Use: an {offcut_for(work)}, for {count:g} wedges."
        case "make-splines":
            return f"Use: a {strip_for(work)}, for {count:g} splines."
        case "spline":
            return f"Use: {count:g} splines, {mm(length)} x {mm(width)} x {mm(thick)} mm."
        case "wedge":
            return f"Use: {count:g} wedges, {mm(length)} x {mm(width)} x {mm(thick)} mm."
        case _:
            return ""


def offcut_for(work: Work) -> str:
    """What wedges are sawn from: no board of the job is as thick as they are wide, so it is got ready."""
    width, long = work.figures["joint.loose-width"], work.figures["joint.loose-offcut"]
    return f"offcut with straight grain, planed {mm(width)} mm thick, {mm(long)} mm long"


def strip_for(work: Work) -> str:
    """What splines are sawn from, got ready to their thickness and width."""
    thick, width, long = (work.figures[f"joint.loose-{name}"] for name in ("thickness", "width", "offcut"))
    return f"strip of birch plywood or straight hardwood, {mm(thick)} mm thick, {mm(width)} mm wide, {mm(long)} mm long"


def to_buy(job: Job, works: Mapping[str, Work], students: int) -> Iterator[LooseThing]:
    """Dowel rod and biscuits that the drawing does not name among its hardware, and an offcut for each size of wedges."""
    for work in works.values():
        if work.kind == "make-wedges":
            yield LooseThing(offcut_for(work), 1, students)
        if work.kind == "make-splines":
            yield LooseThing(strip_for(work), 1, students)
        name = use_line(work).removeprefix("Use: ").removesuffix(".")
        if work.kind in ("make-dowels", "biscuit") and not hardware_of(job, work.joints):
            count = int(work.figures["joint.loose"])
            yield LooseThing(name.removeprefix(f"{count} ").partition(", for ")[0], count, count * students)


def loose_reasons(
    group: Group, works: Mapping[str, Work], trying: str, cleaning: str, fixing: str, last: str
) -> Iterator[Reason]:
    """When the loose pieces of a group are made, put in and trimmed."""
    own = [work for work in works.values() if work.id.startswith(f"{group.name}/") and "joint.loose" in work.figures]
    for work in own:
        if work.kind == "make-splines":
            yield from _splined(group, work, own, works, last)
        elif work.kind in ("make-dowels", "make-wedges"):
            yield from _made_first(work, own, trying, fixing)
        elif work.kind in ("dowel", "biscuit"):
            those = PLURAL[work.kind]
            yield Reason(trying, work.id, "fit", f"The joint is tried before its {those} are glued in.", TRADE, OPEN)
            if cleaning in works:
                sentence = f"Faces are cleaned before {those} stand out of them."
                yield Reason(cleaning, work.id, "surface", sentence, TRADE, "What stands out keeps abrasive off the face.")
            sentence = f"The {those} are in one part before the other is pushed on."
            yield Reason(work.id, fixing, "sequence", sentence, TRADE)
        elif work.kind == "wedge":
            yield Reason(fixing, work.id, "sequence", "The cramps close the shoulders before the wedges lock them.", ROSS)
            yield Reason(work.id, last, "sequence", "The joint is left alone when its wedges are in.", ROSS)
        elif work.kind == "flush":
            sentence = "Wedges are sawn off when the glue holds them."
            yield Reason(last, work.id, "cure", sentence, ROSS, "The saw pulls a wedge out of wet glue.")
            sentence = "What stands out is off before the outside is cleaned."
            yield Reason(
                work.id, f"{WHOLE}/clean-up/clean", "surface", sentence, TRADE, "A wedge that stands out stops the plane."
            )


def _splined(group: Group, made: Work, own: list[Work], works: Mapping[str, Work], last: str) -> Iterator[Reason]:
    """Slots are sawn when the corner has set; splines are made to fit them, glued in, left to set and trimmed flush."""
    cure = f"{group.name}/{SPLINE_CURE}/wait"
    for slots in (work for work in works.values() if work.id.startswith(f"{group.name}/") and work.kind == SLOTS.name):
        sentence = "One saw cut goes across both pieces of a corner, so the corner is glued and has set before."
        yield Reason(last, slots.id, "cure", sentence, ACROSS, "Two slots that are sawn apart meet by luck; wet glue gives way.")
        sentence = "The strip is tried in the sawn slots before splines are sawn off it."
        yield Reason(slots.id, made.id, "fit", sentence, TRADE, "A spline made to a guess is loose, or does not go in.")
        for put in (work for work in own if work.kind == "spline"):
            sentence = "A spline goes into a slot that is sawn through both pieces."
            yield Reason(slots.id, put.id, "fit", sentence, TRADE, "There is nothing for it to go into.")
    for put in (work for work in own if work.kind == "spline"):
        if put.joints == made.joints:
            yield Reason(made.id, put.id, "sequence", "The splines are made before they are put in.", TRADE, GRABS)
        yield Reason(put.id, cure, "cure", "Glue holds a spline only when it has set.", TRADE, WET)
    for trim in (work for work in own if work.kind == "trim-splines"):
        yield Reason(cure, trim.id, "cure", "Splines are trimmed when their glue has set.", TRADE, LIFTED)
        sentence = "What stands out is off before the outside is cleaned."
        yield Reason(trim.id, f"{WHOLE}/clean-up/clean", "surface", sentence, TRADE, "A spline that stands out stops the plane.")


def _made_first(work: Work, own: list[Work], trying: str, fixing: str) -> Iterator[Reason]:
    """Dowels are made before the joint is tried with them, wedges before the glue is opened."""
    what = work.kind.removeprefix("make-").removesuffix("s")
    if what == "dowel":
        yield Reason(work.id, trying, "fit", "The joint is tried with its dowels.", TRADE, "A shallow hole is found too late.")
    else:
        yield Reason(work.id, fixing, "sequence", "The wedges lie ready before the glue is opened.", TRADE, GRABS)
    for other in own:
        if other.kind == what and other.joints == work.joints:
            sentence = f"The {PLURAL[what]} are made before they are put in."
            yield Reason(work.id, other.id, "sequence", sentence, TRADE, GRABS)
