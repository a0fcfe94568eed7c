"""Why one cut of a part comes before another: what it takes away, what it leaves to hold, where it comes out."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.features.channel import Trenched
from sequencer.features.cope import Cope
from sequencer.features.dovetailing import Dovetailing
from sequencer.features.mortise import Mortise
from sequencer.features.moulding import Moulding
from sequencer.model.frame import FACES
from sequencer.model.job import Part
from sequencer.model.plan import Bench, Reason
from sequencer.planning.reasons.cuts import (
    Cut,
    datums,
    face_called,
    held_by,
    held_no_more,
    measured_no_more,
    runs_out,
    sawn_through,
    shared_exit,
    taken_along,
    verb,
)
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.shapes_left import meet

HIDDEN = "W. Noyes, Handwork in Wood, 1910, ch. VIII: the groove comes before the joint, so that a tail hides its end"
COPED = "G. A. Ross, Elementary Course in Woodwork, 1901, exercise no. 8: moulded first, then cut back and coped"
MORTISED = "G. A. Ross, Elementary Course in Woodwork, 1901, exercise no. 8: mortised before the rebate is worked"
BORED = "E. W. Foster, Carpentry and Woodwork, 1911, ch. XXV and XXXI"
BESIDE_A_TAIL = "A channel that runs out beside a tail shows on the outside."


def _before_a_shape(first: Cut, second: Cut, part: Part, bench: Bench) -> Iterator[Reason]:
    """Why square work comes before a shape: what it is measured from would be gone, or else what it is held by."""
    spoiled = set(second.feature.spoils())
    marked = sorted(spoiled & {*first.feature.measured_from(), part.face_side, part.face_edge}, key=FACES.index)
    gone = [face for face in marked if measured_no_more(first, second, part, face, bench)]
    held = [] if sawn_through(first) else held_no_more(first, second, part, bench)
    if not gone and not held:
        # What is left is enough for either; it is marked out or held there all the same.
        gone = marked
        held = [] if sawn_through(first) else sorted(spoiled & held_by(first, part, bench), key=FACES.index)
    if gone:
        what = f"takes away the {face_called(gone[0])} that the {first.name} {verb(first.name)} measured from."
        yield Reason(first.work.id, second.work.id, "datum", f"The {second.name} {what}", TRADE)
    elif held:
        what = f"takes away the straight {face_called(held[0])} that the part is held by."
        yield Reason(first.work.id, second.work.id, "holding", f"Square work first: the {second.name} {what}", TRADE)


def pair_reasons(first: Cut, second: Cut, part: Part, bench: Bench) -> Iterator[Reason]:
    """Why `first` comes before `second`, for two cuts of one part."""
    one, other = first.feature, second.feature
    if one.only and other.only and one.only != other.only:
        # No piece has both.
        return
    if one.ends_part() == ("left",) and other.ends_part() == ("right",):
        sentence = f"The {second.name} is measured from the end that the {first.name} makes."
        yield Reason(first.work.id, second.work.id, "reference", sentence, TRADE)
    if one.ends_part() or other.ends_part():
        return
    yield from _of_faces(first, second, part, bench)
    if isinstance(one, Trenched) and first.work.lengthwise and isinstance(other, Dovetailing) and runs_out(first, other, part):
        sentence = f"The {first.name} is cut before the {second.name}, so that its end can be seen to come out under a tail."
        yield Reason(first.work.id, second.work.id, "sequence", sentence, HIDDEN, BESIDE_A_TAIL)
    if any(meet(a, b) for a in first.boxes for b in second.boxes):
        yield from _of_kinds(first, second)
        yield from _where_they_meet(first, second, part)


def _of_faces(first: Cut, second: Cut, part: Part, bench: Bench) -> Iterator[Reason]:
    """What takes away the face that another is measured from, worked from or held by comes after it."""
    one, other = first.feature, second.feature
    spoiled = set(other.spoils())
    if spoiled and not one.spoils() and one.nature in ("bored", "cut"):
        yield from _before_a_shape(first, second, part, bench)
    if spoiled and one.spoils():
        gone = spoiled & datums(one, part)
        if gone and not set(one.spoils()) & datums(other, part):
            face = face_called(sorted(gone, key=FACES.index)[0])
            sentence = f"The {second.name} takes away the {face} that the {first.name} {verb(first.name)} worked from."
            yield Reason(first.work.id, second.work.id, "datum", sentence, TRADE)
    if not spoiled and one.nature in ("bored", "cut") and other.nature == "cut":
        run = next((face for face in one.measured_from() if taken_along(first, second, part, face, bench)), None)
        if run and not any(taken_along(second, first, part, face, bench) for face in other.measured_from()):
            sentence = (
                f"The {second.name} takes away the {face_called(run)} along the {first.name}, which {verb(first.name)} measured "
                "from it."
            )
            yield Reason(first.work.id, second.work.id, "datum", sentence, TRADE)


def _of_kinds(first: Cut, second: Cut) -> Iterator[Reason]:
    """Cuts of certain kinds that meet: a shoulder before the joint measured from it, a mortise before what takes the wood at its
    mouth, a moulding before the cope that fits it."""
    one, other = first.feature, second.feature
    ids = first.work.id, second.work.id
    if one.nature == "cut" and isinstance(other, Dovetailing) and other.end in one.opens() and not isinstance(one, Dovetailing):
        sentence = f"The {first.name} is cut before the {second.name}, which are measured from the shoulder it leaves."
        harm = "A joint that is cut first has its shoulder in wood that is taken away later."
        yield Reason(*ids, "sequence", sentence, TRADE, harm)
    if isinstance(one, Mortise) and other.nature == "cut" and second.work.lengthwise and not second.long:
        sentence = (
            f"The {second.name} takes away wood at the mouth of the {first.name} that carries its lines and guides the chisel."
        )
        harm = "A mortise without its lines wanders, and its chisel has nothing to stand against."
        yield Reason(*ids, "datum", sentence, MORTISED, harm)
    if isinstance(one, Moulding) and isinstance(other, Cope):
        sentence = f"The {first.name} is worked right along first; the {second.name} is cut to it."
        harm = "A moulding that is worked after its end is cut has no whole edge to run on, and the cope no line to follow."
        yield Reason(*ids, "sequence", sentence, COPED, harm)


def _where_they_meet(first: Cut, second: Cut, part: Part) -> Iterator[Reason]:
    """Of cuts that meet what is bored comes first, edges last, and what is cut across the grain before what runs along it."""
    one, other = first.feature, second.feature
    ids = first.work.id, second.work.id
    if one.nature == "bored" and other.nature == "cut":
        sentence = f"The {first.name} is bored first: the {second.name} runs into it and starts or ends there."
        yield Reason(*ids, "reach", sentence, BORED)
    elif other.nature == "edge" and one.nature != "edge":
        sentence = f"The {second.name} follows an edge that the {first.name} makes."
        harm = "An edge that is broken first splinters where the next cut runs through it."
        yield Reason(*ids, "break-out", sentence, TRADE, harm)
    elif one.nature == other.nature == "cut" and second.work.lengthwise and not first.work.lengthwise and not second.long:
        exit_face = shared_exit(first, second, part)
        if exit_face:
            sentence = f"Across the grain first: wood that breaks out at the {exit_face} is taken away by the {second.name}."
            harm = f"The fibres at the {exit_face} break out where the cutter leaves them."
            yield Reason(*ids, "break-out", sentence, TRADE, harm)
