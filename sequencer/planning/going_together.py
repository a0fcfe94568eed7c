"""What a card says of bringing pieces together: what stands first, what goes in next, where cramps press. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.design.joining import listed
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.poses import Direction, face_towards
from sequencer.design.standing import up_of
from sequencer.features.base import mm
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, Axis, Point, axis_of, mirrored
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Step
from sequencer.planning.closing import Closing, joints_of, pieces_in
from sequencer.planning.jaws import TenonEnd
from sequencer.planning.pressing import Press, is_lap, mitred, presses
from sequencer.solid.disassembly import Move
from sequencer.solid.whereabouts import face_word

NUMBERS = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
_NOUNS: Mapping[Axis, str] = {"x": "end", "y": "edge", "z": "face"}
"""What a face across each axis is called after its own name, where that does not end so."""


def label(job: Job, piece: str) -> str:
    """A piece as the card names it: the letter of its part, with its hand or number where there are several: `A left`, `B 2`."""
    part = job.part_of(piece)
    more = piece.removeprefix(part.name).replace(".", " ").strip()
    return f"{part.letter} {more}".strip()


def order_lines(job: Job, closing: Closing, placement: Placement) -> Iterator[str]:
    """What stands first, then each move in the order it is made, one a line; what comes from below when the work is turned."""
    if not closing.told:
        return
    first = closing.bodies[closing.told[0].onto[0]]
    group = next((each for each in placement.groups if first[0] in each), first)
    up = up_of(placement, group)
    beside = not any(_meet(joint, first, pieces_in(closing, closing.told[0].bodies)) for joint in closing.group.joints)
    yield f"Stand {_body(job, first, first[0])} on the bench." if beside else f"Start with {_body(job, first, first[0])}."
    for move in closing.told:
        if _goes(move, up):
            yield "Turn the work over, its joints held shut."
            up = up.reversed
        yield _move_line(job, closing, move, placement, up)


def _meet(joint: Joint, some: Collection[str], others: Collection[str]) -> bool:
    """Whether a joint connects two sets of pieces."""
    one, other = joint.enters_piece, joint.seat.piece
    return (one in some and other in others) or (other in some and one in others)


def _goes(move: Move, way: Direction) -> bool:
    """Whether a move goes straight that way."""
    return tuple(move.way) == tuple(way.sign * float(axis == way.axis) for axis in AXES)


def _body(job: Job, pieces: Sequence[str], named: str) -> str:
    """What is moved as one: a piece, or what earlier glue-ups have joined, by its name in the drawing and one of its pieces."""
    if len(pieces) == 1:
        return label(job, named)
    names = {joint.assembly for joint in job.joints.values() if {joint.enters_piece, joint.seat.piece} <= {*pieces}}
    called = names.pop().rstrip("0123456789").strip("-").replace("-", " ") if len(names) == 1 else ""
    return f"the {called or 'frame'} with {label(job, named)}"


def _move_line(job: Job, closing: Closing, move: Move, placement: Placement, up: Direction) -> str:
    moved = [piece for body in move.bodies for piece in closing.bodies[body]]
    there = [piece for body in move.onto for piece in closing.bodies[body]]
    met: dict[str, Joint] = {}
    """Pieces that are there, by the joint that meets them, in the order of the drawing."""
    own = moved[0]
    for each in closing.group.joints:
        for mine, other in ((each.enters_piece, each.seat.piece), (each.seat.piece, each.enters_piece)):
            if mine in moved and other in there:
                own = mine if not met else own
                met.setdefault(other, each)
    what = _body(job, moved, own)
    if not met:
        return f"Stand {what} beside it."
    others = list(met)
    if sorted(abs(part) for part in move.way) != [0.0, 0.0, 1.0]:
        return f"Push {what} onto {label(job, others[0])}, along the slope."
    if all(mitred(job, joint) for joint in met.values()):
        return f"Push {what} against {listed([label(job, other) for other in others])}, mitre to mitre."
    index = next(number for number, part in enumerate(move.way) if part)
    way = Direction(AXES[index], 1 if move.way[index] > 0 else -1)
    bearings = {other: placement.bearing(joint.name) for other, joint in met.items()}
    ahead = [other for other in others if (bearing := bearings[other]) is None or bearing.looks.axis == way.axis]
    beside = [label(job, other) for other in others if other not in ahead]
    down = "down " if way == up.reversed else ""
    guided = f"between {' and '.join(beside)}" if len(beside) > 1 else f"along {beside[0]}" if beside else ""
    if not ahead:
        side = "" if down else f", from the {_face_from(placement, others[0], move.way)}"
        return f"Push {what} {down}{guided}{side}."
    ahead.sort(key=lambda other: way.sign * sum(placement.span(other, way.axis)))
    last = ahead[-1]
    passed = [other for other in ahead[:-1] if _through(job, met[other]) and _apart(placement, other, last, way)]
    if passed:
        onto = f"{down}through {listed([label(job, other) for other in passed])} into {label(job, last)}"
    elif down and all(is_lap(met[other]) for other in ahead):
        onto = f"{down}into the lap{'s' if len(ahead) > 1 else ''} of {listed(sorted(label(job, other) for other in ahead))}"
    elif down or len(ahead) > 1:
        onto = f"{down}onto {listed(sorted(label(job, other) for other in ahead))}"
    else:
        onto = f"onto the {_face_from(placement, last, move.way)} of {label(job, last)}"
    return f"Push {what} {onto}{', ' if guided else ''}{guided}."


def _through(job: Job, joint: Joint) -> bool:
    """Whether what enters can pass right through its seat."""
    feature = job.part_of(joint.seat.piece).features.get(joint.seat.feature)
    return feature is not None and feature.kind == "hole"


def _apart(placement: Placement, one: str, other: str, way: Direction) -> bool:
    """Whether one piece lies wholly before another on a way."""
    first, second = placement.span(one, way.axis), placement.span(other, way.axis)
    return first[1] <= second[0] if way.sign > 0 else first[0] >= second[1]


def _face_from(placement: Placement, piece: str, way: Point) -> str:
    """The face of a piece from whose side something comes that moves along an axis: `inside face`, `pot end`."""
    index = next(number for number, part in enumerate(way) if part)
    body = placement.bodies[piece]
    face = face_towards(placement.poses[piece].own(Direction(AXES[index], -1 if way[index] > 0 else 1)))
    own = mirrored(face) if body.mirrored else face
    word = face_word(body.part, own).replace("-", " ")
    return word if word.split()[-1] in _NOUNS.values() else f"{word} {_NOUNS[axis_of(own)]}"


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
        elif press.across:
            said.setdefault((f"{how} the {_far_face(placement, press)} of", "onto"), []).append(press)
        else:
            said.setdefault((how, "onto"), []).append(press)
    for (start, kind), alike in said.items():
        yield f"{start} {_each(job, [press.between if kind == 'between' else press.over[1] for press in alike])}."
    yield from _kept_free([end for press in found for end in press.ends])
    yield from _standing(found, working)


def _far_face(placement: Placement, press: Press) -> str:
    """The face of the other piece under the second jaw of a cramp that presses along it."""
    one, other = (sum(placement.span(piece, press.axis)) for piece in press.over)
    way = dict.fromkeys(AXES, 0.0) | {press.axis: 1.0 if other < one else -1.0}
    return _face_from(placement, press.over[1], Point(*(way[axis] for axis in AXES)))


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


def told(steps: Sequence[Step], job: Job, closings: Sequence[Closing], working: Working) -> tuple[Step, ...]:
    """The steps, each glue-up with the order in which its pieces go in and what its cramps draw together; of alike
    sub-assemblies that of the first."""
    placement = place(job)
    lines: dict[str, list[str]] = {}
    for closing in closings:
        name = f"{closing.group.name}/glue/glue"
        if closing.group.fixing == "glue" and (closing.group.times == 1 or name not in lines):
            lines.setdefault(name, []).extend(
                (*order_lines(job, closing, placement), *cramp_lines(job, closing, placement, working))
            )
    return tuple(replace(step, together=tuple(line for task in step.tasks for line in lines.get(task, ()))) for step in steps)
