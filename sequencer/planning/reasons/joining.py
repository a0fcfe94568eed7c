"""Why joints are cut, tried, cleaned and fixed in their order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.dovetail_pins import DovetailPins
from sequencer.features.dovetails import Dovetails
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Reason
from sequencer.planning.groups import Group
from sequencer.planning.inner_faces import only_edges
from sequencer.planning.joined_names import WHOLE
from sequencer.planning.loose_work import loose_reasons
from sequencer.planning.making_room import rooms
from sequencer.planning.reasons.before_joining import ready_reasons
from sequencer.planning.reasons.grounds import AS_FITTED, NOT_FITTED, TRADE, WET
from sequencer.planning.reasons.group_tasks import cleaning_task, fixing_task, last_task, trying_task
from sequencer.planning.reasons.trimming import ROCKS
from sequencer.planning.work import Work, words

MARKED_FROM = "common practice: pins are marked from the tails they fit, piece by piece"
TRIED = "W. Noyes, Handwork in Wood, 1910, ch. VIII"
NOT_EASED = "A joint that does not close is found when it can no longer be eased."
LOOSENED = "What cleaning takes off is missing where the joint was fitted."
SETS = "E. W. Foster, Carpentry and Woodwork, 1911, ch. XXV"
SHUT_IN_SOURCE = "W. Noyes, Handwork in Wood, 1910, ch. VII and VIII"
INSIDE = "Neither plane nor sanding block gets into inner corners once the parts are joined."
INSIDE_SOURCE = "H. H. Windsor, Mission Furniture, 1909, p. 17"
IN_FRAME = "Nothing sands up to the inner corners of a glued frame: strokes end across the grain of the next piece."
IN_FRAME_HARM = "Scratches across the grain, and the dust and glue of the corners, show under the finish."
SHUT_OUT = "What comes later is shut out, or glue that has not set is moved."


def joining_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Why what meets in the joints of each group is ready before they are tried, and tried before they are fixed."""
    for group in groups:
        yield from ready_reasons(job, works, group)
        yield from _tried_first(job, works, group)
        yield from _also_fixed(group)
        fixing, trying = fixing_task(group), trying_task(group, works)
        yield from loose_reasons(group, works, trying, cleaning_task(group), fixing, last_task(group))
        yield from _captured(job, works, group)
        yield from _after_others(job, works, group, groups)
        yield from _cleaned_before_keys(job, works, group, groups)
        yield from _fitted_to(job, works, group)


def _tried_first(job: Job, works: Mapping[str, Work], group: Group) -> Iterator[Reason]:
    """What is joined is tried dry, then cleaned, then fixed; glue is left until it has set."""
    fixing, trying, cleaning = fixing_task(group), trying_task(group, works), cleaning_task(group)
    yield Reason(trying, fixing, "fit", "What is joined is tried dry before it is fixed for good.", TRIED, NOT_EASED)
    if cleaning in works:
        yield Reason(trying, cleaning, "surface", AS_FITTED, TRADE, NOT_FITTED)
        yield _inside(job, works[cleaning], fixing)
    if group.fixing == "glue":
        sentence = "Glue holds only when it has set under the cramps."
        yield Reason(fixing, f"{group.name}/cure/wait", "cure", sentence, SETS, WET)


def _inside(job: Job, cleaning: Work, fixing: str) -> Reason:
    """Why what is inside is cleaned before it is joined: nothing gets into the corners, or, in a frame that lies flat, nothing
    cleans right up to them."""
    if only_edges(job, cleaning):
        return Reason(cleaning.id, fixing, "reach", IN_FRAME, TRADE, IN_FRAME_HARM)
    return Reason(cleaning.id, fixing, "reach", INSIDE, INSIDE_SOURCE)


def _captured(job: Job, works: Mapping[str, Work], group: Group) -> Iterator[Reason]:
    """Pieces that are shut in by a group are made before it closes."""
    for piece in group.captured:
        name = job.part_of(piece).name
        for work in works.values():
            if work.part == name and (work.drawn is None or work.drawn.when == "loose"):
                sentence = f"The {words(name)} goes in before the last joint is closed; afterwards it is shut out."
                yield Reason(work.id, fixing_task(group), "capture", sentence, SHUT_IN_SOURCE)


