"""The pieces as they stand together, upright and from above, each with its letter and hand. mm.

Pieces are drawn where the joints place them, with what is cut from them; a piece behind another is not seen through it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, hypot

from sequencer.design.placing import Placement
from sequencer.design.poses import Direction, Pose, normal
from sequencer.model.frame import AXES, Axis, FaceName, mirrored, others
from sequencer.model.job import Job
from sequencer.model.shapes import Bounds, Prism, bounds
from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width
from sequencer.paper.views import Cut, Flat, Frame, Line, Wood, body_of, seen

_NAME = 3.2
"""Height of the names of ends and hands, mm on paper."""
_RING = 2.6
"""Radius of the ring round a letter, mm on paper."""
_TITLE = 5.0
_BESIDE = 2.5
"""Between the picture and the letters that stand beside it, mm on paper."""
_STEP = 2.0
"""Lines are cut into pieces of at most this on paper to see what is behind others, mm."""
_SCALES = (0.6, 0.5, 0.42, 0.36, 0.3, 0.26, 0.22, 0.19, 0.16, 0.14, 0.12, 0.1, 0.085, 0.07, 0.06, 0.05, 0.04, 0.03, 0.02, 0.01)
_GROWTH, _WORTH = 1.5, 1.35
"""How much higher the picture may be where that draws the pieces so many times as large."""
_THIN = 0.2
"""A view this many times longer than high shows edges only."""
_SPOTS = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where in the box around a piece its letter may stand, shares of its size."""

Towards = tuple[Direction, Direction, Direction]
"""Which way of the group points to the right, up and towards the viewer."""


@dataclass(frozen=True)
class Standing:
    """A piece in a view: x to the right, y up, z towards the viewer, in the group's place."""

    name: str
    letter: str
    hand: str
    wood: Wood
    ends: Mapping[str, tuple[Axis, bool]]
    """Ends with names of their own: along which axis of the view, and whether at its high end."""

    @cached_property
    def around(self) -> Bounds:
        return bounds(self.wood.body)

    def top(self, x: float, y: float) -> float | None:
        """The surface nearest to the viewer at a place; None where the piece is not."""
        return max((high for _, high in self.wood.runs(x, y)), default=None)


def _carried(shape: Cut, to: Mapping[Axis, tuple[Axis, int, float]]) -> Cut:
    """A shape with every axis taken over to another: name, sign and shift."""

    def carry(own: Axis, value: float) -> float:
        _, sign, shift = to[own]
        return shift + sign * value

    first, second = others(shape.axis)
    swap = AXES.index(to[first][0]) > AXES.index(to[second][0])

    def flat(pair: Flat) -> Flat:
        a, b = carry(first, pair[0]), carry(second, pair[1])
        return (b, a) if swap else (a, b)

    target, ends = to[shape.axis][0], (carry(shape.axis, shape.start), carry(shape.axis, shape.stop))
    if isinstance(shape, Prism):
        return Prism(target, tuple(flat(pair) for pair in shape.outline), min(ends), max(ends))
    radii = (shape.radius_start, shape.radius_stop)
    if ends[0] > ends[1]:
        ends, radii = (ends[1], ends[0]), (radii[1], radii[0])
    return type(shape)(target, flat(shape.centre), *ends, *radii)


def _standing(job: Job, placement: Placement, piece: str, towards: Towards) -> Standing:
    """A placed piece in a view."""
    body, pose = placement.bodies[piece], placement.poses[piece]
    to: dict[Axis, tuple[Axis, int, float]] = {}
    for own in AXES:
        lies = pose.direction(Direction(own, 1))
        index, way = next((index, way) for index, way in enumerate(towards) if way.axis == lies.axis)
        to[own] = (AXES[index], lies.sign * way.sign, way.sign * pose.level(own, 0.0))
    part = body.part
    frame = Frame("inside", body.block)
    removed = [shape for each in part.features_of(body.piece.hand) if each.when == "loose" for shape in body.shapes(each)]
    ends: dict[str, tuple[Axis, bool]] = {}
    for word, face in part.names.items():
        way = normal(mirrored(face) if body.mirrored else face)
        if way.axis == "x":
            axis, sign, _ = to["x"]
            ends[word.replace("-", " ")] = (axis, sign * way.sign > 0)
    cuts = tuple(_carried(cut, to) for cut in frame.shapes(removed))
    wood = _carried(body_of(frame, part.section), to)
    assert isinstance(wood, Prism)
    return Standing(piece, part.letter, body.piece.hand or "", Wood(wood, cuts), ends)


