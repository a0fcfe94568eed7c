"""The picture of a step: dimensioned views projected from the part's neutral shapes. Knows no feature kinds. mm on paper.

Wood that is there is drawn solid, edges behind wood dashed, this step's waste hatched. Sizes stand in the picture, at
9.9 pt; the face side and face edge carry their marks. Same plan, same picture, to the byte.
"""

from __future__ import annotations

from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step
from sequencer.paper.composing import compose
from sequencer.paper.gathering import draw_gathering, draw_joining, draw_waiting, joints_of
from sequencer.paper.part_view import edge_mark, side_mark
from sequencer.paper.pieces import Panel, cut_before, feature_panels, marking_panels, plain_panel, stock_panels
from sequencer.paper.svg import NOTHING, Pen, Picture, text_width

WIDTH, HEIGHT = 86.0, 52.0
"""Room for the picture of one piece on a card."""

_MOST = 4
"""Pieces drawn in one step's picture; more would leave the page."""


def draw_step(job: Job, step: Step, plan: Plan) -> str:
    """The picture of a step as SVG, 86 mm wide; empty where there is nothing to draw."""
    return picture(job, step, plan).svg


def picture(job: Job, step: Step, plan: Plan, width: float = WIDTH, height: float = HEIGHT) -> Picture:
    """The picture of a step for a room of `width` by `height` mm; several pieces stand under each other and need more."""
    pen = Pen()
    if step.kind == "wait":
        used = draw_waiting(pen, step.minutes, width, min(height, 22.0))
        return _finished(pen, step, width, used)
    acts = {task.id: task for task in plan.tasks}
    tasks = [acts[name] for name in step.tasks if name in acts]
    kinds = {task.kind for task in tasks}
    panels = (marking_panels if "mark-out" in kinds else feature_panels)(job, step, plan, tasks)
    done = cut_before(step, plan, job)
    if not panels:
        panels = stock_panels(job, plan, tasks, done)
    if not panels:
        joints = joints_of(job, tasks)
        if joints or len(step.parts) > 1:
            fixed = "dry-fit" not in kinds
            if joints:
                return _finished(pen, step, width, draw_joining(pen, job, plan, step, joints, fixed, width, height))
            marked = done if "face-marks" in kinds else None
            return _finished(pen, step, width, draw_gathering(pen, job, step, joints, fixed, width, height, marked))
        panels = [plain_panel(job.parts[work.part], done.get(work.part, set())) for work in step.parts if work.part in job.parts]
    if not panels:
        return NOTHING
    if step.kind == "set-up":
        # The settings stand beside it in words, for every piece; two pieces show what is cut.
        panels = panels[:2]
    used, readable = _stack(pen, panels, width, height)
    return _finished(pen, step, width, used, readable)


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


def _stack(pen: Pen, panels: list[Panel], width: float, height: float) -> tuple[float, bool]:
    top, readable = 0.0, True
    for number, panel in enumerate(panels[:_MOST]):
        each = height if len(panels) == 1 else max(height * 0.72, 30.0)
        each *= 1.45 if len(panel.main[0]) > 1 else 1.0
        if number:
            pen.lines("between", [((0.0, top + 1.0), (width, top + 1.0))], 0.15, "0.4 1.2")
            top += 2.0
        used, read = compose(pen, panel.main, panel.section, 0.0, top, width, each)
        top, readable = top + used, readable and read
    if len(panels) > _MOST:
        letters = ", ".join(dict.fromkeys(panel.main[0][0].subject.letter for panel in panels[_MOST:]))
        pen.text(f"Not drawn for want of room: {letters}", (0.0, top + 3.0), anchor="start", bold=False, kind="missing")
        top += 6.0
    return top, readable


def _finished(pen: Pen, step: Step, width: float, height: float, readable: bool = True) -> Picture:
    inside = all(box.left > -0.1 and box.right < width + 0.1 for box in pen.boxes)
    return Picture(pen.finish(width, height, step.title), width, height, tuple(pen.boxes), readable and inside)
