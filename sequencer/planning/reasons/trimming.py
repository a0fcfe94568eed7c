"""Why waste stays on a part until its joint has set, and is off before more is joined on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.design.placing import place
from sequencer.model.frame import AXES, Point, axis_of
from sequencer.model.job import Allowance, Job, Joint, Part
from sequencer.model.plan import Reason
from sequencer.model.shapes import Bounds
from sequencer.planning.groups import Group
from sequencer.planning.loose import wedges_in_end
from sequencer.planning.reasons.grounds import TRADE, WET
from sequencer.planning.reasons.group_tasks import fixing_task, last_task, trying_task
from sequencer.planning.shapes_left import TOUCH
from sequencer.planning.work import Work

ROCKS = "Large work rocks under saw and plane, or is gripped where the vice strains a joint."


def trimming_reasons(
    job: Job, works: Mapping[str, Work], work: Work, allowance: Allowance, groups: tuple[Group, ...], tool_room: float
) -> Iterator[Reason]:
    """Waste stays on until its joint has set, and is off before more is joined on: that may stand in the way of the saw, and
    large work rocks under it."""
    made, joined, part = False, list[Joint](), job.parts[work.part]
    waited_for = [allowance.until in _names(job, group) for group in groups]
    for number, group in enumerate(groups):
        before, joined = joined, [*joined, *group.joints]
        if waited_for[number]:
            made = True
            if group.fixing == "glue" and wedges_in_end(job, part, allowance):
                sentence = "The wedges in the end are sawn off with it, when the glue holds them."
                yield Reason(last_task(group), work.id, "cure", sentence, TRADE, "The saw pulls a wedge out of wet glue.")
            sentence = "The waste keeps the end from splitting until the joint is made."
            yield Reason(last_task(group), work.id, "splitting", sentence, TRADE, "The short wood at the end splits off.")
            if group.fixing == "glue":
                yield Reason(last_task(group), work.id, "cure", "A joint is left alone until its glue has set.", TRADE, WET)
            continue
        if made and not any(waited_for[number:]) and _grows(job, part, before, joined, tool_room):
            sentence = "The waste is trimmed before more is joined on: the smaller the work, the better a vice or cramp holds it."
            yield Reason(work.id, fixing_task(group), "holding", sentence, TRADE, ROCKS)
        if made and _in_the_way(job, work, group, tool_room):
            sentence = "The waste is trimmed before what is joined next comes to stand there, in the way of the saw."
            yield Reason(work.id, fixing_task(group), "reach", sentence, TRADE)
            trying = trying_task(group, works)
            if trying != fixing_task(group):
                sentence = "The waste is off before what comes to stand there is tried in place."
                yield Reason(work.id, trying, "fit", sentence, TRADE)


def _grows(job: Job, part: Part, before: Sequence[Joint], after: Sequence[Joint], room: float) -> bool:
    """Whether what a piece of the part is joined to becomes larger by more than `room` some way, of those with a place."""
    placement = place(job)

    def sizes(piece: str, joints: Sequence[Joint]) -> list[float]:
        body, pairs = {piece}, [{each.seat.piece, each.enters_piece} for each in joints]
        while more := {name for pair in pairs if pair & body for name in pair - body}:
            body |= more
        spans = [[placement.span(name, axis) for name in body if name in placement.poses] for axis in AXES]
        return [max(high for _, high in span) - min(low for low, _ in span) for span in spans]

    return any(
        was + room < now
        for piece in part.pieces
        if piece.name in placement.poses
        for was, now in zip(sizes(piece.name, before), sizes(piece.name, after), strict=True)
    )


def _names(job: Job, group: Group) -> set[str]:
    """What a group may be called: itself, its joints, and the sub-assemblies these belong to."""
    names = {group.name, *(joint.name for joint in group.joints), *(joint.assembly for joint in group.joints)}
    return names | {name for name, joints in job.assemblies.items() if set(joints) & names}


def _in_the_way(job: Job, work: Work, group: Group, tool_room: float) -> bool:
    """Whether a piece that a group joins on comes to stand where the saw works that takes waste off a part."""
    part, placement = job.parts[work.part], place(job)
    allowance = next(each for each in part.allowances if f"{each.face}-allowance" == work.feature)
    spans = {axis: (-tool_room / 2, part.block.size(axis) + tool_room / 2) for axis in AXES}
    outward = part.block.span(allowance.face, -tool_room, 0.0)
    spans[axis_of(allowance.face)] = outward
    room = Bounds(Point(*(spans[axis][0] for axis in AXES)), Point(*(spans[axis][1] for axis in AXES)))
    joined = {joint.enters_piece for joint in group.joints} | {joint.seat.piece for joint in group.joints}
    return any(
        all(
            placement.span(other, axis)[0] < high - TOUCH and placement.span(other, axis)[1] > low + TOUCH
            for axis, (low, high) in placement.lying(piece.name, room).items()
        )
        for piece in part.pieces
        for other in joined
        if job.part_of(other) != part and placement.together(piece.name, other)
    )