def _up(job: Job, placement: Placement, group: Sequence[str]) -> Direction:
    """Which way is up: away from the first foot, towards the first head, else as the first piece stands."""
    for piece in group:
        body = placement.bodies[piece]
        for word, way in (("foot", -1), ("head", 1)):
            face: FaceName | None = body.part.names.get(word)
            if face is not None:
                lies = placement.poses[piece].direction(normal(mirrored(face) if body.mirrored else face))
                return Direction(lies.axis, lies.sign * way)
    return Pose().direction(Direction("y", 1))


def _ways(up: Direction) -> tuple[Towards, ...]:
    """The views to choose from: upright from all four sides, and from above."""
    found: list[Towards] = []
    for axis in others(up.axis):
        for sign in (1, -1):
            right = Direction(axis, sign)
            found.append((right, up, _cross(right, up)))
    right = found[0][0]
    return (*found, (right, _cross(right, up).reversed, up))


def _cross(first: Direction, second: Direction) -> Direction:
    axis = next(axis for axis in AXES if axis not in (first.axis, second.axis))
    turn = (AXES.index(second.axis) - AXES.index(first.axis)) % 3 == 1
    return Direction(axis, first.sign * second.sign * (1 if turn else -1))


@dataclass(frozen=True)
class _Scene:
    """One view of the pieces."""

    title: str
    pieces: tuple[Standing, ...]

    @cached_property
    def span(self) -> tuple[tuple[float, float], tuple[float, float]]:
        def over(axis: Axis) -> tuple[float, float]:
            spans = [each.around.span(axis) for each in self.pieces]
            return min(low for low, _ in spans), max(high for _, high in spans)

        return over("x"), over("y")

    @property
    def size(self) -> tuple[float, float]:
        (left, right), (low, high) = self.span
        return right - left, high - low

    @cached_property
    def visible(self) -> Mapping[str, tuple[Flat, ...]]:
        """Spots at which each piece is seen, the middle first; a piece that is not seen has none."""
        return {piece.name: tuple(spot for spot in _spots(piece) if self.shows(piece, *spot)) for piece in self.pieces}

    def shows(self, piece: Standing, x: float, y: float) -> bool:
        """Whether a piece is seen at a place, nothing in front of it."""
        mine = piece.top(x, y)
        return mine is not None and not self._covered(piece, x, y, mine)

    def _covered(self, piece: Standing, x: float, y: float, at: float) -> bool:
        for other in self.pieces:
            around = other.around
            if other is piece or around.high.z <= at + 0.5:
                continue
            if around.low.x <= x <= around.high.x and around.low.y <= y <= around.high.y:
                top = other.top(x, y)
                if top is not None and top > at + 0.5:
                    return True
        return False

    def lines(self, piece: Standing, step: float) -> list[tuple[Flat, Flat]]:
        """The edges of a piece that are seen among the others, in pieces of at most `step` mm."""
        found: list[tuple[Flat, Flat]] = []
        for line in seen(piece.wood):
            if line.hidden:
                continue
            count = max(1, ceil(hypot(line.stop[0] - line.start[0], line.stop[1] - line.start[1]) / step))
            for index in range(count):
                a, b = (_along(line, (index + end) / count) for end in (0, 1))
                x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
                tops = [piece.top(x + dx, y + dy) for dx in (-0.05, 0.05) for dy in (-0.05, 0.05)]
                here = [top for top in tops if top is not None]
                if here and not self._covered(piece, x, y, max(here)):
                    found.append((a, b))
        return found


def _along(line: Line, share: float) -> Flat:
    return (
        line.start[0] + share * (line.stop[0] - line.start[0]),
        line.start[1] + share * (line.stop[1] - line.start[1]),
    )


def _spots(piece: Standing) -> tuple[Flat, ...]:
    room = piece.around
    return tuple((room.low.x + room.size("x") * u, room.low.y + room.size("y") * v) for u in _SPOTS for v in _SPOTS)


def draw_assembled(
    pen: Pen, job: Job, placement: Placement, pieces: Sequence[str], about: Sequence[str], width: float, height: float
) -> float | None:
    """The pieces as they stand together, upright and from above, where those a step is `about` are seen best. Returns the
    height used; None if no two of them are placed together, or they cannot be drawn large enough."""
    groups = [[piece for piece in group if piece in pieces] for group in placement.groups]
    group = max(groups, key=len, default=[])
    if len(group) < 2:
        return None
    up = _up(job, placement, next(each for each in placement.groups if group[0] in each))
    scenes = _chosen(job, placement, group, about, _ways(up))
    best = _largest(scenes, width, height)
    taller = _largest(scenes, width, height * _GROWTH)
    if taller is not None and (best is None or taller[0][0].scale >= _WORTH * best[0][0].scale):
        best = taller
    if best is None:
        return None
    layouts, row = best
    left = top = 0.0
    for layout in layouts:
        layout.draw(pen, left, top)
        left += layout.size[0] + 2.0 if row else 0.0
        top += 0.0 if row else layout.size[1]
    return max(layout.size[1] for layout in layouts) if row else top


