"""A view of a piece of wood on paper: its lines, hatching, sizes, marks and words. mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sequencer.model.frame import AXES, Point
from sequencer.model.shapes import Prism, bounds
from sequencer.paper import dimensioning, running_sizes
from sequencer.paper.breaking import Places, Strip, zigzag
from sequencer.paper.face_marks import MARK, edge_mark, free_spot, loop, side_mark
from sequencer.paper.part_view import NAME, View
from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width
from sequencer.paper.views import Line

_OUTLINE, _HIDDEN, _THIN = 0.5, 0.3, 0.22


def draw_view(drawn: View, pen: Pen, left: float, top: float, scale: float) -> None:
    """Draws the view with its room's top left corner at a point of the paper."""
    room = drawn.box(scale)
    dx, dy = left - room.left, top - room.top
    place = Places(drawn.kept, scale)

    def moved(lines: Sequence[Line]) -> Iterator[tuple[Paper, Paper]]:
        for start, stop in place.clipped(lines):
            yield (start[0] + dx, start[1] + dy), (stop[0] + dx, stop[1] + dy)

    pen.lines("waste", moved(drawn.hatch(scale)), _THIN)
    pen.lines("before", moved(drawn.waste_lines), _THIN)
    pen.lines("hidden", moved([line for line in drawn.lines if line.hidden]), _HIDDEN, "1.6 0.9")
    pen.lines("centre", moved(_centres(drawn, scale)), _THIN)
    pen.lines("edge", moved([line for line in drawn.lines if not line.hidden]), _OUTLINE)
    pen.lines("left-on", moved(_left_on(drawn)), _HIDDEN, "3 0.8 0.6 0.8")
    _breaks(drawn, pen, dx, dy, scale)
    width, height = drawn.extent(scale)
    view = Box(dx, dy, dx + width, dy + height)
    _, places = drawn.around(scale)
    dimensioning.draw(pen, [_shifted(each, dx, dy) for each in places], view)
    if drawn.running:
        moved_on = [
            replace(each, at=each.at + dx, left=each.left + dx, right=each.right + dx) for each in drawn.running_spots(scale)
        ]
        running_sizes.draw(pen, moved_on, view, view.bottom + (MARK + 1.2 if "below" in drawn.bands(scale) else 1.5))
    _marks(drawn, pen, view, place, dx, dy)
    for words, (x, y) in drawn.part_names(place):
        pen.text(words, (x + dx, y + dy), kind="piece", size=drawn.name_size(scale), clear=True)
    _words(drawn, pen, left, top, view, scale)


def _centres(drawn: View, scale: float) -> list[Line]:
    """A cross at the middle of every round cut seen end on: where the point of the bit goes."""
    found = []
    for shape in drawn.subject.waste if drawn.at is None else ():
        if isinstance(shape, Prism) or drawn.frame.axis(shape.axis) != "z":
            continue
        around = bounds(shape)
        middle = Point(*((low + high) / 2 for low, high in zip(around.low, around.high, strict=True)))
        x, y, _ = drawn.frame.spot(middle)
        reach = max(around.size(axis) for axis in AXES if axis != shape.axis) / 2 + 1.2 / scale
        found += [Line((x - reach, y), (x + reach, y)), Line((x, y - reach), (x, y + reach))]
    return found


def _left_on(drawn: View) -> list[Line]:
    """Where the part ends and the waste begins that stays on for now."""
    right, up, _ = drawn.frame.size
    found = []
    for face, amount in drawn.subject.left_on.items():
        axis, high = drawn.frame.side(face)
        if axis == "x":
            x = right - amount if high else amount
            found.append(Line((x, 0.0), (x, up)))
        elif axis == "y":
            y = up - amount if high else amount
            found.append(Line((0.0, y), (right, y)))
    return found


def _breaks(drawn: View, pen: Pen, dx: float, dy: float, scale: float) -> None:
    across, up = (Strip(kept, scale) for kept in drawn.kept)
    for at in across.breaks(drawn.frame.size[0]):
        pen.path("break", zigzag(dx + at, dy - 1.0, dy + up.length + 1.0, False), _THIN)
    for at in up.breaks(drawn.frame.size[1]):
        pen.path("break", zigzag(dy + up.length - at, dx - 1.0, dx + across.length + 1.0, True), _THIN)


def _marks(drawn: View, pen: Pen, view: Box, place: Places, dx: float, dy: float) -> None:
    taken = [each.label.moved(dx, dy) for each in drawn.around(place.scale)[1]]
    sizes = [
        value + (dx if edge.level else dy)
        for edge in drawn.on_paper(place.scale)
        for value in ((edge.start[0], edge.stop[0]) if edge.level else (edge.start[1], edge.stop[1]))
    ]
    words = {side: text_width(word, NAME, bold=False) / 2 for side, word in drawn.edge_names(place.scale).items()}
    breaks = (
        [dx + at for at in place.across.breaks(drawn.frame.size[0])],
        [dy + place.up.length - at for at in place.up.breaks(drawn.frame.size[1])],
    )
    for side, mark in drawn.side_marks():
        ends = sizes + breaks[0 if side in ("above", "below") else 1]
        ends += [each.at + dx for each in drawn.running_spots(place.scale)] if drawn.running and side == "below" else []
        middle, half = (view.left + view.right) / 2, words.get(side, 0.0)
        ends += [middle + half * share for share in (-1.0, -0.5, 0.0, 0.5, 1.0)] if half else []
        if side == "below":
            ends += _end_words(drawn, view, place.scale)
        along = _along_part(drawn, view, place, dx) if side in ("above", "below") else (view.top, view.bottom)
        at = free_spot(along, ends)
        x, y = (
            (at, view.bottom if side == "below" else view.top)
            if side in ("above", "below")
            else (view.left if side == "left" else view.right, at)
        )
        (edge_mark if mark == "edge" else side_mark)(pen, (x, y), side)
    seen_on = drawn.frame.side(drawn.subject.face_side) == ("z", True) and drawn.at is None
    if seen_on and drawn.subject.marked:
        spot = _clear_spot(drawn, view, place, dx, dy)
        if spot is not None and not any(box.left < spot[0] < box.right for box in taken if box.overlaps(view)):
            loop(pen, spot[0], spot[1], spot[2])


