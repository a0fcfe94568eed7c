"""Pictures of steps that cut nothing: which parts come together and how, and waiting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sequencer.design.placing import place
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Plan, Step, Task
from sequencer.paper.assembling import draw_assembled
from sequencer.paper.composing import largest
from sequencer.paper.part_view import Subject, View
from sequencer.paper.svg import TEXT, Pen, shortened

_JOINING = ("dry-fit", "glue", "screw", "nail", "fit-dry", "cure", "hardware", "trim")
_ROW = 6.4
_STANDING = 60.0
"""The least height for pieces that stand together, mm."""
_FIXING = ("glue", "screw", "nail", "fit-dry")
_CELL = 14.0
"""The least width that holds a letter and a count."""


def joints_of(job: Job, tasks: Sequence[Task]) -> list[Joint]:
    """The joints a step's tasks are about: named by the task, or those of a sub-assembly it names; else, for putting
    together, all of them."""
    found: dict[str, Joint] = {}
    for task in tasks:
        if task.kind not in _JOINING:
            continue
        about = [*task.joints, task.feature, *task.id.split("/")]
        named = [name for each in about for name in job.assemblies.get(each, (each,)) if name in job.joints]
        for name in dict.fromkeys(named or job.joints):
            found.setdefault(name, job.joints[name])
    return list(found.values())


def standing_pieces(job: Job, plan: Plan, step: Step, joints: Sequence[Joint], fixed: bool) -> tuple[str, ...]:
    """The pieces a step puts together, with those that stand joined to them by then: tried in place before, or, where the
    step fixes them, fixed before."""
    acts = {task.id: task for task in plan.tasks}
    counted = _FIXING if fixed else ("dry-fit",)
    links = {(joint.enters_piece, joint.seat.piece) for joint in joints}
    for earlier in plan.steps:
        if earlier.id == step.id:
            break
        named = (name for each in earlier.tasks if each in acts and acts[each].kind in counted for name in acts[each].joints)
        links |= {(job.joints[name].enters_piece, job.joints[name].seat.piece) for name in named if name in job.joints}
    reached = {piece for joint in joints for piece in (joint.enters_piece, joint.seat.piece)}
    grown = True
    while grown:
        more = {piece for link in links if reached & set(link) for piece in link} - reached
        reached |= more
        grown = bool(more)
    return tuple(piece for piece in job.pieces() if piece in reached)


def draw_joining(
    pen: Pen, job: Job, plan: Plan, step: Step, joints: Sequence[Joint], fixed: bool, width: float, height: float
) -> float:
    """The pieces as they stand together, or, where the joints do not place them, as outlines; below who goes into whom.
    Returns the height used."""
    pieces = standing_pieces(job, plan, step, joints, fixed)
    rows = _rows(job, joints, fixed)
    about = tuple(dict.fromkeys(piece for joint in joints for piece in (joint.enters_piece, joint.seat.piece)))
    used = draw_assembled(pen, job, place(job), pieces, about, width, max(height, _STANDING))
    if used is None:
        return draw_gathering(pen, job, step, joints, fixed, width, height)
    return _draw_rows(pen, rows, used, width)


def draw_gathering(
    pen: Pen,
    job: Job,
    step: Step,
    joints: Sequence[Joint],
    fixed: bool,
    width: float,
    height: float,
    marked: Mapping[str, set[str]] | None = None,
) -> float:
    """The parts as outlines with letter and count, and below who goes into whom. Returns the height used.

    `marked` is for marking the face side and edge: parts are drawn with their marks and with what is cut by then."""
    pieces: dict[str, int] = {}
    for joint in joints:
        for piece in dict.fromkeys((joint.enters_piece, joint.seat.piece)):
            pieces.setdefault(job.pieces()[piece].part, 0)
    for work in step.parts:
        if work.part in job.parts and (not joints or work.part in pieces):
            pieces[work.part] = work.quantity
    counts = {name: pieces[name] or part.count for name, part in job.parts.items() if name in pieces}
    rows = _rows(job, joints, fixed)
    shelf = max(height - _ROW * len(rows) - 1.0, 22.0)
    return _draw_rows(pen, rows, _shelf(pen, job, counts, width, shelf, marked), width)


def _draw_rows(pen: Pen, rows: Sequence[tuple[str, str, str]], used: float, width: float) -> float:
    for row, (enters, into, words) in enumerate(rows):
        y = used + 1.0 + _ROW * (row + 0.5)
        _letter(pen, enters, 3.2, y)
        pen.lines("into", [((6.8, y), (12.0, y))], 0.45)
        pen.arrow((13.0, y), (1.0, 0.0), 2.4)
        _letter(pen, into, 16.8, y)
        pen.text(shortened(words, width - 21.5, 3.3), (21.2, y), anchor="start", bold=False, kind="joint", size=3.3)
    return used + 1.0 + _ROW * len(rows)


def _letter(pen: Pen, letter: str, x: float, y: float) -> None:
    pen.circle((x, y), 2.6, 0.4)
    pen.text(letter, (x, y), kind="letter", size=TEXT if len(letter) == 1 else 2.6)


def _rows(job: Job, joints: Sequence[Joint], fixed: bool) -> list[tuple[str, str, str]]:
    """Each pair of parts that meet: letters, and where, and, if they are joined for good, how."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for joint in joints:
        enters, into = job.part_of(joint.enters_piece), job.part_of(joint.seat.piece)
        where = (joint.seat.feature or f"{joint.seat.face} face").replace("-", " ")
        how = " and ".join(joint.fixed) if fixed else ""
        places = found.setdefault((enters.letter, into.letter, how), [])
        if where not in places:
            places.append(where)
    return [(enters, into, ", ".join(places) + (f": {how}" if how else "")) for (enters, into, how), places in found.items()]