def _largest(scenes: Sequence[_Scene], width: float, height: float) -> tuple[list[_Layout], bool] | None:
    """The views at the largest scale that fits, and whether beside each other or under each other; found by halving."""
    best: tuple[list[_Layout], bool] | None = None
    low, high = 0, len(_SCALES)
    while low < high:
        middle = (low + high) // 2
        layouts = [_Layout(scene, _SCALES[middle]) for scene in scenes]
        wide, tall = [each.size[0] for each in layouts], [each.size[1] for each in layouts]
        row = sum(wide) + 2.0 * (len(wide) - 1) <= width and max(tall) <= height
        if row or (max(wide) <= width and sum(tall) <= height):
            best, high = (layouts, row), middle
        else:
            low = middle + 1
    return best


def _chosen(job: Job, placement: Placement, group: Sequence[str], about: Sequence[str], ways: Sequence[Towards]) -> list[_Scene]:
    """The upright view in which most is seen, and the one from above, unless that shows an edge only and nothing more."""
    scenes = [
        _Scene(
            "upright" if index < len(ways) - 1 else "from above", tuple(_standing(job, placement, each, way) for each in group)
        )
        for index, way in enumerate(ways)
    ]

    def seen_in(scene: _Scene) -> set[str]:
        return {name for name, spots in scene.visible.items() if spots}

    upright = max(scenes[:-1], key=lambda scene: (len(seen_in(scene) & set(about)), len(seen_in(scene))))
    above = scenes[-1]
    flat = above.size[1] < _THIN * above.size[0] or above.size[0] < _THIN * above.size[1]
    return [upright] if flat and seen_in(above) <= seen_in(upright) else [upright, above]


class _Layout:
    """A view at a scale, with the places of its letters; its top left corner at 0, 0."""

    def __init__(self, scene: _Scene, scale: float) -> None:
        self.scene, self.scale = scene, scale
        (self.low_x, _), (_, self.high_y) = scene.span
        self.view = Box(0.0, 0.0, scene.size[0] * scale, scene.size[1] * scale)
        self.inside: list[tuple[Standing, Box]] = []
        self.words: list[tuple[str, Box]] = []
        outside: list[tuple[Standing, Paper]] = []
        for piece in scene.pieces:
            spots = [self.paper(spot) for spot in scene.visible[piece.name]]
            wide, tall = (half / 2 + 0.3 for half in _label_size(piece))
            boxes = (Box(x - wide, y - tall, x + wide, y + tall) for x, y in spots)
            box = next((each for each in boxes if self._free(piece, each)), None)
            if box is not None:
                self.inside.append((piece, box))
            elif spots:
                outside.append((piece, min(spots, key=lambda spot: (round(_edge_of(spot, self.view)[1], 2), spots.index(spot)))))
        for piece in scene.pieces:
            for word, (axis, high) in piece.ends.items():
                named = _end_box(piece, word, axis, high, self.paper)
                if named is not None and self._free(piece, named):
                    self.words.append((word, named))
        self.beside = _beside(outside, self.view)
        around = [self.view, *(box for _, box, _ in self.beside)]
        self.left, self.top = min(box.left for box in around) - 0.4, min(box.top for box in around) - _TITLE
        title = self.left + text_width(scene.title, bold=False) + 1.0
        right, bottom = max(box.right for box in around), max(box.bottom for box in around)
        self.size = max(right, title) - self.left + 0.4, bottom - self.top + 1.0

    def paper(self, point: Flat) -> Paper:
        return (point[0] - self.low_x) * self.scale, (self.high_y - point[1]) * self.scale

    def _free(self, piece: Standing, box: Box) -> bool:
        """Whether a box lies on the piece alone, clear of letters and words."""
        taken = [each for _, each in self.inside] + [each for _, each in self.words]
        if any(box.overlaps(each, 0.6) for each in taken):
            return False
        corners = [(x, y) for x in (box.left, (box.left + box.right) / 2, box.right) for y in (box.top, box.bottom)]
        return all(self.scene.shows(piece, self.low_x + x / self.scale, self.high_y - y / self.scale) for x, y in corners)

    def draw(self, pen: Pen, left: float, top: float) -> None:
        """Draws the view with the top left corner of its room at a point of the paper."""
        dx, dy = left - self.left, top - self.top

        def at(point: Paper) -> Paper:
            return point[0] + dx, point[1] + dy

        pen.text(self.scene.title, (left + 0.4, top + _TITLE / 2 - 0.3), kind="view", anchor="start", bold=False)
        for piece in self.scene.pieces:
            lines = self.scene.lines(piece, _STEP / self.scale)
            pen.lines("edge", ((at(self.paper(a)), at(self.paper(b))) for a, b in lines), 0.4)
        for piece, box in self.inside:
            _label(pen, piece, box.moved(dx, dy))
        for word, box in self.words:
            middle = (box.left + box.right) / 2 + dx, (box.top + box.bottom) / 2 + dy
            pen.text(word, middle, kind="end", bold=False, size=_NAME, clear=True)
        for piece, box, (foot, spot) in self.beside:
            pen.lines("leader", [(at(foot), at(spot))], 0.22)
            pen.circle(at(spot), 0.5, 0.22, "#000")
            _label(pen, piece, box.moved(dx, dy))


