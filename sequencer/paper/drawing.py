"""The picture of a step. In the round, from the states of the plan carried out; for marking out, views square to the faces
with every size. mm on paper.

Wood that is there is drawn solid, this step's waste hatched. Sizes stand in the picture, at 9.9 pt; the face side and face
edge carry their marks. Same plan, same picture, to the byte.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from sequencer.model.plan import Step
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.composing import LARGEST, arranged, compose
from sequencer.paper.face_marks import edge_mark, side_mark
from sequencer.paper.face_panels import Panel
from sequencer.paper.pictured import Pictured, Shown, Stick
from sequencer.paper.step_pictures import MOST, shown
from sequencer.paper.strip_pictures import from_first_piece, stick_picture
from sequencer.paper.svg import NOTHING, Pen, Picture, moved, shortened, text_width
from sequencer.paper.waiting import draw_waiting

WIDTH, HEIGHT = 86.0, 52.0
"""Room for the picture of one piece on a card."""

_CAPTION = 4.6
"""Room for the words over a picture, mm."""
_WHOLE = 1.5
"""How much higher a picture of several pieces may be."""
_TALL = 1.3
"""The same for a piece that stands with its sizes about it."""
_NARROWEST = 41.0
"""The least width of one picture among several, mm."""
_NARROWEST_WHOLE = 56.0
"""The same for pictures of several pieces."""
_NARROWEST_FLAT = 55.0
"""The same for flat views with their sizes."""
_BETWEEN = 2.0


def picture(step: Step, pictured: Pictured, width: float = WIDTH, height: float = HEIGHT) -> Picture:
    """The picture of a step for a room of `width` by `height` mm; several scenes stand beside and under each other, and need
    more height.
    """
    pen = Pen()
    if step.kind == "wait":
        used = draw_waiting(pen, step.minutes, width, min(height, 22.0))
        return _finished(pen, step, width, used)
    tasks = [pictured.tasks[name] for name in step.tasks]
    if any(task.kind == "mark-out" for task in tasks):
        used, readable = _flat(pen, pictured.panels(step), width, height)
        return _finished(pen, step, width, used, readable)
    scenes = shown(step, pictured)
    if not scenes:
        return NOTHING
    stick = pictured.sticks.get(step.id)
    if stick is not None:
        return _with_stick(pen, step, stick, scenes, width, height)
    # Where staff set a machine the settings stand beside it in words, for every piece; two pieces show what is cut.
    return _grid(pen, step, scenes[:2] if step.kind == "set-up" else scenes, width, height)


def _with_stick(pen: Pen, step: Step, stick: Stick, scenes: Sequence[Shown], width: float, height: float) -> Picture:
    """The whole long piece with the pieces in it, and under it what is done to it, close to."""
    top, readable = 0.0, True
    for strip in stick.strips:
        now = from_first_piece(strip) if strip.name in stick.squared else strip
        whole = stick_picture(now, width, cut=stick.cut, here=stick.here, handed=stick.handed)
        pen.text(shortened("the whole stick", width), (0.0, top + _CAPTION / 2), anchor="start", bold=False, kind="stick")
        top += _CAPTION
        pen.elements.append(moved(whole, 0.0, top))
        pen.boxes += [box.moved(0.0, top) for box in whole.texts]
        top, readable = top + whole.height + _BETWEEN, readable and whole.readable
    under = _grid(Pen(), step, scenes, width, height)
    pen.elements.append(moved(under, 0.0, top))
    pen.boxes += [box.moved(0.0, top) for box in under.texts]
    return _finished(pen, step, width, top + under.height, readable and under.readable)


def _grid(pen: Pen, step: Step, scenes: Sequence[Shown], width: float, height: float) -> Picture:
    """Scenes in rows, as many beside each other as there is room for."""
    shown = scenes[:MOST]
    narrowest = _NARROWEST_WHOLE if any(cell.whole for cell in shown) else _NARROWEST
    abreast = max(1, min(len(shown), int((width + _BETWEEN) // (narrowest + _BETWEEN))))
    each = (width - _BETWEEN * (abreast - 1)) / abreast
    top, readable = 0.0, True
    for start in range(0, len(shown), abreast):
        cells = shown[start : start + abreast]
        row = [draw_scene(cell.scene, each, height * _higher(cell), whole=cell.whole) for cell in cells]
        tall = max(drawn.height for drawn in row)
        if any(cell.caption for cell in cells):
            top += _CAPTION
        for place, (cell, drawn) in enumerate(zip(cells, row, strict=True)):
            x, y = place * (each + _BETWEEN), top + (tall - drawn.height) / 2
            if cell.caption:
                words = shortened(cell.caption, each)
                pen.text(words, (x, top - _CAPTION / 2), anchor="start", bold=False, kind="caption")
            pen.elements.append(moved(drawn, x, y))
            pen.boxes += [box.moved(x, y) for box in drawn.texts]
            readable = readable and drawn.readable
        top += tall + _BETWEEN
    top -= _BETWEEN
    if len(scenes) > MOST:
        words = f"Not drawn for want of room: {len(scenes) - MOST} more"
        pen.text(words, (0.0, top + 3.0), anchor="start", bold=False, kind="missing")
        top += 6.0
    return _finished(pen, step, width, top, readable)


def _higher(cell: Shown) -> float:
    """How much higher than usual a picture may be."""
    return _WHOLE if cell.whole else _TALL if cell.tall else 1.0


def legend() -> str:
    """What the marks in the pictures mean, in one line."""
    pen = Pen()
    x, y = 0.5, 3.0
    for mark, words in _MARKS.items():
        if mark == "grain":
            pen.lines("grain", [((x, y), (x + 6.0, y))], 0.35)
            pen.arrow((x, y), (-1.0, 0.0), 1.7)
            pen.arrow((x + 6.0, y), (1.0, 0.0), 1.7)
        elif mark == "side":
            side_mark(pen, (x + 3.0, 4.8), "above")
        elif mark == "edge":
            edge_mark(pen, (x + 3.0, 1.2), "below")
        else:
            pen.path("waste", ((x, 1.0), (x + 6.0, 1.0), (x + 6.0, 5.0), (x, 5.0)), 0.3, closed=True)
            pen.lines("waste", [((x + at, 5.0), (x + at + 1.5, 1.0)) for at in (0.0, 1.5, 3.0, 4.5)], 0.22)
        pen.text(words, (x + 7.5, y), anchor="start", bold=False, kind="meaning")
        x += 12.5 + text_width(words, bold=False)
    return pen.finish(x, 6.0, "What the marks in the pictures mean")


_MARKS = {"grain": "along the grain", "side": "face side", "edge": "face edge", "waste": "cut this away"}


def _flat(pen: Pen, panels: Sequence[Panel], width: float, height: float) -> tuple[float, bool]:
    """Flat views in rows, as many beside each other as there is room for; a pair of hands under each other where only one
    is. A long piece with its parts takes the whole width.
    """
    shown, top, readable = panels[:MOST], 0.0, True
    for in_long, group in groupby(shown, key=_in_long):
        if top:
            top = _divided(pen, top, width)
        used, read = _rows(pen, list(group), top, width, height, in_long=in_long)
        top, readable = top + used, readable and read
    if len(panels) > MOST:
        letters = ", ".join(dict.fromkeys(panel.main[0][0].subject.letter for panel in panels[MOST:]))
        pen.text(f"Not drawn for want of room: {letters}", (0.0, top + 3.0), anchor="start", bold=False, kind="missing")
        top += 6.0
    return top, readable


def _in_long(panel: Panel) -> bool:
    """Whether it shows a long piece with several parts in it."""
    return any(len(column[0].subject.parts) > 1 for column in panel.main)


def _divided(pen: Pen, top: float, width: float) -> float:
    """Draws a line across between rows of views; returns where the next row starts."""
    pen.lines("between", [((0.0, top + 1.0), (width, top + 1.0))], 0.15, "0.4 1.2")
    return top + _BETWEEN


def _rows(pen: Pen, panels: Sequence[Panel], top: float, width: float, height: float, *, in_long: bool) -> tuple[float, bool]:
    """Draws views in rows from `top` on; returns the height they take and whether all can be read."""
    most = 1 if in_long else max(1, int((width + _BETWEEN) // (_NARROWEST_FLAT + _BETWEEN)))
    if any(len(panel.main[0]) > 1 for panel in panels) and most > 2:
        # The two hands of a pair stay beside each other.
        most -= most % 2
    cells = [(cell, panel) for panel in panels for cell in (panel.apart() if most > 1 else (panel,))]
    abreast = min(most, len(cells))
    each = (width - _BETWEEN * (abreast - 1)) / abreast
    begun, readable = top, True
    for start in range(0, len(cells), abreast):
        if start:
            top = _divided(pen, top, width)
        tall = 0.0
        for place, (cell, panel) in enumerate(cells[start : start + abreast]):
            room = height if len(cells) <= abreast else max(height * 0.72, 30.0)
            room *= 1.45 if len(cell.main[0]) > 1 else 1.0
            hands = [hand for hand, of in cells if of is panel]
            scale = _one_scale(hands, each, room)
            used, read = compose(pen, cell.main, cell.section, place * (each + _BETWEEN), top, each, room, scale)
            tall, readable = max(tall, used), readable and read
        top += tall
    return top - begun, readable


def _one_scale(hands: Sequence[Panel], width: float, height: float) -> float:
    """The scale at which both hands can stand, so that they are seen to be a pair; the greatest there is where words leave
    no such scale."""
    scale = min(arranged(hand.main, hand.section, width, height).scale for hand in hands)
    both = all(arranged(hand.main, hand.section, width, height, scale).scale == scale for hand in hands)
    return scale if both else LARGEST


def _finished(pen: Pen, step: Step, width: float, height: float, readable: bool = True) -> Picture:
    inside = all(box.left > -0.1 and box.right < width + 0.1 for box in pen.boxes)
    return Picture(pen.finish(width, height, step.title), width, height, tuple(pen.boxes), readable and inside)
