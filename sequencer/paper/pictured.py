"""A plan carried out, as its pictures need it: tasks, states, the whole at a moment, the sticks that steps have in hand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from sequencer.design.placing import place
from sequencer.model.frame import Hand
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Piecework, Plan, Step, Task
from sequencer.model.stock_lists import Strip
from sequencer.paper.face_panels import Panel
from sequencer.paper.linked import joints_of, reached
from sequencer.paper.pair_pictures import hand_behind, still_a_pair
from sequencer.paper.pieces import marking_panels
from sequencer.paper.scene import Scene
from sequencer.paper.whole import Whole
from sequencer.proving.cut_places import measured_along
from sequencer.proving.making import Making, State
from sequencer.proving.strips import cuts_apart
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid

_ON_IT = frozenset({"face-marks", "mark-out"})
"""Work that marks a long piece."""
FIXING = frozenset({"glue", "screw", "nail", "fit-dry", "key"})
TOGETHER = FIXING | {"dry-fit", "clean-inside", "dowel", "biscuit"}
"""Work on what comes together: it is shown apart, with its ways in."""


@dataclass(frozen=True)
class Stick:
    """The long pieces that a step works, one but where faces are marked: with several pieces still in each when the step begins.
    `cut`: the step cuts it apart. `here`: the parts that something is cut into at their own place in a stick they share.
    `squared`: the sticks whose first end an earlier step has squared, by name. `handed`: the parts
    whose left and right pieces both lie in one of them, with the hand that lies first."""

    strips: tuple[Strip, ...]
    cut: bool
    here: frozenset[str] = frozenset()
    squared: frozenset[str] = frozenset()
    handed: Mapping[str, Hand] = field(default_factory=dict)

    @property
    def parts(self) -> set[str]:
        """The parts that are in them."""
        return {part for strip in self.strips for part in strip.parts}


@dataclass(frozen=True, eq=False)
class Shown:
    """A scene with the words over it. `whole`: it shows pieces together and needs more height; `tall`: so does a piece that
    stands in the vice with its sizes about it."""

    scene: Scene
    caption: str = ""
    whole: bool = False
    tall: bool = False


@dataclass(frozen=True, eq=False)
class Pictured:
    """A plan carried out, as its pictures need it."""

    plan: Plan
    job: Job
    making: Making
    known: dict[str, tuple[Shown, ...]] = field(default_factory=dict)
    """What steps show, as far as it has been asked: a card tries a picture in several rooms (`step_pictures.shown`)."""

    panels_known: dict[str, tuple[Panel, ...]] = field(default_factory=dict)
    """The views that steps of marking out are drawn from, as far as they have been asked for."""

    def panels(self, step: Step) -> tuple[Panel, ...]:
        """The views that a step of marking out is drawn from."""
        if step.id not in self.panels_known:
            tasks = [self.tasks[name] for name in step.tasks]
            pieces = self.making.pieces_at.get(tasks[0].id, {})
            self.panels_known[step.id] = tuple(marking_panels(self.job, step, self.plan, tasks, pieces))
        return self.panels_known[step.id]

    def shown_parts(self, step: Step) -> tuple[Piecework, ...]:
        """The parts of a step with the pieces of each; where parts come together also what is joined to them by then: the picture
        shows that, and it is taken in hand."""
        tasks = [self.tasks[name] for name in step.tasks if name in self.tasks]
        joints = joints_of(tasks, self.job)
        if step.kind != "work" or not joints or not {task.kind for task in tasks} & (TOGETHER - {"clean-inside"}):
            return step.parts
        pieces = reached([*self.joined_before(step), *joints], joints)
        counts = {work.part: work.quantity for work in step.parts}
        for name in self.job.parts:
            there = sum(self.job.part_of(piece).name == name for piece in pieces)
            if there:
                counts[name] = max(counts.get(name, 0), there)
        in_order = [name for name in self.job.parts if name in counts]
        return tuple(Piecework(name, self.job.parts[name].letter, counts[name]) for name in in_order)

    @cached_property
    def sticks(self) -> Mapping[str, Stick]:
        """By step, the strips that students have in hand whole, as far as the step that first cuts each."""
        found: dict[str, Stick] = {}
        apart: set[str] = set()
        squared: set[str] = set()
        by_part = {part: strip for strip in self.plan.strips for part in strip.parts}
        for step in self.plan.steps:
            tasks = [self.tasks[name] for name in step.tasks if name in self.tasks]
            strips = {strip.name: strip for task in tasks for strip in [by_part.get(task.part)] if strip is not None}
            cut = any(cuts_apart(task) for task in tasks)
            alone = len(strips) == 1 and all(task.part in by_part for task in tasks)
            on_it = all(task.in_the_long or task.kind in _ON_IT or cuts_apart(task) for task in tasks)
            marked = all(task.kind == "face-marks" for task in tasks)
            if strips and not strips.keys() & apart and on_it and (alone or marked):
                if step.card == "student" and step.kind == "work":
                    shared = {part for strip in strips.values() if len(strip.parts) > 1 for part in strip.parts}
                    here = (task.part for task in tasks if task.part in shared and at_its_place(task))
                    found[step.id] = Stick(
                        tuple(strips.values()),
                        cut,
                        frozenset(here),
                        frozenset(squared & strips.keys()),
                        self._pairs(strips.values()),
                    )
                apart |= strips.keys() if cut else set()
            squared |= {by_part[task.part].name for task in tasks if task.kind == "first-end" and task.part in by_part}
        return found

    def _pairs(self, strips: Iterable[Strip]) -> Mapping[str, Hand]:
        """The parts whose left and right pieces lie together in one of these, with the hand that lies first."""
        both = {piece.part for strip in strips for piece in strip.pieces if holds_pair(strip, piece.part)}
        return {name: hand_behind(self.job.parts[name]) for name in sorted(both) if still_a_pair(self.job.parts[name])}

    @cached_property
    def tasks(self) -> Mapping[str, Task]:
        """Tasks by name."""
        return {task.id: task for task in self.plan.tasks}

    @cached_property
    def figures(self) -> Mapping[str, Mapping[str, float]]:
        """The stations' own figures by station."""
        return {card.station: card.figures for card in self.plan.stations}

    @cached_property
    def states(self) -> Mapping[str, tuple[State, ...]]:
        """The states of each task, one for each hand."""
        found: dict[str, list[State]] = {}
        for state in self.making.states:
            found.setdefault(state.task, []).append(state)
        return {task: tuple(states) for task, states in found.items()}

    @cached_property
    def drawn(self) -> Whole:
        """The whole where its joints place it."""
        return Whole(self.job, place(self.job))

    def whole(self, task: str) -> Whole:
        """The whole with its pieces as they are when a task begins."""
        pieces = self.making.pieces_at.get(task, self.making.pieces)
        return self.drawn.made_of({name: self.body(pieces, name) for name in self.job.pieces()})

    def body(self, pieces: Mapping[tuple[str, Hand | None], Workpiece], name: str) -> Solid:
        """A piece as it is among these, in its own frame."""
        piece = self.job.pieces()[name]
        return pieces[(piece.part, piece.hand)].body

    def joined_before(self, step: Step) -> list[Joint]:
        """The joints that earlier steps have made; for what is tried or cleaned before, those that this was done to."""
        names: dict[str, None] = {}
        kinds = FIXING | {self.tasks[name].kind for name in step.tasks}
        for earlier in self.plan.steps:
            if earlier.id == step.id:
                break
            if earlier.kind == "work":
                done = (self.tasks[name] for name in earlier.tasks if self.tasks[name].kind in kinds)
                names |= dict.fromkeys(joint for task in done for joint in task.joints)
        return [self.job.joints[name] for name in names]

    def splined_before(self, step: Step) -> list[Joint]:
        """The joints that earlier steps have glued splines into."""
        done = [task for each in self.plan.steps if each.number < step.number for task in map(self.tasks.get, each.tasks)]
        return [self.job.joints[name] for task in done if task is not None and task.kind == "spline" for name in task.joints]


def at_its_place(task: Task) -> bool:
    """Whether a cut on a long piece belongs to one part of it, and has its place by that."""
    return task.in_the_long and not cuts_apart(task) and any(measured_along(layout.marks) for layout in task.layouts)


def holds_pair(strip: Strip, part: str) -> bool:
    """Whether more than one piece of a part lies in a strip."""
    return sum(piece.part == part for piece in strip.pieces) > 1