def _end_box(piece: Standing, word: str, axis: Axis, high: bool, paper: Callable[[Flat], Paper]) -> Box | None:
    """Where the name of an end stands: inside the piece, close to that end. None for an end that looks at the viewer."""
    room = piece.around
    middle = {"x": (room.low.x + room.high.x) / 2, "y": (room.low.y + room.high.y) / 2}
    half, tall = text_width(word, _NAME, bold=False) / 2 + 0.5, _NAME / 2
    if axis == "z":
        return None
    x, y = paper((room.span("x")[high], middle["y"]) if axis == "x" else (middle["x"], room.span("y")[high]))
    x += (-half - 0.6 if high else half + 0.6) if axis == "x" else 0.0
    y += (tall + 0.9 if high else -tall - 0.9) if axis == "y" else 0.0
    return Box(x - half, y - tall, x + half, y + tall)


def _label_size(piece: Standing) -> tuple[float, float]:
    """Width and height of a letter in its ring with the hand under it."""
    hand = text_width(piece.hand, _NAME, bold=False) if piece.hand else 0.0
    return max(2 * _RING, hand), 2 * _RING + (_NAME if piece.hand else 0.0)


def _label(pen: Pen, piece: Standing, box: Box) -> None:
    """The letter in its ring and the hand under it, in the middle of a box."""
    x, top = (box.left + box.right) / 2, (box.top + box.bottom) / 2 - _label_size(piece)[1] / 2
    pen.circle((x, top + _RING), _RING, 0.35, "#fff")
    pen.text(piece.letter, (x, top + _RING), kind="letter", size=TEXT if len(piece.letter) == 1 else 2.6)
    if piece.hand:
        pen.text(piece.hand, (x, top + 2 * _RING + _NAME / 2), kind="hand", bold=False, size=_NAME, clear=True)


def _edge_of(spot: Paper, view: Box) -> tuple[str, float]:
    """The nearest side of the view, and how far it is."""
    sides = {
        "left": spot[0] - view.left,
        "right": view.right - spot[0],
        "above": spot[1] - view.top,
        "below": view.bottom - spot[1],
    }
    side = min(sides, key=lambda each: (round(sides[each], 2), each))
    return side, sides[side]


def _beside(outside: Sequence[tuple[Standing, Paper]], view: Box) -> list[tuple[Standing, Box, tuple[Paper, Paper]]]:
    """Places beside the view, none over another, with a line from each to its piece."""
    found: list[tuple[Standing, Box, tuple[Paper, Paper]]] = []
    for side in ("left", "right", "above", "below"):
        mine = [(piece, spot) for piece, spot in outside if _edge_of(spot, view)[0] == side]
        upright = side in ("left", "right")
        mine.sort(key=lambda each: (each[1][1] if upright else each[1][0], each[0].name))
        end = float("-inf")
        for piece, (x, y) in mine:
            wide, tall = _label_size(piece)
            if upright:
                top = max(y - tall / 2, end + 0.8)
                left = view.left - _BESIDE - wide if side == "left" else view.right + _BESIDE
                box = Box(left, top, left + wide, top + tall)
                end = box.bottom
                foot = (left + wide / 2 + (_RING if side == "left" else -_RING), top + _RING)
            else:
                left = max(x - wide / 2, end + 0.8)
                top = view.top - _BESIDE - tall if side == "above" else view.bottom + _BESIDE
                box = Box(left, top, left + wide, top + tall)
                end = box.right
                foot = (left + wide / 2, box.bottom if side == "above" else box.top)
            found.append((piece, box, (foot, (x, y))))
    return found
