"""Every part of a job in the round, once, both hands of a handed part, all at one scale, with letter, name, count and size.

mm. For the first page of the job card and for staff.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sequencer.design.bodies import body
from sequencer.design.poses import Direction, Pose, normal
from sequencer.features.base import mm
from sequencer.model.frame import FaceName, Hand, Point
from sequencer.model.job import Job, Part, Piece
from sequencer.paper.axonometric import SCALES, draw_scene
from sequencer.paper.outlines import eye
from sequencer.paper.scene import FROM_THE_LEFT, Scene, Thing
from sequencer.paper.svg import TEXT, Box, Paper, Pen, Picture, moved, shortened, text_width
from sequencer.solid.parts import part_solid

_RING = 2.6
"""Radius of the ring round a letter, mm on paper."""
_HEAD = 2 * _RING + 1.0
_LINE = 4.4
"""Height of a line of text, mm on paper."""
_BETWEEN = 3.0
"""Between parts, and between the two hands of one, mm on paper."""

_LIES = (
    Pose((Direction("x", 1), Direction("y", 1), Direction("z", 1))),
    Pose((Direction("x", -1), Direction("y", -1), Direction("z", 1))),
    Pose((Direction("x", 1), Direction("y", -1), Direction("z", -1))),
    Pose((Direction("x", -1), Direction("y", 1), Direction("z", -1))),
)
"""The ways a piece may lie on its broad face, the inside up first."""
_SEEN = (Direction("z", 1), Direction("y", -1), Direction("x", -1))
"""The ways that look at the viewer."""


@dataclass(frozen=True, eq=False)
class _Shown:
    """A piece as it lies in the picture, without a scale."""

    job: Job
    piece: Piece

    @cached_property
    def scene(self) -> Scene:
        return part_scene(self.job, self.job.parts[self.piece.part], self.piece.hand)

    @cached_property
    def size(self) -> Paper:
        """Width and height for a mm of wood."""
        viewer = eye(FROM_THE_LEFT)
        around = self.scene.things[0].solid.bounds
        corners = [viewer.direction(Point(x, y, z)) for x, y, z in _corners(around.low, around.high)]
        across, up = [each.x for each in corners], [each.y for each in corners]
        return max(across) - min(across), max(up) - min(up)


def _corners(low: Point, high: Point) -> Iterator[tuple[float, float, float]]:
    for x in (low.x, high.x):
        for y in (low.y, high.y):
            for z in (low.z, high.z):
                yield x, y, z


def part_scene(job: Job, part: Part, hand: Hand | None) -> Scene:
    """A finished piece of a part by itself, lying so that most of what is cut in it can be seen."""
    piece = next(piece for piece in part.pieces if piece.hand == hand)
    lie = max(_LIES, key=lambda pose: _seen_features(part, piece, pose))
    return Scene((Thing(part_solid(body(job, piece)).posed(lie)),))


def _seen_features(part: Part, piece: Piece, lie: Pose) -> int:
    """How many features open to the viewer when a piece lies so."""

    def looks(face: FaceName) -> bool:
        way = normal(face)
        own = Direction(way.axis, -way.sign) if piece.hand == "right" and way.axis == "x" else way
        return lie.direction(own) in _SEEN

    return sum(any(looks(face) for face in each.opens()) for each in part.features_of(piece.hand))


@dataclass(frozen=True, eq=False)
class _Cell:
    """A part with its words, and its pieces beside each other."""

    part: Part
    pieces: tuple[_Shown, ...]

    @property
    def head(self) -> str:
        pair = ", a pair" if self.part.handed and self.part.count == 2 else ""
        return f"{self.part.name.replace('-', ' ')} × {self.part.count}{pair}"

    @property
    def sizes(self) -> str:
        """Length x width x thickness, or the length and the diameter."""
        part = self.part
        if part.section == "round":
            return f"{mm(part.length)}, diameter {mm(part.thickness)}"
        return f"{mm(part.length)} × {mm(part.width)} × {mm(part.thickness)}"

    def box(self, scale: float) -> Paper:
        """Width and height at a scale, mm on paper."""
        wide = [self._room(piece, scale)[0] for piece in self.pieces]
        words = max(2 * _RING + 1.5 + text_width(self.head), text_width(self.sizes, bold=False))
        tall = max(self._room(piece, scale)[1] for piece in self.pieces)
        hands = _LINE if len(self.pieces) > 1 else 0.0
        return max(sum(wide) + _BETWEEN * (len(wide) - 1), words), _HEAD + _LINE + tall + hands

    @staticmethod
    def _room(piece: _Shown, scale: float) -> Paper:
        return piece.size[0] * scale + 1.0, piece.size[1] * scale + 1.0

    def draw(self, pen: Pen, left: float, top: float, scale: float, width: float) -> None:
        """Draws it with the top left corner of its room at a point of the paper."""
        middle = top + _RING
        pen.circle((left + _RING, middle), _RING, 0.4)
        pen.text(self.part.letter, (left + _RING, middle), kind="letter", size=TEXT if len(self.part.letter) == 1 else 2.6)
        head = shortened(self.head, width - 2 * _RING - 1.5)
        pen.text(head, (left + 2 * _RING + 1.5, middle), anchor="start", kind="part")
        pen.text(self.sizes, (left, top + _HEAD + _LINE / 2 - 0.4), anchor="start", bold=False, kind="size")
        at, under = left, top + _HEAD + _LINE
        tall = max(self._room(piece, scale)[1] for piece in self.pieces)
        for piece in self.pieces:
            wide, high = self._room(piece, scale)
            pen.elements.append(moved(draw_scene(piece.scene, wide, high, scale, whole=True), at, under + tall - high))
            if len(self.pieces) > 1:
                spot = at + wide / 2, under + tall + _LINE / 2
                pen.text(piece.piece.hand or "", spot, bold=False, kind="hand")
            at += wide + _BETWEEN


def parts_overview(job: Job, width: float, height: float) -> Picture:
    """All parts in a room of `width` by `height` mm, as large as fit at one scale. `readable` is False if they do not fit."""
    cells = []
    for part in job.parts.values():
        hands = {piece.hand: piece for piece in reversed(part.pieces)}
        cells.append(_Cell(part, tuple(_Shown(job, hands[hand]) for hand in sorted(hands, key=str))))
    scale = next((each for each in SCALES if each <= 1 and _fits(cells, each, width, height)), SCALES[-1])
    pen = Pen()
    top = 0.0
    for row in _rows(cells, scale, width):
        boxes = [cell.box(scale) for cell in row]
        tall = max(box[1] for box in boxes)
        spare = max(width - sum(box[0] for box in boxes), 0.0) / len(row)
        left = 0.0
        for cell, box in zip(row, boxes, strict=True):
            cell.draw(pen, left, top, scale, max(box[0], width - left))
            left += box[0] + min(spare, 4 * _BETWEEN)
        top += tall + _BETWEEN
    used = max(top - _BETWEEN, 0.0)
    fits = _fits(cells, scale, width, height)
    title = f"The parts of {job.name}"
    return Picture(pen.finish(width, used, title), width, used, tuple(pen.boxes), fits and _apart(pen.boxes))


def _apart(boxes: Sequence[Box]) -> bool:
    return not any(one.overlaps(two) for number, one in enumerate(boxes) for two in boxes[:number])


def _rows(cells: Sequence[_Cell], scale: float, width: float) -> list[list[_Cell]]:
    """Cells in order, as many in a row as there is room for."""
    rows: list[list[_Cell]] = []
    left = 0.0
    for cell in cells:
        wide = cell.box(scale)[0]
        if rows and left + wide <= width:
            rows[-1].append(cell)
        else:
            rows.append([cell])
            left = 0.0
        left += wide + _BETWEEN
    return rows


def _fits(cells: Sequence[_Cell], scale: float, width: float, height: float) -> bool:
    rows = _rows(cells, scale, width)
    tall = sum(max(cell.box(scale)[1] for cell in row) for row in rows) + _BETWEEN * (len(rows) - 1)
    return tall <= height and all(cell.box(scale)[0] <= width for cell in cells)
