"""Why marking out stands between sizing and cutting, and what is worked in the long before its ends are cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

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

_APART = "Lines that are marked on one piece after the other differ, and so do the parts."


def marking_reasons(own: Mapping[str, Work], cuts: list[Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """What is marked needs true faces and ends; what is cut needs its line; what is worked in the long comes before the
    ends are cut."""
    marking = own.get("mark-out")
    ends = [own[kind] for kind in ("first-end", "length") if kind in own]
    sized = [own[kind] for kind in ("rough-length", "face-marks", "face-side", "face-edge", "thickness", "width") if kind in own]
    making_ends = [cut for cut in cuts if cut.feature.ends_part() and cut.feature.when == "loose"]
    on_stick = [cut for cut in cuts if cut.long and not cut.work.lengthwise and not cut.feature.ends_part()]
    last = own.get("length") if on_stick else None
    if marking:
        for work in (*sized, *(end for end in ends if end is not last)):
            sentence = (
                "Marks are measured from the squared ends." if work in ends else "Marks are measured from true faces and edges."
            )
            yield Reason(work.id, marking.id, "reference", sentence, TRADE)
    for cut in cuts:
        if last is not None and cut.feature.when == "loose":
            if cut.long:
                sentence = (
                    f"The {cut.name} {verb(cut.name)} cut while the part is the end of a longer stick: by itself the part is too "
                    "short to be held for it. The part is sawn off last."
                )
                yield Reason(cut.work.id, last.id, "support", sentence, SHORT)
            else:
                sentence = f"The {cut.name} reaches the end that is sawn off the stick, so that end is made first."
                yield Reason(last.id, cut.work.id, "reference", sentence, TRADE)
        if cut.long and not cut.feature.ends_part() and cut not in on_stick:
            for work in sized:
                yield Reason(
                    work.id,
                    cut.work.id,
                    "reference",
                    f"The {cut.name} runs along a true face and edge, so those come first.",
                    TRADE,
                )
            for end in ends:
                yield Reason(
                    cut.work.id,
                    end.id,
                    "support",
                    f"The {cut.name} is worked in one long piece, {_well_held(cut)}; the parts are cut apart after.",
                    BY_HAND if cut.by_hand else AT_A_MACHINE,
                )
            for other in making_ends:
                yield Reason(
                    cut.work.id,
                    other.work.id,
                    "support",
                    f"The {cut.name} runs out through both ends, so it is worked in the long piece; "
                    f"the {other.name} then cuts the part off.",
                    TRADE,
                )
        elif marking:
            yield Reason(marking.id, cut.work.id, "reference", "A cut needs its line.", TRADE)
        else:
            for work in (*sized, *ends):
                yield Reason(work.id, cut.work.id, "reference", f"The {cut.name} is measured from true faces and ends.", TRADE)
    for cut in cuts:
        lost = next((face for face in (part.face_edge, part.face_side) if takes_away(cut.feature, face, part, bench)), None)
        if lost and not cut.long:
            for other in making_ends:
                yield Reason(
                    other.work.id,
                    cut.work.id,
                    "holding",
                    f"The {other.name} is sawn first: the {cut.name} takes away the {face_called(lost)} by which the long piece "
                    "lies.",
                    TRADE,
                    "What lies on a slope is sawn out of square, and tips.",
                )
    if making_ends:
        for cut in cuts:
            if (
                cut.feature.when == "loose"
                and not cut.long
                and not cut.feature.ends_part()
                and cut.feature.nature in ("bored", "cut")
            ):
                for other in making_ends:
                    gone = next(
                        (face for face in cut.feature.measured_from() if taken_along(cut, other, part, face, bench)), None
                    )
                    if set(other.feature.ends_part()) & set(cut.feature.opens()):
                        yield Reason(
                            other.work.id,
                            cut.work.id,
                            "reach",
                            f"The {cut.name} {verb(cut.name)} sawn in from the end that the {other.name} makes; in the middle of "
                            "a stick no saw gets at it.",
                            TRADE,
                        )
                        continue
                    if set(other.feature.ends_part()) & set(cut.feature.measured_from()):
                        sentence = (
                            f"The {other.name} cuts away the square end that the {cut.name} {verb(cut.name)} measured from."
                        )
                    elif gone:
                        sentence = (
                            f"The {other.name} takes away the {face_called(gone)} along the {cut.name}, which {verb(cut.name)} "
                            "measured from it."
                        )
                    else:
                        continue
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
