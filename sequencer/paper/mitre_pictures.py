"""A piece with a mitre at either end, seen square on: which end is the left one, and which side is the long one. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.poses import Direction, Pose
from sequencer.features.base import mm
from sequencer.features.mitre import Mitre
from sequencer.model.frame import FaceName, Point, axis_of, face_at
from sequencer.model.job import Part
from sequencer.paper.scene import Arrow, Scene, Size, Thing
from sequencer.paper.whole import turned_so
from sequencer.planning.going_together import NOUNS
from sequencer.solid.solids import Solid
from sequencer.solid.whereabouts import face_word

ARROW = 9.0
"""How long an arrow to a sloping end is drawn, mm."""


def seen_on(part: Part) -> FaceName | None:
    """The face of a part that its mitres are seen square from: the inside of a piece of a frame, the top edge of a box's side;
    None for a part without mitres, or with both sorts."""
    through = {feature.through() for feature in part.features.values() if isinstance(feature, Mitre)}
    return face_at(through.pop(), True) if len(through) == 1 else None


def face_words(part: Part, face: FaceName) -> str:
    """A face in words, with what kind of face it is: `front face`, `top edge`."""
    word = face_word(part, face).replace("-", " ")
    return word if word.split()[-1] in NOUNS.values() else f"{word} {NOUNS[axis_of(face)]}"


def both_ends(part: Part, body: Solid) -> Scene | None:
    """A part seen square on the face that shows its mitres, with the name of each sloping end and its length on the long side;
    None for a part without mitres."""
    face = seen_on(part)
    if face is None:
        return None
    up, front = (Direction("y", 1), Direction("z", 1)) if axis_of(face) == "z" else (Direction("z", -1), Direction("y", 1))
    solid = body.posed(Pose(turned_so(up, front)))
    bounds = solid.bounds
    moved = solid.moved(-bounds.low.x, 0.0, -bounds.low.z)
    mitres = [feature for feature in part.features.values() if isinstance(feature, Mitre)]
    size = _length(mitres, moved, up)
    return Scene((Thing(moved, letter=part.letter),), (size,), tuple(_named(mitres, moved)), looks_from=Point(0.0, -1.0, 0.0))


def _length(mitres: list[Mitre], solid: Solid, up: Direction) -> Size:
    """How long the part is along the long side of its mitres."""
    bounds = solid.bounds
    above = (mitres[0].long in ("top", "inside")) == (up.sign > 0)
    level = bounds.high.z if above else bounds.low.z
    start, stop = Point(bounds.low.x, bounds.low.y, level), Point(bounds.high.x, bounds.low.y, level)
    return Size(start, stop, mm(bounds.size("x")), Point(0.0, 0.0, 1.0 if above else -1.0))


def _named(mitres: list[Mitre], solid: Solid) -> Iterator[Arrow]:
    """The name of each sloping end beside it."""
    bounds = solid.bounds
    middle = (bounds.low.z + bounds.high.z) / 2
    for mitre in mitres:
        side = -1.0 if mitre.end == "left" else 1.0
        tip = bounds.low.x if mitre.end == "left" else bounds.high.x
        at = tip - side * bounds.size("z") / 2
        yield Arrow(Point(tip + side * ARROW, bounds.low.y, middle), Point(at, bounds.low.y, middle), mitre.end)
