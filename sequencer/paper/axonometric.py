"""A scene as an axonometric line drawing with hidden lines removed, for a bad copier: black on white, no greys. mm.

Wood is drawn with heavy contours and lighter creases, waste hatched, tools firm, tables thin. The picture is as large as
its room allows with everything that is written beside it. The same scene gives the same bytes, in whatever order its
things are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from weakref import WeakKeyDictionary

import numpy as np

from sequencer.model.frame import Point
from sequencer.paper.ground import Ground
from sequencer.paper.notes import Note, around, arrow_notes, letter_notes, name_notes, size_notes
from sequencer.paper.outlines import hatching
from sequencer.paper.scene import FaceMark, Look, Scene
from sequencer.paper.shots import Shot, flat, parts, shot_of
from sequencer.paper.strokes import strokes
from sequencer.paper.svg import NOTHING, Box, Paper, Pen, Picture
from sequencer.paper.visible import Floats

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
    shot = shot_of(scene)
    if not shot.things:
        return NOTHING
    layout = _fitted(scene, width, height, most)
    if not whole and layout.thin and (broken := shot.broken):
        other = draw_scene(broken, width, height, most, whole=True)
        return other if other.readable or not layout.readable else layout.drawn(width, height)
    return layout.drawn(width, height)


@dataclass(frozen=True, eq=False)
class _Layout:
    """A shot at a scale, with everything that is written beside it in its place."""

    shot: Shot
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
        return flat(*parts(start, stop, self.shot.cover)) * self.scale

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


_LAYOUTS: WeakKeyDictionary[Scene, dict[float, _Layout]] = WeakKeyDictionary()
"""The layouts of scenes that are still in use, by scale: rooms of several sizes come to the same one."""


def _layout_at(scene: Scene, scale: float) -> _Layout:
    """The layout of a scene at a scale, made once."""
    made = _LAYOUTS.setdefault(scene, {})
    if scale not in made:
        made[scale] = _Layout(shot_of(scene), scale)
    return made[scale]


def _fitted(scene: Scene, width: float, height: float, most: float) -> _Layout:
    """The layout at the largest scale that fits, or at the smallest there is."""
    shot = shot_of(scene)
    bare = min(width / max(shot.box.width, 1e-9), height / max(shot.box.height, 1e-9))
    # Sizes stand outside of what is drawn: where it fills the room there is seldom any left for them.
    first = _first(min(bare, most))
    index = first + bool(shot.scene.sizes and bare <= most)
    while True:
        layout = _layout_at(scene, SCALES[min(index, len(SCALES) - 1)])
        if layout.fits(width, height):
            larger = _layout_at(scene, SCALES[first])
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