def _after_others(job: Job, works: Mapping[str, Work], group: Group, groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Groups that are made before a group, each with why: demanded by shapes, glue or drawing, decided, or chosen."""
    fixing = fixing_task(group)
    for earlier, why, asked in group.after:
        before = next(other for other in groups if other.name == earlier)
        if earlier in group.captures:
            yield Reason(last_task(before), fixing, "capture", why, TRADE)
        elif earlier in group.derived:
            yield Reason(last_task(before), fixing, "sequence", why, TRADE, SHUT_OUT)
        elif earlier in group.decided:
            yield Reason(last_task(before), fixing, "cure", why, TRADE, WET)
        else:
            yield Reason(last_task(before), fixing, "drawing" if asked else "choice", why, TRADE)
        for work in works.values():
            if work.kind == "trim-splines" and work.id.startswith(f"{earlier}/"):
                sentence = "Splines are trimmed before more is joined on: the smaller the work, the better a vice holds it."
                yield Reason(work.id, fixing, "holding", sentence, TRADE, ROCKS)
        if earlier not in group.captures and not asked:
            yield from _cleaned_first(job, works, before, group)


def _cleaned_first(job: Job, works: Mapping[str, Work], before: Group, group: Group) -> Iterator[Reason]:
    """What an earlier group cleans is clean before another closes over it, whichever of the two is joined first."""
    cleaning = cleaning_task(before)
    if cleaning in works and set(before.pieces) & set(group.pieces):
        yield _inside(job, works[cleaning], fixing_task(group))


def _cleaned_before_keys(job: Job, works: Mapping[str, Work], group: Group, groups: tuple[Group, ...]) -> Iterator[Reason]:
    """What a group cleans is clean before an earlier one of keyed joints is put together round it: no key is knocked out again
    for cleaning."""
    cleaning = cleaning_task(group)
    if cleaning not in works:
        return
    dirty = dict(works[cleaning].parts)
    for keyed in groups[: groups.index(group)]:
        of_it = {job.part_of(piece).name for piece in keyed.pieces}
        if any("key" in joint.fixed or joint.fit == "loose-pivot" for joint in keyed.joints) and of_it & dirty.keys():
            yield _inside(job, works[cleaning], fixing_task(keyed))


def room_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Cuts that make room for another part come before the two are first put together."""
    named = {group.name: group for group in groups}
    for room in rooms(job, groups):
        group = named[room.group]
        work = works.get(f"{room.part}/{room.feature}/cut")
        if work is not None:
            trying = trying_task(group, works)
            sentence = f"The {words(room.feature)} makes room for the {words(room.other)}, so it is cut before they are tried."
            yield Reason(work.id, trying, "fit", sentence, TRADE, "Without it one part stands where the other must go.")


def _seat_first(job: Job, works: Mapping[str, Work], joint: Joint) -> Iterator[Reason]:
    """Of two cuts that meet in a joint the hollow one is made first and the other is fitted to it: a choice, as either can be
    cut to the marks."""
    if joint.crossing or not (joint.its.feature and joint.seat.feature):
        return
    its = works.get(f"{job.part_of(joint.its.piece).name}/{joint.its.feature}/cut")
    seat = works.get(f"{job.part_of(joint.seat.piece).name}/{joint.seat.feature}/cut")
    if its and seat and isinstance(its.drawn, Dovetails) and isinstance(seat.drawn, DovetailPins):
        sentence = f"The {words(seat.feature)} are marked with a knife from the finished {words(its.feature)}."
        harm = "Tails that are not quite as drawn do not go between pins cut to the drawing."
        yield Reason(its.id, seat.id, "fit", sentence, MARKED_FROM, harm)
    elif its and seat and its.drawn and seat.drawn and its.drawn.nature == seat.drawn.nature == "cut":
        if its.drawn.kind == seat.drawn.kind:
            # Neither is the hollow one: both ends of one part are cut, and the others marked from them.
            seat, its = sorted((seat, its), key=lambda work: list(job.parts).index(work.part))
        sentence = f"Either could be cut first; the {words(seat.feature)} is, so that the {words(its.feature)} is fitted to it."
        yield Reason(seat.id, its.id, "choice", sentence, TRADE)


def _also_fixed(group: Group) -> Iterator[Reason]:
    """Screws draw a glued joint up while it is wet; nails and pins go in when it has set."""
    for kind in group.also:
        work = f"{group.name}/{kind}/{kind}"
        if kind == "screw":
            sentence = "Screws draw the joint up while the glue is wet."
            yield Reason(fixing_task(group), work, "sequence", sentence, TRADE, "Screws driven first hold the joint open.")
            yield Reason(work, last_task(group), "sequence", "The joint is left alone when its screws are in.", TRADE, WET)
        else:
            yield Reason(
                last_task(group), work, "cure", "A wet joint is not hammered: the pins go in when the glue has set.", TRADE, WET
            )
        yield Reason(
            work,
            f"{WHOLE}/clean-up/clean",
            "surface",
            "Heads are below the surface before it is cleaned up.",
            TRADE,
            "A head that stands out takes the edge off the plane.",
        )


def _fitted_to(job: Job, works: Mapping[str, Work], group: Group) -> Iterator[Reason]:
    """A seat is cut to the finished thickness of what goes into it; of a lap, both are seats."""
    for joint in group.joints:
        lapped = joint.crossing or _kinds(job, joint) == ("halving", "halving")
        pairs = [(joint.enters_piece, joint.seat), *([(joint.seat.piece, joint.its)] if lapped else [])]
        for piece, seat in pairs:
            entering, taking = job.part_of(piece), job.part_of(seat.piece)
            made = works.get(f"{entering.name}/thickness/plane")
            cut = works.get(f"{taking.name}/{seat.feature}/cut") if seat.feature else None
            if made and cut and entering.name != taking.name:
                sentence = f"The {words(seat.feature)} is cut to the finished thickness of the {words(entering.name)}."
                yield Reason(
                    made.id, cut.id, "fit", sentence, TRADE, "A seat that is cut to a guess is loose, or does not go on."
                )
        yield from _seat_first(job, works, joint)


def _kinds(job: Job, joint: Joint) -> tuple[str, ...]:
    """The kinds of feature that meet in a joint."""
    return tuple(job.part_of(seat.piece).features[seat.feature].kind for seat in (joint.its, joint.seat) if seat.feature)
