"""Sound plans damaged in one place: what a proof must notice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sequencer.model.frame import FaceName, opposite
from sequencer.model.marks import (
    Between,
    Coped,
    Edges,
    Layout,
    Level,
    Line,
    Marks,
    Moulded,
    Off,
    Plunges,
    Profile,
    Shoulders,
    Spot,
    Spots,
    Trough,
    Window,
)
from sequencer.model.plan import Plan, Task

POSITION = frozenset(
    {
        "fence",
        "shift",
        "packing",
        "middle",
        "height",
        "height-behind",
        "depth",
        "depth-behind",
        "stop",
        "size",
        "distance",
        "width",
        "chisel",
        "blade",
        "cutter",
        "bit",
        "reach",
        "pitch",
        "diameter",
        "batten",
        "inset",
        "bush",
        "template",
        "shoulder",
        "thickness",
        "cheek",
        "tenon-width",
        "edge",
        "haunch",
    }
)
"""Settings that say where or how large a cut is."""

BROKEN = ("reference", "support", "holding", "reach", "datum", "capture")
"""Kinds of reason whose breaking a proof on solids must notice."""


def with_task(plan: Plan, task: Task) -> Plan:
    """The plan with one task replaced by its damaged self."""
    return replace(plan, tasks=tuple(task if each.id == task.id else each for each in plan.tasks))


def swapped(plan: Plan, before: str, after: str) -> Plan:
    """The plan with two tasks in each other's place."""
    tasks = list(plan.tasks)
    places = {task.id: number for number, task in enumerate(tasks)}
    one, other = places[before], places[after]
    tasks[one], tasks[other] = tasks[other], tasks[one]
    return replace(plan, tasks=tuple(tasks))


def moved_before(plan: Plan, name: str, other: str) -> Plan:
    """The plan with a task moved to just before another."""
    moved = next(task for task in plan.tasks if task.id == name)
    rest = [task for task in plan.tasks if task.id != name]
    place = next(number for number, task in enumerate(rest) if task.id == other)
    return replace(plan, tasks=(*rest[:place], moved, *rest[place:]))


def delayed(plan: Plan, name: str, other: str) -> Plan:
    """The plan with a task moved to just after another."""
    moved = next(task for task in plan.tasks if task.id == name)
    rest = [task for task in plan.tasks if task.id != name]
    place = next(number for number, task in enumerate(rest) if task.id == other)
    return replace(plan, tasks=(*rest[: place + 1], moved, *rest[place + 1 :]))


def without(plan: Plan, name: str) -> Plan:
    """The plan with a task left out."""
    return replace(plan, tasks=tuple(task for task in plan.tasks if task.id != name))


def shifted_settings(task: Task) -> Iterator[tuple[str, Task]]:
    """The task with each position-bearing setting 1 mm more."""
    for number, setting in enumerate(task.settings):
        through = setting.name == "depth" and all(_goes_through(layout.marks) for layout in task.layouts)
        if setting.name in POSITION and setting.value and not through:
            changed = replace(setting, value=setting.value + 1.0)
            yield setting.name, replace(task, settings=(*task.settings[:number], changed, *task.settings[number + 1 :]))


def _goes_through(marks: Marks) -> bool:
    """Whether a depth stop does not say how deep the cut is, but only that it goes through."""
    return isinstance(marks, Spots | Window) and marks.depth is None


def shifted_marks(task: Task) -> Task | None:
    """The task with what is set out moved by 1 mm; None where nothing is."""
    layouts = tuple(replace(layout, marks=moved_marks(layout.marks)) for layout in task.layouts)
    return replace(task, layouts=layouts) if layouts and layouts != task.layouts else None


def moved_marks(marks: Marks) -> Marks:
    """Marks 1 mm from where they belong."""
    if isinstance(marks, Level):
        return replace(marks, distance=marks.distance + 1.0)
    if isinstance(marks, Off):
        return replace(marks, amount=marks.amount + 1.0)
    if isinstance(marks, Trough):
        return replace(marks, distance=marks.distance + 1.0)
    if isinstance(marks, Window):
        first, second = marks.sides
        return replace(marks, sides=(replace(first, near=first.near + 1.0, far=first.far + 1.0), second))
    if isinstance(marks, Spots | Plunges):
        return replace(marks, places=tuple(_moved(spot) for spot in marks.places))
    if isinstance(marks, Line):
        return replace(marks, points=tuple(_moved(spot) for spot in marks.points))
    if isinstance(marks, Edges):
        return replace(marks, reach=marks.reach + 1.0)
    if isinstance(marks, Moulded):
        return replace(marks, section=tuple((over + 1.0, down + 1.0) for over, down in marks.section))
    if isinstance(marks, Coped):
        return replace(marks, start=marks.start + 1.0)
    if isinstance(marks, Shoulders):
        return replace(marks, length=marks.length + 1.0)
    if isinstance(marks, Profile):
        return replace(marks, stations=tuple((at, across - 1.0) for at, across in marks.stations))
    return marks


def _moved(spot: Spot) -> Spot:
    (one, along), other = spot
    return (one, along + 1.0), other


def turned_over(task: Task) -> Task:
    """The task with the piece lying the other face down."""
    return replace(task, layouts=tuple(_lying(layout, down=True) for layout in task.layouts))


def other_edge(task: Task) -> Task:
    """The task fenced, stopped or gauged from the opposite face."""
    return replace(task, layouts=tuple(_lying(layout, down=False) for layout in task.layouts))


def _lying(layout: Layout, down: bool) -> Layout:
    lie, marks = layout.lie, layout.marks
    if down:
        return replace(layout, lie=replace(lie, down=opposite(lie.down)))
    against = opposite(lie.against) if lie.against else None
    stop = opposite(lie.stop) if lie.stop else None
    return replace(layout, lie=replace(lie, against=against, stop=stop), marks=_from_the_other_face(marks))


def _from_the_other_face(marks: Marks) -> Marks:
    if isinstance(marks, Trough):
        return replace(marks, beside=opposite(marks.beside))
    if isinstance(marks, Window):
        first, second = marks.sides
        return replace(marks, sides=(_turned(first), second))
    if isinstance(marks, Spots):
        return replace(marks, places=tuple(((opposite(one), along), other) for (one, along), other in marks.places))
    return marks


def _turned(lines: Between) -> Between:
    face: FaceName = opposite(lines.face)
    return replace(lines, face=face)


def mirrored_twice(plan: Plan, part: str) -> Plan:
    """The plan with every right-hand piece of a part worked as if it were a left-hand one."""
    tasks = []
    for task in plan.tasks:
        drawn = next((layout for layout in task.layouts if layout.hand == "left"), None)
        if task.part == part and drawn is not None and task.feature not in STOCK:
            layouts = tuple(replace(drawn, hand=layout.hand) for layout in task.layouts)
            task = replace(task, layouts=layouts)
        tasks.append(task)
    return replace(plan, tasks=tuple(tasks))


STOCK = frozenset({"rough-length", "face-side", "face-edge", "thickness", "width", "first-end", "length"})


def other_kerf(plan: Plan, kerf: float) -> Plan:
    """The plan with blades of another kerf at every saw."""
    stations = tuple(
        replace(station, figures={**station.figures, "kerf": kerf}) if "kerf" in station.figures else station
        for station in plan.stations
    )
    return replace(plan, stations=stations)
