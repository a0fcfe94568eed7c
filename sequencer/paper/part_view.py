"""One view of one piece of wood: its edges, the hatched waste, its sizes and marks, with long stretches broken out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, cos, hypot, pi, sin

from sequencer.features.base import Dimension, mm
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point
from sequencer.model.shapes import Cone, Prism, Rind, bounds
from sequencer.paper import dimensioning, running_sizes
from sequencer.paper.breaking import Kept, Places, Strip, joined
from sequencer.paper.dimensioning import Size
from sequencer.paper.face_marks import MARK
from sequencer.paper.frames import Cut, Flat, Frame
from sequencer.paper.running_sizes import Running
from sequencer.paper.slices import sliced
from sequencer.paper.subject import Subject
from sequencer.paper.svg import TEXT, Box, Paper, text_width
from sequencer.paper.views import Line, body_of, hatched, seen
from sequencer.paper.wood_runs import Wood

_SMALL = 6.0
"""Round cuts smaller than this on paper, mm, are measured by a leader."""
_HEAD = 5.8
NAME = 3.2
"""Height of the names of ends and edges, mm on paper."""
_ARC = 11.0
"""The largest radius of the arc of an angle, mm on paper."""


@dataclass(frozen=True)
class Edge:
    """A size in the view frame, part millimetres. `slope` is the end of the second arm of an angle."""

    level: bool
    start: Flat
    stop: Flat
    label: str
    slope: Flat | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """Where it starts and stops along its direction, low first."""
        index = 0 if self.level else 1
        low, high = sorted((self.start[index], self.stop[index]))
        return low, high


@dataclass(frozen=True)
class View:
    """A subject seen from one face. An arrow beside its title runs with the grain.

    at
        Where a section is taken, in the view's depth; None for a view from outside.
    near
        Only what is near the cut and its sizes is shown, the rest broken off.
    main
        It carries the part's letter, the grain and the names of the ends.
    running
        Under it stands how far each end of each part is from where the first part begins.
    insets
        How far within its ends each part is measured there, where sloping ends make it shorter on this face.
    """

    subject: Subject
    face: FaceName
    title: str
    sizes: tuple[Dimension, ...] = ()
    at: float | None = None
    near: bool = False
    broken: bool = False
    main: bool = True
    running: bool = False
    insets: tuple[tuple[float, float], ...] = ()

    @cached_property
    def frame(self) -> Frame:
        """The view frame."""
        return Frame(self.face, self.subject.block)

    @cached_property
    def woods(self) -> tuple[Wood, Wood, tuple[Cut, ...]]:
        """The wood before this step and after it, and what the step takes away, as the view shows them."""
        frame, depth = self.frame, self.frame.size[2]
        body = body_of(frame, self.subject.section)
        before, waste = frame.shapes(self.subject.before), frame.shapes(self.subject.waste)
        if self.at is not None:
            at = self.at
            body = next(iter(sliced(body, at, depth)), body)
            before = tuple(flat for shape in before for flat in sliced(shape, at, depth))
            waste = tuple(flat for shape in waste for flat in sliced(shape, at, depth))
        return Wood(body, before), Wood(body, (*before, *waste)), waste

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The edges once this step is done."""
        return seen(self.woods[1])

    @cached_property
    def waste_lines(self) -> tuple[Line, ...]:
        """The visible edges before this step's cut that are no edges after it."""
        before, _, waste = self.woods
        if not waste:
            return ()
        done = {(line.start, line.stop) for line in self.lines if not line.hidden}
        return tuple(line for line in seen(before) if not line.hidden and (line.start, line.stop) not in done)

    def hatch(self, scale: float) -> tuple[Line, ...]:
        """Slanting lines over the waste, about 1.6 mm apart on paper, closer on narrow cuts."""
        before, _, waste = self.woods
        if not waste:
            return ()
        narrow = min(min(around.size("x"), around.size("y")) for around in map(bounds, waste)) * scale
        return hatched(before, waste, max(1.0, min(1.6, narrow / 1.5)) / scale)

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """The sizes in the view frame, each once; those in the view's depth are left to another view."""
        found: dict[tuple[bool, tuple[float, float], str], Edge] = {}
        for size in self.sizes:
            axis = self.frame.axis(size.along)
            if "z" in (self.frame.axis(each) for each in size.axes):
                continue
            start, stop = self.frame.spot(size.start), self.frame.spot(size.stop)
            slope = self.frame.spot(size.slope)[:2] if size.slope is not None else None
            edge = Edge(axis == "x", start[:2], stop[:2], size.label, slope)
            found.setdefault((edge.level, edge.ends, edge.label), edge)
        return tuple(found.values())

    @cached_property
    def kept(self) -> tuple[Kept, Kept]:
        """What is shown, to the right and upwards."""
        return self._kept("x"), self._kept("y")

    def _kept(self, axis: Axis) -> Kept:
        index = AXES.index(axis)
        size = self.frame.size[index]
        across = min(self.frame.size[:2])
        if not ((self.near and size > 4 * across) or (self.broken and size == max(self.frame.size[:2]))):
            return ((0.0, size),)
        margin = max(3.0, 0.6 * across) if self.near else 0.5 * across
        stretches = [around.span(axis) for around in map(bounds, self.woods[2])]
        for edge in self.edges:
            stretches.append((edge.start[index], edge.start[index]))
            stretches.append((edge.stop[index], edge.stop[index]))
        # A cut that runs the whole way along its part looks the same everywhere: its two ends say enough.
        parts = self.subject.parts if self.frame.axis("x") == axis else ()
        whole = 0.9 * min((high - low for low, high in parts), default=size)
        wanted = [(low - margin, high + margin) for low, high in stretches if high - low < whole]
        if not self.near or not wanted:
            wanted += [(0.0, margin), (size - margin, size)]
        return joined(wanted, size)

    def extent(self, scale: float) -> tuple[float, float]:
        """Width and height of the view itself, mm on paper."""
        right, up = (Strip(kept, scale).length for kept in self.kept)
        return right, up

    def box(self, scale: float) -> Box:
        """The room it takes with sizes, marks and words around it, the view's own top left corner at 0, 0."""
        if scale not in self._boxes:
            around, _ = self.around(scale)
            right = max(around.right, around.left + self._title_width()) if self.head() else around.right
            self._boxes[scale] = Box(around.left - 0.4, around.top - self.head(), right + 0.4, around.bottom + 0.4)
        return self._boxes[scale]

    @cached_property
    def _boxes(self) -> dict[float, Box]:
        return {}

    def legible(self, scale: float) -> float:
        """How large the smallest thing that matters is on paper, mm: the piece itself, in a section the waste."""
        if self.near and self.woods[2]:
            return min(min(around.size("x"), around.size("y")) for around in map(bounds, self.woods[2])) * scale
        return min(self.extent(scale))

    def head(self) -> float:
        """Room above the view for its title and letter."""
        return _HEAD if self.title or self.main else 0.0

    def end_names(self, scale: float) -> tuple[str, str] | None:
        """The names of the ends to the left and right, if they are printed: in a band below, beside the face edge mark."""
        if not self.main or self.frame.axis("x") != "x" or self.at is not None:
            return None
        words = self._called("x", False), self._called("x", True)
        wide = sum(text_width(word, NAME, bold=False) for word in words)
        if not any(words):
            return None
        return words if self.extent(scale)[0] >= max(22.0, wide + 6.0) else None

    def _called(self, axis: Axis, high: bool) -> str:
        face = next(each for each in FACES if self.frame.side(each) == (axis, high))
        return self.subject.names.get(face, face).replace("-", " ")

    def edge_names(self, scale: float) -> dict[str, str]:
        """Names of the upper and lower edge of a broad face, where the part has names of its own for them."""
        ends = self.end_names(scale)
        if ends is None or self.frame.axis("y") != "y":
            return {}
        room = self.extent(scale)[0] - 1.0
        found = {"above": self._called("y", True), "below": self._called("y", False)}
        wide = {"above": 0.0, "below": sum(text_width(word, NAME, bold=False) for word in ends) + 10.0}
        return {
            side: word
            for side, word in found.items()
            if word not in FACES and text_width(word, NAME, bold=False) + wide[side] <= room
        }

    @property
    def ringed(self) -> bool:
        """Whether the part's letter stands before the title; in a stick of several each part carries its own."""
        return self.main and len(self.subject.parts) < 2

    def _title_width(self) -> float:
        letter = 6.6 if self.ringed else 0.0
        grain = 7.0 if self.main else 0.0
        return letter + text_width(self.title, bold=False) + grain

    def around(self, scale: float) -> tuple[Box, tuple[dimensioning.Placed, ...]]:
        """The room that the view takes with sizes and marks, and where the sizes stand, its top left corner at 0, 0."""
        width, height = self.extent(scale)
        view = Box(0.0, 0.0, width, height)
        first = {"below": 1.5, "above": 1.5, "left": 1.8, "right": 1.8}
        bands = self.bands(scale)
        for side in bands:
            first[side] = MARK + 1.2
        rows = running_sizes.height(self.running_spots(scale)) if self.running else 0.0
        under = first["below"]
        first["below"] += rows
        places = dimensioning.placed(self.on_paper(scale), view, first)
        around = dimensioning.around(places, view)
        for side in sorted(bands):
            room = MARK + 0.8
            around = Box(
                min(around.left, -room if side == "left" else 0.0),
                min(around.top, -room if side == "above" else 0.0),
                max(around.right, width + (room if side == "right" else 0.0)),
                max(around.bottom, height + (room if side == "below" else 0.0)),
            )
        return replace(around, bottom=max(around.bottom, height + under + rows)) if self.running else around, places

    def running_spots(self, scale: float) -> tuple[Running, ...]:
        """The running sizes where they lie under the view, its top left corner at 0, 0."""
        place, parts = Places(self.kept, scale), self.subject.parts

        def spot(at: float) -> float:
            return place(self.frame.spot(Point(at, 0.0, 0.0))[:2])[0]

        insets = self.insets or ((0.0, 0.0),) * len(parts)
        spans = [(low + more, high - less) for (low, high), (more, less) in zip(parts, insets, strict=True)]
        return running_sizes.running(spans, [(spot(low), spot(high)) for low, high in spans], parts[0][0])

    def bands(self, scale: float) -> set[str]:
        """The sides on which face marks or names stand next to the view."""
        bands = {side for side, _ in self.side_marks()} | ({"below"} if self.end_names(scale) else set())
        return bands | set(self.edge_names(scale))

    def side_marks(self) -> list[tuple[str, str]]:
        """Face marks that stand beside an edge of the view: side and which mark."""
        found: list[tuple[str, str]] = []
        if not self.subject.marked:
            return found
        for mark, face in (("side", self.subject.face_side), ("edge", self.subject.face_edge)):
            axis, high = self.frame.side(face)
            if axis == "x":
                found.append(("right" if high else "left", mark))
            elif axis == "y":
                found.append(("above" if high else "below", mark))
        return found

    def on_paper(self, scale: float) -> tuple[Size, ...]:
        """The sizes where they lie on paper, the view's top left corner at 0, 0."""
        place = Places(self.kept, scale)
        return tuple(
            self._angle(edge, edge.slope, place)
            if edge.slope is not None
            else Size(
                edge.level,
                place(edge.start),
                place(edge.stop),
                edge.label,
                (edge.ends[1] - edge.ends[0]) * scale < _SMALL and self._across_round(edge),
            )
            for edge in self.edges
        )

    def _angle(self, edge: Edge, slope: Flat, place: Places) -> Size:
        """An angle at its corner: the arc from one arm to the other, with a line from its middle to the label."""
        corner = place(edge.start)
        arms = [(end[0] - edge.start[0], edge.start[1] - end[1]) for end in (edge.stop, slope)]
        first, last = (atan2(y, x) for x, y in arms)
        turn = (last - first + pi) % (2 * pi) - pi
        radius = min(_ARC, 0.6 * hypot(*arms[0]) * place.scale)
        arc = tuple(
            (corner[0] + radius * cos(first + turn * step / 8), corner[1] + radius * sin(first + turn * step / 8))
            for step in range(9)
        )
        return Size(True, arc[4], arc[4], edge.label, True, arc)

    def _across_round(self, edge: Edge) -> bool:
        """Whether a size is the diameter of a round cut seen end on."""
        low, high = edge.ends
        for middle, radii in self._rounds:
            spot = middle[0] if edge.level else middle[1]
            if abs((low + high) / 2 - spot) < 0.01 and any(abs(high - low - 2 * radius) < 0.01 for radius in radii):
                return True
        return False

    @cached_property
    def _rounds(self) -> tuple[tuple[Flat, tuple[float, ...]], ...]:
        """Round cuts seen end on: their middles in the view frame, and their radii."""
        found = []
        for shape in self.subject.waste if self.at is None else ():
            if isinstance(shape, Prism) or self.frame.axis(shape.axis) != "z":
                continue
            around = bounds(shape)
            middle = self.frame.spot(Point(*((a + b) / 2 for a, b in zip(around.low, around.high, strict=True))))
            radii = (shape.radius_start, shape.radius_stop) if isinstance(shape, Cone | Rind) else (around.size("y") / 2,)
            found.append((middle[:2], radii))
        return tuple(found)

    def part_names(self, place: Places) -> Iterator[tuple[str, Paper]]:
        """What each part of a strip is called, in the middle of it, where the view shows the strip from its side."""
        if self.at is not None or self.frame.axis("x") != "x":
            return
        for words, (low, high) in zip(self.subject.called, self.subject.parts, strict=False):
            middle = self.frame.spot(Point((low + high) / 2, self.subject.block.width / 2, self.subject.block.thickness / 2))
            long = f"{words}: {mm(high - low)}"
            # A slanting end takes as much of the part's length as of its width.
            fits = text_width(long, self.name_size(place.scale)) < (high - low - 2 * self.subject.block.width) * place.scale
            yield long if self.running and not self.insets and fits else words, place((middle[0], middle[1]))

    def name_size(self, scale: float) -> float:
        """The size of these names: that of other names at the least, which a copier keeps."""
        return max(NAME, min(TEXT, self.extent(scale)[1] * 0.7))
