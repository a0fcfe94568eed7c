"""A scene as an axonometric line drawing with hidden lines removed, for a bad copier: black on white, no greys. mm.

Wood is drawn with heavy contours and lighter creases, waste hatched, tools firm, tables thin. The picture is as large as
its room allows with everything that is written beside it. The same scene gives the same bytes, in whatever order its
things are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from weakref import WeakKeyDictionary

import numpy as np

from sequencer.model.frame import AXES, Point
from sequencer.paper.notes import Ground, Note, around, arrow_notes, letter_notes, name_notes, size_notes
from sequencer.paper.outlines import Eye, Surface, eye, hatching, surface
from sequencer.paper.scene import FaceMark, Look, Scene, Thing
from sequencer.paper.shortening import room, shortened
from sequencer.paper.strokes import strokes
from sequencer.paper.svg import NOTHING, Box, Paper, Pen, Picture
from sequencer.paper.visible import SLACK, Cover, Flags, Floats, Whole, cover, seen, topmost
from sequencer.solid.solids import Solid, without

SCALES = tuple(round(4 * 10 ** (-step / 20), 4) for step in range(56))
"""Paper mm for a mm of wood: from 4:1 down in equal ratios, twenty to the tenfold (preferred numbers, ISO 3)."""

_WIDTHS: dict[Look, tuple[float, float]] = {
    "wood": (0.3, 0.5),
    "waste": (0.25, 0.25),
    "tool": (0.5, 0.5),
    "table": (0.2, 0.2),
    "behind": (0.2, 0.2),
}
"""Width of creases and of contours, mm on paper."""
_HATCH = 1.3
"""Hatch lines of waste stand this far apart, mm on paper."""
_HATCH_WIDTH = 0.2
_INSIDE, _DASH = 0.3, "1.4 0.9"
"""Width and dashes of outlines that show through wood."""
_ANGLES = (45.0, 135.0, 60.0, 120.0, 30.0, 150.0, 75.0, 105.0)
_MARK = 5.0
"""Height of face marks, mm on paper, where the face has room."""
_LEAST_MARK = 3.0
"""The least height: a thin edge shows as much of its V as there is room for, where the bench does not hide the rest."""
_SHOWN_OF_MARK = 0.4
"""A mark of which less than this share is seen is left out."""
_NARROWEST = 1.2
"""Wood that is narrower than this on paper, mm, cannot be read."""
_THIN, _THIN_WASTE = 2.2, 0.8
"""Wood and waste that come out thinner than this on paper, mm, are broken to be larger."""
_LENGTHS = 5.0
"""How many times as long as broad broken wood is drawn."""
_EDGE = 0.4
"""Room for half the widest line around the picture."""


def draw_scene(
    scene: Scene, width: float = 86.0, height: float = 52.0, most: float = SCALES[0], *, whole: bool = False
) -> Picture:
    """The scene in a room of `width` by `height` mm. The picture is as wide as the room and as high as it needs; no larger
    than the scale `most`, for pictures at one scale. Where wood would come out too thin it is broken, with the stretches
    taken out in which nothing happens, unless it must stay `whole`.

    `readable` is False where it does not fit at the smallest scale, where wood comes out too narrow to be read or where
    words had to stand over each other. Nothing to draw gives NOTHING.
    """
    shot = _shot_of(scene)
    if not shot.things:
        return NOTHING
    layout = _fitted(shot, width, height, most)
    if not whole and layout.thin and (broken := shot.broken):
        other = draw_scene(broken, width, height, most, whole=True)
        return other if other.readable or not layout.readable else layout.drawn(width, height)
    return layout.drawn(width, height)


_SHOTS: WeakKeyDictionary[Scene, _Shot] = WeakKeyDictionary()
"""The shots of scenes that are still in use: a card tries a picture in several rooms."""


def _shot_of(scene: Scene) -> _Shot:
    """The scene from where it is seen, worked out once for all rooms it is drawn in."""
    shot = _SHOTS.get(scene)
    if shot is None:
        things = tuple(sorted((thing for thing in _apart(scene.things) if not thing.solid.empty), key=_order))
        shot = _SHOTS[scene] = _Shot(things, replace(scene, things=things), eye(scene.looks_from))
    return shot


def _apart(things: Sequence[Thing]) -> Iterator[Thing]:
    """The things with no wood where a tool is, so that a line shows where the tool goes in."""
    tools = [thing.solid for thing in things if thing.look == "tool" and not thing.solid.empty]
    for thing in things:
        inside = [tool for tool in tools if thing.look in ("wood", "waste") and _meet(thing.solid, tool)]
        yield replace(thing, solid=without(thing.solid, inside)) if inside else thing


def _meet(one: Solid, two: Solid) -> bool:
    """Whether the boxes around two bodies share room."""
    if one.empty:
        return False
    spans = ((one.bounds.span(axis), two.bounds.span(axis)) for axis in AXES)
    return all(min(a[1], b[1]) - max(a[0], b[0]) > SLACK for a, b in spans)


def _broken(scene: Scene) -> Scene | None:
    """The scene with its wood broken along its greatest length; None where nothing can be taken out."""
    wood = [thing for thing in scene.things if thing.look in ("wood", "waste")]
    if not wood:
        return None
    length, breadth = sorted(((room(wood).size(axis), axis) for axis in AXES), reverse=True)[:2]
    return shortened(scene, length[1], _LENGTHS * breadth[0])


def _order(thing: Thing) -> tuple[object, ...]:
    bounds = thing.solid.bounds
    measures = (*bounds.low, *bounds.high, thing.solid.volume, thing.solid.area)
    return (*(round(value, 4) for value in measures), thing.look, thing.letter, thing.name, thing.through)


@dataclass(frozen=True, eq=False)
class _Shot:
    """A scene from where it is seen, before it has a scale: paper coordinates times the scale give mm on paper."""

    things: tuple[Thing, ...]
    scene: Scene
    viewer: Eye
    layouts: dict[float, _Layout] = field(default_factory=dict)

    def at(self, scale: float) -> _Layout:
        """The layout at a scale, made once: rooms of several sizes come to the same one."""
        if scale not in self.layouts:
            self.layouts[scale] = _Layout(self, scale)
        return self.layouts[scale]

    @cached_property
    def broken(self) -> Scene | None:
        """The scene with its wood broken along its greatest length; None where nothing can be taken out."""
        return _broken(self.scene)

    @cached_property
    def surface(self) -> Surface:
        return surface([thing.solid.mesh for thing in self.things], self.viewer)

    @cached_property
    def cover(self) -> Cover:
        return cover(self.surface.faces)

    @cached_property
    def pieces(self) -> tuple[Floats, Whole, Whole]:
        """Visible pieces of lines (n x 4, paper coordinates), the thing each is of, and 1 for contours."""
        lines = self.surface.lines
        line, begin, end = seen(lines.start, lines.stop, self.cover)
        way = lines.stop[line] - lines.start[line]
        start, stop = lines.start[line] + begin[:, None] * way, lines.start[line] + end[:, None] * way
        return _flat(start, stop), lines.owner[line], lines.contour[line].astype(np.int64)

    @cached_property
    def inside(self) -> Floats:
        """Outlines of things that show through wood, as if there were none (n x 4, paper coordinates)."""
        lines, surface = self.surface.lines, self.surface
        through = np.array([thing.through for thing in self.things])
        wood = np.array([thing.look in ("wood", "waste") for thing in self.things])
        mine = through[lines.owner] & lines.contour
        if not mine.any():
            return np.empty((0, 4))
        return _flat(*_parts(lines.start[mine], lines.stop[mine], cover(surface.faces[~wood[surface.owner]])))

    @cached_property
    def box(self) -> Box:
        """Around what is visible of the things."""
        pieces = self.pieces[0]
        if not len(pieces):
            return Box(0.0, 0.0, 0.0, 0.0)
        across, down = pieces[:, 0::2], pieces[:, 1::2]
        return Box(float(across.min()), float(down.min()), float(across.max()), float(down.max()))

    def narrowest(self, look: Look) -> float:
        """Least breadth of any body of a look as it is seen: its area over its length."""
        found = [self.box.width + self.box.height]
        for number, thing in enumerate(self.things):
            faces = self.surface.faces[self.surface.owner == number][:, :, :2]
            if thing.look != look or not len(faces):
                continue
            one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
            area = float(np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum()) / 2
            spots = faces.reshape(-1, 2)
            length = float(np.hypot(*(spots.max(axis=0) - spots.min(axis=0))))
            found.append(area / length)
        return min(found)

    @cached_property
    def hatch_angle(self) -> float:
        """The slope that differs most from the lines of wood and waste."""
        pieces, owner, _ = self.pieces
        looks = np.array([thing.look in ("wood", "waste") for thing in self.things])
        mine = pieces[looks[owner]] if len(pieces) else pieces
        x, y = mine[:, 2] - mine[:, 0], mine[:, 1] - mine[:, 3]
        slopes = np.round(np.degrees(np.arctan2(y, x)) % 180, 1)
        length = np.hypot(x, y)
        main = slopes[length >= 0.15 * length.max(initial=0.0)]
        if not len(main):
            return _ANGLES[0]
        off = [np.abs((main - angle + 90) % 180 - 90).min() for angle in _ANGLES]
        return _ANGLES[int(np.argmax(np.minimum(off, 25.0)))]

    def paper(self, point: Point) -> Paper:
        """A point of the scene in paper coordinates."""
        found = self.viewer.direction(point)
        return found.x, -found.y

    @cached_property
    def spots(self) -> dict[int, Floats]:
        """Points of each thing that has a letter or a name where it is what the viewer sees, the most central first."""
        faces, owner = self.surface.faces, self.surface.owner
        found = {}
        for number, thing in enumerate(self.things):
            if not (thing.letter or thing.name):
                continue
            mine = np.nonzero(owner == number)[0]
            points = _sampled(faces[mine])
            top = topmost(points, self.cover)
            visible = points[(top >= 0) & (owner[top] == number)]
            if not len(visible):
                lines, of, _ = self.pieces
                visible = (lines[of == number][:, :2] + lines[of == number][:, 2:]) / 2 * (1.0, -1.0)
            if len(visible):
                middle = visible.mean(axis=0)
                away = np.round(np.hypot(*(visible - middle).T), 3)
                order = np.lexsort((np.round(visible[:, 1], 3), np.round(visible[:, 0], 3), away))
                found[number] = visible[order] * (1.0, -1.0)
        return found

    def taken(self, points: Floats) -> Flags:
        """Whether wood, waste or a tool is seen at points in paper coordinates (k x 2)."""
        solid = np.array([thing.look in ("wood", "waste", "tool") for thing in self.things] + [False])
        owner, broad = self._broad
        if not len(owner):
            return np.zeros(len(points), dtype=bool)
        top = topmost(points * (1.0, -1.0), broad)
        found: Flags = solid[np.where(top >= 0, owner[top], -1)]
        return found

    @cached_property
    def _broad(self) -> tuple[Whole, Cover]:
        """The faces that fill the picture, without the rims of small holes, and the things they are of."""
        faces = self.surface.faces
        one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
        area = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
        broad = area > 2e-3 * self.box.width * self.box.height
        return self.surface.owner[broad], cover(faces[broad])


def _parts(start: Floats, stop: Floats, hiding: Cover) -> tuple[Floats, Floats]:
    """The visible parts of lines in space."""
    line, begin, end = seen(start, stop, hiding)
    way = stop[line] - start[line]
    return start[line] + begin[:, None] * way, start[line] + end[:, None] * way


def _flat(start: Floats, stop: Floats) -> Floats:
    """Lines as the viewer sees them in paper coordinates, y downwards (n x 4)."""
    return np.concatenate([start[:, :2] * (1.0, -1.0), stop[:, :2] * (1.0, -1.0)], axis=1)


_FINE = np.array([(a + 1 / 3, b + 1 / 3, 5 - a - b + 1 / 3) for a in range(6) for b in range(6 - a)]) / 6


def _sampled(faces: Floats) -> Floats:
    """Points spread over triangles: many over the largest, the middle of the others (k x 2)."""
    one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
    area = np.round(np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]), 4)
    order = np.argsort(-area, kind="stable")
    large, small = faces[order[:6], :, :2], faces[order[6:60], :, :2]
    return np.concatenate([np.einsum("kc,mcx->mkx", _FINE, large).reshape(-1, 2), small.mean(axis=1)])


@dataclass(frozen=True, eq=False)
class _Layout:
    """A shot at a scale, with everything that is written beside it in its place."""

    shot: _Shot
    scale: float

    @cached_property
    def marks(self) -> tuple[tuple[str, Floats], ...]:
        """Face marks, as lines on paper."""
        found = ((mark.kind, self._mark(mark)) for mark in self.shot.scene.marks)
        return tuple((f"face-{kind}", lines) for kind, lines in found if len(lines))

    @cached_property
    def things(self) -> Box:
        """Around what is visible of the things."""
        box = self.shot.box
        return Box(*(value * self.scale for value in (box.left, box.top, box.right, box.bottom)))

    def _ground(self) -> Ground:
        ground = Ground(self.things, lambda points: self.shot.taken(points / self.scale))
        ground.ink(self.shot.pieces[0] * self.scale)
        ground.ink(self.shot.inside * self.scale)
        ground.ink(self.hatch)
        return ground

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """Everything written, in the order it is placed: arrows, sizes, letters, names."""
        ground = self._ground()
        for _, lines in self.marks:
            ground.ink(lines)
        return tuple(ground.place(choices) for choices in self._wanted(ground))

    def _wanted(self, ground: Ground) -> Iterator[Iterator[list[Note]]]:
        """The places for each note; each is placed before the next are asked for."""
        scene, scale, drawn = self.shot.scene, self.scale, ground.drawn
        middle = (drawn.left + drawn.right) / 2, (drawn.top + drawn.bottom) / 2

        def at(point: Point) -> Paper:
            x, y = self.shot.paper(point)
            return x * scale, y * scale

        for arrow in scene.arrows:
            yield arrow_notes(arrow.label, at(arrow.start), at(arrow.stop), arrow.heavy)
        for size in scene.sizes:
            yield size_notes(size.label, at(size.start), at(size.stop), self.shot.paper(size.away), middle)
        named = [(n, thing) for n, thing in enumerate(self.shot.things) if n in self.shot.spots]
        spots = {n: ground.clearest([(x, y) for x, y in (self.shot.spots[n] * scale).tolist()]) for n, _ in named}
        rings: dict[int, Box] = {}
        for n, thing in named:
            if thing.letter:
                yield letter_notes(thing.letter, spots[n])
                rings[n] = ground.words[-1]
        for n, thing in named:
            if thing.name:
                yield name_notes(thing.name, spots[n], rings.get(n))

    @cached_property
    def box(self) -> Box:
        """The room it takes."""
        found = around([self.things, *(note.around for note in self.notes)])
        return Box(found.left - _EDGE, found.top - _EDGE, found.right + _EDGE, found.bottom + _EDGE)

    def fits(self, width: float, height: float) -> bool:
        return self.box.width <= width + 1e-6 and self.box.height <= height + 1e-6

    @property
    def readable(self) -> bool:
        """Whether wood is wide enough to be seen, and no words stand over each other."""
        words = [note.box for note in self.notes if note.box is not None]
        apart = not any(one.overlaps(two) for number, one in enumerate(words) for two in words[:number])
        return apart and self.shot.narrowest("wood") * self.scale >= _NARROWEST

    @property
    def thin(self) -> bool:
        """Whether it would be worth while to break the wood."""
        wood, waste = self.shot.narrowest("wood"), self.shot.narrowest("waste")
        return wood * self.scale < _THIN or waste * self.scale < _THIN_WASTE

    def drawn(self, width: float, height: float) -> Picture:
        """The picture, in the middle of the width."""
        pen, fits = Pen(), self.fits(width, height)
        dx, dy = (width - self.box.width) / 2 - self.box.left, -self.box.top
        shift = np.array((dx, dy, dx, dy))
        for kind, lines, breadth in self._inked():
            dash = _DASH if kind == "inside" else ""
            pen.strokes(kind, strokes((lines + shift)[:, :2], (lines + shift)[:, 2:]), breadth, dash)
        for note in self.notes:
            note.draw(pen, dx, dy)
        used = min(self.box.height, height)
        inside = all(box.left > -0.1 and box.right < width + 0.1 for box in pen.boxes)
        readable = fits and inside and self.readable
        return Picture(pen.finish(width, used, self.shot.scene.title), width, used, tuple(pen.boxes), readable)

    def _inked(self) -> Iterator[tuple[str, Floats, float]]:
        """All lines on paper by kind, the thinnest first."""
        pieces, owner, contour = self.shot.pieces
        yield "hatch", self.hatch, _HATCH_WIDTH
        yield "inside", self.shot.inside * self.scale, _INSIDE
        for look in ("behind", "table", "waste", "tool", "wood"):
            mine = np.array([thing.look == look for thing in self.shot.things])[owner]
            for level, kind in ((0, "crease"), (1, "contour")):
                yield f"{look} {kind}", pieces[mine & (contour == level)] * self.scale, _WIDTHS[look][level]
        for kind, lines in self.marks:
            yield kind, lines, 0.45

    @cached_property
    def hatch(self) -> Floats:
        """The hatching of waste, as lines on paper."""
        surface = self.shot.surface
        waste = np.array([thing.look == "waste" for thing in self.shot.things])
        faces = surface.faces[waste[surface.owner]]
        start, stop, _ = hatching(faces, _HATCH / self.scale, self.shot.hatch_angle)
        return self._visible(start, stop)

    def _visible(self, start: Floats, stop: Floats) -> Floats:
        """What is seen of lines in space, on paper."""
        return _flat(*_parts(start, stop, self.shot.cover)) * self.scale

    def _mark(self, mark: FaceMark) -> Floats:
        """A face mark as lines on paper, its foot at the edge it points to; none if the face looks away or is too small."""
        nothing = np.empty((0, 4))
        shot, viewer = self.shot, self.shot.viewer
        at, along, up = (np.array(viewer.direction(way)) for way in (mark.at, mark.along, mark.up))
        along, up = along / np.linalg.norm(along), up / np.linalg.norm(up)
        normal = np.cross(along, up)
        faces = shot.surface.faces
        flush = (np.abs(shot.surface.normals @ normal) > 0.9999) & (np.abs((faces[:, 0] - at) @ normal) < 0.05)
        if not flush.any():
            return nothing
        reach = (faces[flush].reshape(-1, 3) - at) @ up
        rise = float(np.hypot(up[0], up[1]))
        if rise < 0.05:
            return nothing
        on_paper = 1.0 / self.scale / rise
        high = min(_MARK * on_paper, max(0.7 * float(reach.max() - reach.min()), _LEAST_MARK * on_paper))
        foot = at + up * float(reach.max())
        wide = max(high, _LEAST_MARK / self.scale / max(float(np.hypot(along[0], along[1])), 0.05))
        shape = _LOOP if mark.kind == "side" else _VEE
        points = foot + shape[:, :1] * wide * along - shape[:, 1:] * high * up
        lines = self._visible(points[:-1], points[1:])
        wanted = np.hypot(*(points[1:, :2] - points[:-1, :2]).T).sum() * self.scale
        return (
            lines if np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1]).sum() > _SHOWN_OF_MARK * wanted else nothing
        )


def _bent(*curves: Sequence[Paper]) -> Floats:
    """Cubic curves, each beginning where the last ended, as points."""
    share = np.linspace(0.0, 1.0, 7)[:, None]
    points = [np.array([curves[0][0]])]
    for a, b, c, d in (np.array(curve) for curve in curves):
        bend = (1 - share) ** 3 * a + 3 * (1 - share) ** 2 * share * b + 3 * (1 - share) * share**2 * c + share**3 * d
        points.append(bend[1:])
    return np.concatenate(points)


_LOOP = _bent(
    ((0.0, 0.0), (0.3, 0.3), (0.57, 0.85), (0.33, 0.98)),
    ((0.33, 0.98), (0.09, 1.05), (0.0, 0.65), (0.18, 0.45)),
    ((0.18, 0.45), (0.27, 0.35), (0.42, 0.45), (0.51, 0.55)),
)
"""The face side mark: one stroke, a loop with a tail like a written f; across, and up from the edge it points to."""
_VEE = np.array([(-0.35, 0.85), (0.0, 0.0), (0.35, 0.85)])
"""The face edge mark: a V whose point touches the edge."""


def _fitted(shot: _Shot, width: float, height: float, most: float) -> _Layout:
    """The layout at the largest scale that fits, or at the smallest there is."""
    bare = min(width / max(shot.box.width, 1e-9), height / max(shot.box.height, 1e-9))
    # Sizes stand outside of what is drawn: where it fills the room there is seldom any left for them.
    first = _first(min(bare, most))
    index = first + bool(shot.scene.sizes and bare <= most)
    while True:
        layout = shot.at(SCALES[min(index, len(SCALES) - 1)])
        if layout.fits(width, height):
            larger = shot.at(SCALES[first])
            return larger if index == first + 1 and larger.fits(width, height) else layout
        if index >= len(SCALES) - 1:
            return layout
        # What stands beside keeps its size at every scale.
        room = (
            width - (layout.box.width - shot.box.width * layout.scale),
            height - (layout.box.height - shot.box.height * layout.scale),
        )
        guess = min(room[0] / max(shot.box.width, 1e-9), room[1] / max(shot.box.height, 1e-9))
        index = max(index + 1, _first(guess * 1.06))


def _first(most: float) -> int:
    """The largest of the scales that is not over `most`."""
    return next((index for index, scale in enumerate(SCALES) if scale <= most), len(SCALES) - 1)
