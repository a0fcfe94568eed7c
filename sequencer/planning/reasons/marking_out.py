"""Why marking out stands between sizing and cutting, and what is worked in the long before its ends are cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sequencer.design.marked_together import marked_together
from sequencer.model.job import Job, Part
from sequencer.model.plan import Bench, Reason
from sequencer.planning.reasons.cuts import Cut, face_called, taken_along, verb
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.shapes_left import takes_away
from sequencer.planning.work import Work, words

SHORT = "common practice: what is too short to be held for its cuts is worked on a longer stick"
BY_HAND = "common practice: what a hand tool runs along is worked in a long length and cut apart"
AT_A_MACHINE = "Published accident reports name short pieces at machines; working in long lengths is common practice"

TIPS = "What lies on a slope is sawn out of square, and tips."
_APART = "Lines that are marked on one piece after the other differ, and so do the parts."


@dataclass(frozen=True)
class _Own:
    """What is done on one part besides its cuts.

    sized
        What brings it to size and trues its faces.
    ends
        What makes its square ends.
    last
        What saws it off the stick it is cut on, where that is the last of all.
    making_ends, on_stick
        Cuts that make its ends, and cuts that are made while it is the end of a longer stick.
    """

    marking: Work | None
    sized: list[Work]
    ends: list[Work]
    last: Work | None
    making_ends: list[Cut]
    on_stick: list[Cut]


def _own_work(own: Mapping[str, Work], cuts: list[Cut]) -> _Own:
    on_stick = [cut for cut in cuts if cut.long and not cut.work.lengthwise and not cut.feature.ends_part()]
    return _Own(
        own.get("mark-out"),
        [own[kind] for kind in ("rough-length", "face-marks", "face-side", "face-edge", "thickness", "width") if kind in own],
        [own[kind] for kind in ("first-end", "length") if kind in own],
        own.get("length") if on_stick else None,
        [cut for cut in cuts if cut.feature.ends_part() and cut.feature.when == "loose"],
        on_stick,
    )


def marking_reasons(own: Mapping[str, Work], cuts: list[Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """What is marked needs true faces and ends; what is cut needs its line; what is worked in the long comes before the
    ends are cut."""
    done = _own_work(own, cuts)
    if done.marking:
        for work in (*done.sized, *(end for end in done.ends if end is not done.last)):
            measured = "the squared ends" if work in done.ends else "true faces and edges"
            yield Reason(work.id, done.marking.id, "reference", f"Marks are measured from {measured}.", TRADE)
    for cut in cuts:
        if done.last is not None and cut.feature.when == "loose":
            yield _sawn_off_last(cut, done.last)
        if cut.long and not cut.feature.ends_part() and cut not in done.on_stick:
            yield from _in_the_long(cut, done)
        elif done.marking:
            yield Reason(done.marking.id, cut.work.id, "reference", "A cut needs its line.", TRADE)
        else:
            for work in (*done.sized, *done.ends):
                yield Reason(work.id, cut.work.id, "reference", f"The {cut.name} is measured from true faces and ends.", TRADE)
    for cut in cuts:
        if not cut.long:
            yield from _ends_before_the_face_is_lost(cut, done.making_ends, part, bench)
    for cut in cuts:
        loose = cut.feature.when == "loose" and not cut.long and not cut.feature.ends_part()
        if loose and cut.feature.nature in ("bored", "cut"):
            for other in done.making_ends:
                yield from _with_an_end(cut, other, part, bench)


def _sawn_off_last(cut: Cut, last: Work) -> Reason:
    """A part that is cut on a stick is sawn off it after its cuts, and before what reaches the end that this makes."""
    if not cut.long:
        sentence = f"The {cut.name} reaches the end that is sawn off the stick, so that end is made first."
        return Reason(last.id, cut.work.id, "reference", sentence, TRADE)
    sentence = (
        f"The {cut.name} {verb(cut.name)} cut while the part is the end of a longer stick: by itself the part is too "
        "short to be held for it. The part is sawn off last."
    )
    return Reason(cut.work.id, last.id, "support", sentence, SHORT)


def _in_the_long(cut: Cut, done: _Own) -> Iterator[Reason]:
    """What runs along a long piece comes after that is true, and before any end is made on it."""
    for work in done.sized:
        sentence = f"The {cut.name} runs along a true face and edge, so those come first."
        yield Reason(work.id, cut.work.id, "reference", sentence, TRADE)
    for end in done.ends:
        sentence = f"The {cut.name} is worked in one long piece, {_well_held(cut)}; the parts are cut apart after."
        yield Reason(cut.work.id, end.id, "support", sentence, BY_HAND if cut.by_hand else AT_A_MACHINE)
    for other in done.making_ends:
        sentence = (
            f"The {cut.name} runs out through both ends, so it is worked in the long piece; the {other.name} then cuts the part "
            "off."
        )
        yield Reason(cut.work.id, other.work.id, "support", sentence, TRADE)


def _ends_before_the_face_is_lost(cut: Cut, making_ends: list[Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """Ends are sawn before a cut takes away the face by which the long piece lies for that."""
    lost = next((face for face in (part.face_edge, part.face_side) if takes_away(cut.feature, face, part, bench)), None)
    for other in making_ends if lost else ():
        assert lost is not None
        sentence = (
            f"The {other.name} is sawn first: the {cut.name} takes away the {face_called(lost)} by which the long piece lies."
        )
        yield Reason(other.work.id, cut.work.id, "holding", sentence, TRADE, TIPS)


def _with_an_end(cut: Cut, other: Cut, part: Part, bench: Bench) -> Iterator[Reason]:
    """A cut and another that makes an end: what is sawn in from the end comes after, what is measured from wood that the other
    takes away before."""
    made = set(other.feature.ends_part())
    if made & set(cut.feature.opens()):
        sentence = (
            f"The {cut.name} {verb(cut.name)} sawn in from the end that the {other.name} makes; in the middle of a stick no saw "
            "gets at it."
        )
        yield Reason(other.work.id, cut.work.id, "reach", sentence, TRADE)
        return
    measured = f"{verb(cut.name)} measured from"
    gone = next((face for face in cut.feature.measured_from() if taken_along(cut, other, part, face, bench)), None)
    if made & set(cut.feature.measured_from()):
        sentence = f"The {other.name} cuts away the square end that the {cut.name} {measured}."
    elif gone:
        sentence = f"The {other.name} takes away the {face_called(gone)} along the {cut.name}, which {measured} it."
    else:
        return
    yield Reason(cut.work.id, other.work.id, "datum", sentence, TRADE)


def beside_reasons(job: Job, works: Mapping[str, Work]) -> Iterator[Reason]:
    """Parts that are marked out side by side are all marked before one of them is cut: its lines go with the wood."""
    beside = marked_together(job)
    marks = [work for work in works.values() if work.kind == "mark-out" and work.part in beside]
    cuts = [work for work in works.values() if work.drawn is not None and work.drawn.when == "loose" and work.part in beside]
    for mark in marks:
        for cut in cuts:
            if cut.part != mark.part and cut.part in beside[mark.part].parts:
                sentence = f"The {words(mark.part)} and the {words(cut.part)} are marked side by side, before either is cut."
                yield Reason(mark.id, cut.id, "reference", sentence, TRADE, _APART)


def _well_held(cut: Cut) -> str:
    """Why a long piece is better to work on than each part by itself."""
    if cut.by_hand:
        return "on which a hand tool has a longer run and the wood is better held than part by part"
    return "which is held well clear of the cutter"
