"""Why what is cut into parts, and their ends, come before the parts are tried, joined and cleaned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.model.frame import FaceName, opposite
from sequencer.model.job import Job
from sequencer.model.plan import Reason
from sequencer.planning.groups import Group
from sequencer.planning.over_air import STACK, stands_off
from sequencer.planning.reasons.cuts import verb
from sequencer.planning.reasons.grounds import GRIT, TRADE
from sequencer.planning.reasons.group_tasks import cleaning_task, fixing_task, trying_task
from sequencer.planning.work import Work, words

JOINED = "What is joined on stands in the way of laying and holding the piece."


def ready_reasons(job: Job, works: Mapping[str, Work], group: Group) -> Iterator[Reason]:
    """Why the work on each part of a group comes before its joints are tried, fixed or cleaned."""
    parts = {job.part_of(piece).name for piece in group.pieces}
    meeting = _joint_features(job, group)
    cleaning = cleaning_task(group)
    cleaned = dict(works[cleaning].parts) if cleaning in works else {}
    for work in works.values():
        if work.part not in parts or (work.drawn is not None and work.drawn.when == "assembled") or work.kind == "trim":
            continue
        used = (work.part, work.feature) in meeting
        yield from _before_trying(work, trying_task(group, works), used)
        if work.drawn is None:
            continue
        yield from _before_fixing(job, work, group, used)
        if work.part in cleaned and (used or work.drawn.nature != "bored"):
            sentence = "No edge tool or saw works on a sanded face: grit left in it blunts the edge."
            yield Reason(work.id, cleaning, "surface", sentence, TRADE, GRIT)


def _before_trying(work: Work, trying: str, used: bool) -> Iterator[Reason]:
    """A part has its size, and what meets in the joint is cut, before it is tried. What comes before the part's last end, in the
    order of the trade, is demanded by that."""
    makes_end = work.kind in ("length", "separate") if work.drawn is None else bool(work.drawn.ends_part())
    if makes_end:
        yield Reason(work.id, trying, "fit", f"The {words(work.part)} must have its size before it is tried.", TRADE)
    elif used:
        yield Reason(work.id, trying, "fit", f"The {words(work.feature)} must be cut before the joint is tried.", TRADE)


def _before_fixing(job: Job, work: Work, group: Group, used: bool) -> Iterator[Reason]:
    """A screw needs its hole; what meets in no joint is cut while the part lies by itself, where tools reach it and it is held.
    `used`: whether it meets in a joint."""
    assert work.drawn is not None
    fixing, feature = fixing_task(group), words(work.feature)
    entering = {job.part_of(joint.enters_piece).name for joint in group.joints}
    if "feature.gauge" in work.figures:
        yield Reason(work.id, fixing, "fit", "A screw needs its hole first.", TRADE)
    elif used:
        return
    elif group.fixing == "glue" and work.drawn.opens()[:1] == ("inside",):
        sentence = f"There is no room for tools at the {feature} once the parts are joined."
        yield Reason(work.id, fixing, "reach", sentence, TRADE)
    elif group.fixing == "glue" or (group.fixing != "fit-dry" and (work.part in entering or _over_air(job, work, group))):
        sentence = f"The {feature} {verb(work.feature)} cut while the {words(work.part)} is still a piece by itself."
        yield Reason(work.id, fixing, "reach", sentence, TRADE, JOINED)
    elif work.drawn.nature == "edge" and _covers(job, group, work.part) & set(work.drawn.opens()):
        sentence = f"The {feature} {verb(work.feature)} cut before another part lies against its face."
        yield Reason(work.id, fixing, "reach", sentence, TRADE, JOINED)


def _over_air(job: Job, work: Work, group: Group) -> bool:
    """Whether the wood under a hole can no longer be laid on a board when the group is joined."""
    assert work.drawn is not None
    under = opposite(work.drawn.opens()[0])
    return work.drawn.nature == "bored" and stands_off(job, group, work.part, under) > STACK


def _joint_features(job: Job, group: Group) -> set[tuple[str, str]]:
    return {
        (job.part_of(seat.piece).name, seat.feature) for joint in group.joints for seat in (joint.its, joint.seat) if seat.feature
    }


def _covers(job: Job, group: Group, part: str) -> set[FaceName]:
    """The faces of a part that other parts lie against in the joints of a group."""
    seats = [seat for joint in group.joints for seat in (joint.its, joint.seat)]
    return {seat.face for seat in seats if seat.face and job.part_of(seat.piece).name == part}