def _shelf(
    pen: Pen, job: Job, counts: dict[str, int], width: float, height: float, marked: Mapping[str, set[str]] | None
) -> float:
    """Outlines of the parts, in as many columns as leave them largest. Returns the height used."""
    label = 6.4
    views = [
        (
            View(
                _whole(job, name, None if marked is None else marked.get(name, set())),
                "inside",
                "",
                main=False,
                bare=marked is None,
            ),
            count,
            job.parts[name].letter,
        )
        for name, count in counts.items()
    ]
    if not views:
        return 0.0
    best: tuple[float, int, list[float]] | None = None
    for columns in range(1, max(min(len(views), int(width // _CELL)), 1) + 1):
        rows = -(-len(views) // columns)
        fits = [largest((view,), width / columns - 3.0, height / rows - label - 1.5) for view, _, _ in views]
        found = [each for each in fits if each is not None]
        if len(found) == len(views) and (best is None or min(found) > best[0]):
            best = (min(found), columns, found)
    least, columns, each_own = best or (0.02, len(views), [0.02] * len(views))
    # Face marks are to be read on the thinnest piece; else the pieces keep their proportion to each other.
    scales = [least] * len(views) if marked is None else each_own
    cell = width / columns
    top = 0.0
    for start in range(0, len(views), columns):
        row = [
            (*each, scale) for each, scale in zip(views[start : start + columns], scales[start : start + columns], strict=True)
        ]
        tall = max(view.box(scale).height for view, _, _, scale in row)
        for index, (view, count, letter, scale) in enumerate(row):
            room = view.box(scale)
            left = index * cell + (cell - room.width) / 2
            view.draw(pen, left, top + label + (tall - room.height) / 2, scale)
            words = f"{count}"
            pen_x = index * cell + cell / 2 - 5.0
            _letter(pen, letter, pen_x + 2.0, top + label / 2)
            _times(pen, pen_x + 6.4, top + label / 2)
            pen.text(words, (pen_x + 8.6, top + label / 2), anchor="start", kind="count")
        top += label + tall + 1.5
    return top


def _times(pen: Pen, x: float, y: float) -> None:
    pen.lines("times", [((x - 0.9, y - 0.9), (x + 0.9, y + 0.9)), ((x - 0.9, y + 0.9), (x + 0.9, y - 0.9))], 0.4)


def _whole(job: Job, name: str, done: set[str] | None) -> Subject:
    """A part with all its loose cuts, or with those that are done."""
    part = job.parts[name]
    cut = tuple(
        shape
        for feature in part.features.values()
        if feature.when == "loose" and feature.only != "right" and (done is None or feature.name in done)
        for shape in feature.removes(part.block)
    )
    return Subject(part.letter, part.block, cut, (), part.section, part.grain, part.face_side, part.face_edge)


def draw_waiting(pen: Pen, minutes: float, width: float, height: float) -> float:
    """A clock face with how long to wait. Returns the height used."""
    radius = min(10.0, height / 2 - 1.0)
    x, y = radius + 2.0, radius + 1.0
    pen.circle((x, y), radius, 0.6)
    pen.lines("hands", [((x, y), (x, y - radius * 0.7)), ((x, y), (x + radius * 0.5, y))], 0.6)
    pen.text(waiting_words(minutes), (x + radius + 4.0, y), anchor="start", kind="wait", size=4.6)
    return 2 * radius + 2.0


def waiting_words(minutes: float) -> str:
    """A waiting time as printed: minutes under two hours, else hours."""
    if minutes < 120:
        return f"{minutes:.0f} minutes"
    hours = f"{minutes / 60:.1f}".removesuffix(".0")
    return f"{hours} hours"
