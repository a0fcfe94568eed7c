"""How cards name pieces and their faces, and which pieces each cramp of a glue-up draws together. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, face_towards
from sequencer.features.base import mm
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, mirrored
from sequencer.model.job import Job
from sequencer.planning.closing import Closing, joints_of
from sequencer.planning.jaws import TenonEnd
from sequencer.planning.pressing import Press, presses
from sequencer.reading.words import listed
from sequencer.solid.whereabouts import face_word

NUMBERS = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
NOUNS: Mapping[Axis, str] = {"x": "end", "y": "edge", "z": "face"}
"""What a face across each axis is called after its own name, where that does not end so."""


def label(job: Job, piece: str) -> str:
    """A piece as the card names it: the letter of its part, with its hand or number where there are several: `A left`, `B 2`."""
    part = job.part_of(piece)
    more = piece.removeprefix(part.name).replace(".", " ").strip()
    return f"{part.letter} {more}".strip()


def own_face(placement: Placement, piece: str, way: Point) -> FaceName:
    """The face of a piece, as its part is drawn, from whose side something comes that moves along an axis."""
    index = next(number for number, part in enumerate(way) if part)
    body = placement.bodies[piece]
    face = face_towards(placement.poses[piece].own(Direction(AXES[index], -1 if way[index] > 0 else 1)))
    return mirrored(face) if body.mirrored else face


def face_from(placement: Placement, piece: str, way: Point) -> str:
    """That face in words: `inside face`, `pot end`."""
    own = own_face(placement, piece, way)
    word = face_word(placement.bodies[piece].part, own).replace("-", " ")
    return word if word.split()[-1] in NOUNS.values() else f"{word} {NOUNS[axis_of(own)]}"


def cramp_lines(job: Job, closing: Closing, placement: Placement, working: Working) -> Iterator[str]:
    """Which pieces each cramp draws together, one line for those that are alike; then where all of them stand."""
    found = list(presses(job, joints_of(closing), placement, working))
    said: dict[tuple[str, str], list[Press]] = {}
    for press in found:
        one, other = press.over
        how = f"Put {_cramps(press.number)} from {label(job, one)} to"
        if one == other:
            said.setdefault((f"Put {_cramps(press.number)} across {label(job, one)}, over", "between"), []).append(press)
        elif press.between:
            said.setdefault((f"{how} {label(job, other)}, at", "between"), []).append(press)
        elif press.across or press.tails:
            said.setdefault((f"{how} the {_far_face(placement, press)} of", "onto"), []).append(press)
        else:
            said.setdefault((how, "onto"), []).append(press)
    for (start, kind), alike in said.items():
        yield f"{start} {_each(job, [press.between if kind == 'between' else press.over[1] for press in alike])}."
    if any(press.tails for press in found):
        yield "Lay blocks on the tails only, clear of the pins."
    yield from _kept_free([end for press in found for end in press.ends])
    yield from _standing(found, working)


def _far_face(placement: Placement, press: Press) -> str:
    """The face of the other piece under the second jaw of a cramp that presses along it."""
    one, other = (sum(placement.span(piece, press.axis)) for piece in press.over)
    way = dict.fromkeys(AXES, 0.0) | {press.axis: 1.0 if other < one else -1.0}
    return face_from(placement, press.over[1], Point(*(way[axis] for axis in AXES)))


def _kept_free(ends: Sequence[TenonEnd]) -> Iterator[str]:
    """How the ends of tenons right through are kept from the jaws."""
    if not ends:
        return
    yield f"Put a notched block {mm(max(end.block for end in ends))} mm thick round each tenon end."
    for driven in dict.fromkeys(end.driven for end in ends if end.driven):
        yield f"Set each jaw beside its tenon, to leave room for {driven}s."


def _standing(found: Sequence[Press], working: Working) -> Iterator[str]:
    """Where cramps stand along their joints, of those that no wedge has to be driven beside."""
    numbers = {press.number for press in found if not any(end.driven for end in press.ends)}
    if 1 in numbers:
        yield f"Set {'each' if numbers == {1} else 'a single'} cramp in the middle of its joint."
    if numbers - {1}:
        yield f"Set the outer cramps {mm(working.cramp_from_end)} mm from the ends of the joint."


def _cramps(number: int) -> str:
    return f"{NUMBERS.get(number, str(number))} cramp{'s' if number > 1 else ''}"


def _each(job: Job, pieces: Sequence[str]) -> str:
    letters: Mapping[str, None] = dict.fromkeys(job.part_of(piece).letter for piece in pieces)
    if len(pieces) == 1:
        return label(job, pieces[0])
    return f"each {next(iter(letters))}" if len(letters) == 1 else f"each of {listed(list(letters))}"