def _along_part(drawn: View, view: Box, place: Places, dx: float) -> tuple[float, float]:
    """Where the first part lies along the view: in a longer piece a mark stands on the part, not on waste."""
    if not drawn.subject.parts or drawn.frame.axis("x") != "x":
        return view.left, view.right
    ends = (place(drawn.frame.spot(Point(at, 0.0, 0.0))[:2])[0] + dx for at in drawn.subject.parts[0])
    low, high = sorted(ends)
    return low, high


def _end_words(drawn: View, view: Box, scale: float) -> list[float]:
    """Places along the lower edge where the names of the ends stand."""
    found = []
    for word, start, way in zip(drawn.end_names(scale) or (), (view.left, view.right), (1.0, -1.0), strict=False):
        wide = text_width(word, NAME, bold=False)
        found += [start + way * wide * share for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    return found


def _clear_spot(drawn: View, view: Box, place: Places, dx: float, dy: float) -> tuple[float, float, float] | None:
    """Where on the face side, beside the face edge if it is in sight, the looped mark disturbs nothing."""
    height = min(7.0, view.height * 0.62)
    low = drawn.frame.side(drawn.subject.face_edge) != ("y", True)
    blocked = []
    for shape in drawn.woods[1].cuts:
        around = bounds(shape)
        a, b = place((around.low.x, around.low.y)), place((around.high.x, around.high.y))
        blocked.append(Box(min(a[0], b[0]) + dx, min(a[1], b[1]) + dy, max(a[0], b[0]) + dx, max(a[1], b[1]) + dy))
    for at in place.across.breaks(drawn.frame.size[0]):
        blocked.append(Box(dx + at - 0.8, view.top, dx + at + 0.8, view.bottom))
    for words, (x, y) in drawn.part_names(place):
        size = drawn.name_size(place.scale)
        half = text_width(words, size) / 2
        blocked.append(Box(x + dx - half, y + dy - size / 2, x + dx + half, y + dy + size / 2))
    tops = (view.bottom - height - 0.6, view.top + (view.height - height) / 2, view.top + 0.6)
    for top in tops if low else tops[::-1]:
        for share in (0.3, 0.4, 0.6, 0.7, 0.5, 0.2, 0.8, 0.12, 0.88):
            x = view.left + view.width * share
            mark = Box(x - 2.2, top, x + 2.2, top + height)
            if mark.left > view.left and mark.right < view.right and not any(box.overlaps(mark, 0.3) for box in blocked):
                return x, top, height
    return None


def _words(drawn: View, pen: Pen, left: float, top: float, view: Box, scale: float) -> None:
    x, y = left + 0.4, top + drawn.head() / 2
    if drawn.ringed:
        pen.circle((x + 2.6, y), 2.5, 0.35)
        pen.text(drawn.subject.letter, (x + 2.6, y), size=TEXT if len(drawn.subject.letter) == 1 else 2.6, kind="letter")
        x += 6.6
    if drawn.title:
        pen.text(drawn.title, (x, y), kind="view", anchor="start", bold=False)
        x += text_width(drawn.title, bold=False) + 1.6
    if drawn.main:
        _grain(drawn, pen, x, y)
    ends = drawn.end_names(scale)
    if ends is not None:
        row = view.bottom + 2.7
        pen.text(ends[0], (view.left + 0.5, row), kind="end", anchor="start", bold=False, size=NAME, clear=True)
        pen.text(ends[1], (view.right - 0.5, row), kind="end", anchor="end", bold=False, size=NAME, clear=True)
    middle = (view.left + view.right) / 2
    for side, word in drawn.edge_names(scale).items():
        row = view.top - 2.5 if side == "above" else view.bottom + 2.7
        pen.text(word, (middle, row), kind="edge-name", bold=False, size=NAME, clear=True)


def _grain(drawn: View, pen: Pen, x: float, y: float) -> None:
    axis = drawn.frame.axis(drawn.subject.grain)
    if axis == "x":
        pen.lines("grain", [((x, y), (x + 6.0, y))], 0.35)
        pen.arrow((x, y), (-1.0, 0.0), 1.7)
        pen.arrow((x + 6.0, y), (1.0, 0.0), 1.7)
    elif axis == "y":
        pen.lines("grain", [((x + 3.0, y - 2.5), (x + 3.0, y + 2.5))], 0.35)
        pen.arrow((x + 3.0, y - 2.5), (0.0, -1.0), 1.7)
        pen.arrow((x + 3.0, y + 2.5), (0.0, 1.0), 1.7)
    else:
        pen.circle((x + 3.0, y), 1.6, 0.35)
        pen.circle((x + 3.0, y), 0.4, 0.35, "#000")


def _shifted(each: dimensioning.Placed, dx: float, dy: float) -> dimensioning.Placed:
    return dimensioning.Placed(each.size.moved(dx, dy), each.side, each.lane, each.label.moved(dx, dy), each.outside)
