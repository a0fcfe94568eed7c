"""Carries a plan out on solids, task by task, and keeps the record. mm, mm3.

Alike pieces are made once: a part that is not handed has one piece to make, a handed one two. Joining takes all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial

from sequencer.design.bodies import body
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.splines import Spline
from sequencer.features.mitre import Mitre
from sequencer.model.frame import FaceName, Hand, axis_of, opposite
from sequencer.model.job import Job, Piece
from sequencer.model.marks import Datum, Layout, Level, Line, Off, measured_faces
from sequencer.model.plan import Plan, Task
from sequencer.model.proof import Looked, PartProof, Proof, TaskProof
from sequencer.model.work import WORK_KINDS
from sequencer.planning.loose import SLOTS, SPLINE_CURE
from sequencer.proving.across_corners import across_looked, bitten, cut_across
from sequencer.proving.bases import base_stands
from sequencer.proving.boards import start_of, strip_of
from sequencer.proving.cut_places import measured_along
from sequencer.proving.cuts import Bite, NoCut, bite_of
from sequencer.proving.cutting import cut_of
from sequencer.proving.cutting_apart import last_held, stands_at_an_end, stays_in_its_part, strip_lasts
from sequencer.proving.joining import Joining
from sequencer.proving.looking import look_before
from sequencer.proving.marking import can_be_marked, off_the_board, true_as_bought
from sequencer.proving.outcome import cards_agree, drawing_looked, run_out_looked
from sequencer.proving.remembered import Remembered
from sequencer.proving.strips import cuts_apart, strip_looked
from sequencer.proving.tool_room import reach_all_faces
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.parts import part_solid
from sequencer.solid.solids import Solid

Key = tuple[str, Hand | None]
"""A part and a hand of it: pieces that are made alike."""

_JOINING = frozenset({"dry-fit", "glue", "screw", "nail", "fit-dry", "key"})
_PUT_IN = frozenset({"dowel", "biscuit", "wedge", "spline"})
_FIXING = _JOINING - {"dry-fit"}
_OWN = _FIXING | _PUT_IN | {"cure"}
"""What may be done to a joint while its glue is wet: all of it belongs to the joint."""


@dataclass(frozen=True, eq=False)
class State:
    """A piece before and after a task, with what the task took away; in the piece's own frame."""

    task: str
    piece: Key
    before: Workpiece
    removed: Solid
    after: Workpiece


@dataclass(frozen=True, eq=False)
class Making:
    """The record of a plan carried out, and the states between its tasks.

    pieces
        Every piece as it came out.
    pieces_at
        For each task that cuts nothing: every piece as it is when the task begins.
    remembered
        What was done to which piece, for carrying out another plan of the same job.
    """

    proof: Proof
    states: tuple[State, ...]
    pieces: Mapping[Key, Workpiece]
    pieces_at: Mapping[str, Mapping[Key, Workpiece]] = field(default_factory=dict)
    remembered: Remembered | None = None

    def of(self, task: str) -> tuple[State, ...]:
        """The states of a task, one for each hand it is done on."""
        return tuple(state for state in self.states if state.task == task)


def carry_out(plan: Plan, job: Job, earlier: Making | None = None) -> Making:
    """Make the thing as the plan says, in the order of its tasks, and hold it against the drawing. `earlier`: another plan of
    the same job carried out; what is done here in the same way to the same pieces is not done again."""
    return _Maker(plan, job, Remembered(job, earlier.remembered if earlier is not None else None)).make()


class _Maker:
    """The bench: the pieces as they are now, and what has been seen so far."""

    def __init__(self, plan: Plan, job: Job, remembered: Remembered) -> None:
        self.plan, self.job, self.remembered = plan, job, remembered
        self.steps = {task: step.number for step in plan.steps for task in step.tasks}
        self.holding = {
            task: frozenset(each.name for each in step.holding)
            for step in plan.steps
            if step.kind == "work"
            for task in step.tasks
        }
        self.figures = {station.station: station.figures for station in plan.stations}
        self.machines = {station.station for station in plan.stations if station.machine}
        self.pieces: dict[Key, Workpiece] = {}
        self.members: dict[Key, list[Piece]] = {}
        for piece in job.pieces().values():
            key = (piece.part, piece.hand)
            self.members.setdefault(key, []).append(piece)
        for key in self.members:
            self.pieces[key] = remembered.piece(start_of(plan, job, job.parts[key[0]], key[1]), new=True)
        self.placement: Placement = place(job)
        keys = {piece.name: (piece.part, piece.hand) for piece in job.pieces().values()}
        self.joining = Joining(job, self.placement, keys, remembered, plan.bench)
        self.records: list[TaskProof] = []
        self.states: list[State] = []
        self.pieces_at: dict[str, dict[Key, Workpiece]] = {}
        self.parted: set[str] = set()
        self.slotted: dict[tuple[Key, str], set[str]] = {}
        """Slots that have been sawn across a corner, with the alike pieces that have theirs: the first is cut for all."""
        self.wet: dict[str, str] = {}
        """Pieces whose glue has not set yet, with whose it is: the owner of the task that glued them."""

    def make(self) -> Making:
        for task in self.plan.tasks:
            self._leave_alone(task)
            if not task.layouts:
                self.pieces_at[task.id] = dict(self.pieces)
            if task.layouts:
                for layout in task.layouts:
                    self._cut(task, layout)
            elif task.kind in _JOINING:
                self._join(task)
            elif task.kind == SLOTS.name:
                self._cut_across(task)
            elif task.kind in _PUT_IN:
                self._note(task, self._named(task), 0.0, self.joining.put_in(task.joints, task.kind, self.pieces))
            elif task.kind == "cure":
                kind = "spline" if _of_splines(task) else task.kind
                self._note(task, self._named(task), 0.0, self.joining.lacking(task.joints, kind))
            elif task.kind in ("mark-out", "face-marks"):
                self._mark(task)
            elif task.kind == "clean-inside":
                self._clean(task)
        parts = tuple(
            self.remembered.once(("drawn", key, id(piece)), partial(self._compare, key)) for key, piece in self.pieces.items()
        )
        assembled = (
            *cards_agree(self.plan),
            *(drawing_looked(part) for part in parts),
            *filter(None, map(run_out_looked, self.pieces.values())),
            *self.joining.finished(self.pieces),
        )
        held = all(look.held for task in self.records for look in task.looked) and all(look.held for look in assembled)
        proof = Proof(held, tuple(self.records), parts, assembled)
        return Making(proof, tuple(self.states), dict(self.pieces), self.pieces_at, self.remembered)

    def _leave_alone(self, task: Task) -> None:
        """What is glued is left alone until it has set: only more of the same joint is done to it."""
        owner = task.id.split("/")[0] + (" splines" if _of_splines(task) else "")
        names = {piece for joint in task.joints for piece in self.joining.pieces_of(joint)}
        names |= {name for name, piece in self.job.pieces().items() if piece.part in {task.part, *task.parts}}
        wet = sorted(name for name in names if self.wet.get(name, owner) != owner or (name in self.wet and task.kind not in _OWN))
        if wet:
            says = f"the glue of {', '.join(dict.fromkeys(self.wet[name] for name in wet))} has not set on {', '.join(wet)}"
            self._note(task, ", ".join(wet), 0.0, [Looked("wet", False, says)])
        if task.kind in ("glue", "spline"):
            self.wet |= dict.fromkeys(names, owner)
        elif task.kind == "cure":
            self.wet = {name: whose for name, whose in self.wet.items() if whose != owner}

    def _cut(self, task: Task, layout: Layout) -> None:
        key = (task.part, layout.hand)
        piece = self.pieces[key]
        name = self.members[key][0].name
        figures = self.figures.get(task.station, {})
        try:
            if task.station not in self.figures:
                raise NoCut(f"the plan has no card for {task.station}")
            if "run-out" in task.leaves and "run-out" not in figures:
                raise NoCut("how much of the ends the plane leaves out of size is not known")
            bite, residue = self.remembered.once(
                ("cut", id(piece), task, layout, tuple(sorted(figures.items()))), lambda: _bitten(task, layout, piece, figures)
            )
        except NoCut as error:
            self._note(task, name, 0.0, [Looked("setting", False, str(error))])
            return
        obstacles = self.joining.obstacles(name, self.pieces)
        machine = figures if task.station in self.machines else None
        holding = self.holding.get(task.id, frozenset())
        looked = list(look_before(task, layout, piece, bite, obstacles, machine, self.plan.bench, holding))
        looked += base_stands(task, layout.marks, bite.cut, piece, figures, self.plan.bench)
        if cuts_apart(task):
            looked.append(strip_lasts(piece, figures))
        looked += last_held(task, layout, piece, figures, machine, strip_of(self.plan, task.part))
        strip = strip_of(self.plan, task.part) if task.in_the_long else None
        looked += stands_at_an_end(layout, piece) if task.in_the_long else ()
        looked += stays_in_its_part(layout, piece, bite, strip)
        looked += self._strip(task)
        after = _made(task, layout, replace(piece, body=bite.left, residue=(*piece.residue, *residue)), figures)
        if after.body.empty:
            looked.append(Looked("there", False, "nothing of the piece is left"))
            self._note(task, name, bite.taken, looked)
            return
        self.pieces[key] = after = self.remembered.piece(after)
        self.states.append(State(task.id, key, piece, bite.removed, after))
        self._note(task, name, bite.taken, looked)

    def _cut_across(self, task: Task) -> None:
        """Slots across glued corners: each in one cut through all that hangs together there. Alike pieces are cut once."""
        figures = self.figures.get(task.station, {})
        for joint in task.joints:
            for spline in self.joining.loose.splines.get(joint, ()):
                if spline.name(self.job) not in task.folded:
                    # Slots at another height of the corner are other work.
                    continue
                name = ", ".join(spline.pieces)
                if not self.joining.is_glued(joint):
                    says = f"{joint} is not glued yet: the saw would part its pieces"
                    self._note(task, name, 0.0, [Looked("joined", False, says)])
                    continue
                try:
                    self._note(task, name, *self._across(task, spline, figures))
                except NoCut as error:
                    self._note(task, name, 0.0, [Looked("setting", False, str(error))])

    def _across(self, task: Task, spline: Spline, figures: Mapping[str, float]) -> tuple[float, list[Looked]]:
        """One cut across a corner: how much it takes away, and what was seen."""
        joint, keys = self.job.joints[spline.joint], self.joining.keys
        first, second = spline.pieces
        piece = self.pieces[keys[first]]
        mitre = piece.part.features[joint.its.feature]
        assert isinstance(mitre, Mitre)
        cut = cut_across(task, spline, mitre, piece, figures)
        pose = self.placement.poses[first]
        standing = {name: solid.posed(pose.inverse) for name, solid in self.joining.hangs_together(first, self.pieces).items()}
        looked = [Looked("reference", cut.face in piece.made, f"it is gauged from the {cut.face} of {first}")]
        taken: dict[str, float] = {}
        whole = 0.0
        for name, slot in zip(spline.pieces, spline.slots, strict=True):
            key, before = keys[name], self.pieces[keys[name]]
            body = cut.body.posed(pose).posed(self.placement.poses[name].inverse)
            known = "across", id(piece), id(before), task, tuple(sorted(figures.items())), name, slot.name
            left, volume = self.remembered.once(known, partial(bitten, body, before.body))
            whole += volume
            sawn = self.slotted.setdefault((key, slot.name), set())
            if not sawn or name in sawn:
                taken[name] = volume
            sawn.add(name)
            if volume:
                removed = before.body & body
                self.pieces[key] = after = self.remembered.piece(replace(before, body=left))
                self.states.append(State(task.id, key, before, removed, after))
        looked += across_looked(cut, standing, (first, second), taken, self.plan.bench)
        return whole, looked

    def _strip(self, task: Task) -> list[Looked]:
        """A strip is looked at when it is first cut; after that nothing more is worked along it."""
        strip = strip_of(self.plan, task.part)
        if strip is None or not (task.in_the_long or task.kind == "separate"):
            return []
        if not cuts_apart(task):
            return self._strip_whole(task)
        if strip.name in self.parted:
            return []
        self.parted.add(strip.name)
        pieces = {part: next(piece for key, piece in self.pieces.items() if key[0] == part) for part in strip.parts}
        return list(strip_looked(strip, pieces, self.plan, self.job, self.machines))

    def _strip_whole(self, task: Task) -> list[Looked]:
        """What is worked or marked along a strip finds it whole."""
        strip = strip_of(self.plan, task.part)
        if strip is None:
            return []
        whole = strip.name not in self.parted
        return [Looked("strip", whole, "the strip is still whole" if whole else "the strip has been cut apart already")]

    def _mark(self, task: Task) -> None:
        parts = [task.part] if task.part else list(task.parts)
        for key, piece in list(self.pieces.items()):
            if key[0] not in parts:
                continue
            looked: list[Looked] = []
            if task.kind == "face-marks":
                true = {piece.part.face_side, piece.part.face_edge}
                bought = true_as_bought(self.job, piece.part)
                self.pieces[key] = self.remembered.piece(replace(piece, made=piece.made | true | bought))
                looked += off_the_board(piece, self.plan.bench)
                looked.append(Looked("reference", True, "face side and face edge are chosen and marked"))
            else:
                looked += self._strip_whole(task) if piece.long else []
                looked += list(can_be_marked(task, piece, self._measured(key), self.plan.bench))
                self.pieces[key] = self.remembered.piece(replace(piece, marked=True))
            self._note(task, self.members[key][0].name, 0.0, looked)

    def _measured(self, key: Key) -> set[FaceName]:
        """The faces that what is marked out on a piece is measured from."""
        return {
            face
            for task in self.plan.tasks
            if task.part == key[0] and task.kind not in WORK_KINDS
            for layout in task.layouts
            if layout.hand == key[1] and not isinstance(layout.marks, Off)
            if not task.in_the_long or measured_along(layout.marks)
            for face in measured_faces(layout.marks)
        }

    def _clean(self, task: Task) -> None:
        for key, piece in self.pieces.items():
            if key[0] in task.parts:
                name = self.members[key][0].name
                obstacles = self.joining.obstacles(name, self.pieces)
                self._note(task, name, 0.0, [reach_all_faces(piece, obstacles, self.plan.bench.hand_room)])

    def _join(self, task: Task) -> None:
        names = tuple(dict.fromkeys(piece for joint in task.joints for piece in self.joining.pieces_of(joint)))
        looked = list(self.joining.look(task.joints, self.pieces, task.kind == "dry-fit"))
        if task.kind == "screw":
            looked.append(self._holes(names))
        if task.kind == "glue":
            looked += self.joining.lacking(task.joints, task.kind)
            looked += self.joining.closed_already(task.joints)
        if task.kind in _FIXING:
            self.joining.close(task.joints, task.kind)
        else:
            self.joining.try_dry(task.joints)
        self._note(task, ", ".join(names), 0.0, looked)

    def _named(self, task: Task) -> str:
        return ", ".join(dict.fromkeys(piece for joint in task.joints for piece in self.joining.pieces_of(joint)))

    def _holes(self, names: tuple[str, ...]) -> Looked:
        """A screw needs its hole: those of the pieces it joins are bored."""
        parts = {self.job.part_of(name).name for name in names}
        done = {state.task for state in self.states}
        missing = [
            f"{part.name}/{feature.name}"
            for part in self.job.parts.values()
            if part.name in parts
            for feature in part.features.values()
            if "feature.gauge" in feature.gives and f"{part.name}/{feature.name}/cut" not in done
        ]
        says = f"not bored yet: {', '.join(missing)}" if missing else "the screws find their holes"
        return Looked("there", not missing, says)

    def _note(self, task: Task, piece: str, removed: float, looked: Iterable[Looked]) -> None:
        self.records.append(TaskProof(task.id, self.steps.get(task.id, 0), piece, round(removed, 3), tuple(looked)))

    def _compare(self, key: Key) -> PartProof:
        """A piece as made against the piece as drawn. What is declared to be left is taken out of both sides."""
        piece = self.pieces[key]
        drawn = part_solid(body(self.job, self.members[key][0]))
        over = (piece.body - drawn).volume
        # What is missing follows from the volumes: drawn less what of it is there.
        under = max(drawn.volume - (piece.body.volume - over), 0.0)
        residue: dict[str, float] = {}
        for what, solid in piece.residue:
            accepted = (drawn & solid).volume
            residue[what] = residue.get(what, 0.0) + accepted
            under = max(under - accepted, 0.0)
        return PartProof(
            self.members[key][0].name,
            key[0],
            round(piece.body.volume, 3),
            round(over, 3),
            round(under, 3),
            tuple((what, round(volume, 3)) for what, volume in residue.items() if volume > 0),
        )


def _of_splines(task: Task) -> bool:
    """Whether a task puts splines in, or leaves their glue to set: what is wet then is theirs."""
    return task.kind == "spline" or task.feature == SPLINE_CURE


def _bitten(
    task: Task, layout: Layout, piece: Workpiece, figures: Mapping[str, float]
) -> tuple[Bite, tuple[tuple[str, Solid], ...]]:
    """The cut of a task in a piece, and what it leaves behind there. NoCut if the figures give none."""
    cut = cut_of(task, layout, piece, figures)
    return bite_of(cut, piece.body), tuple((what, solid & piece.body) for what, solid in cut.leaves)


def _made(task: Task, layout: Layout, piece: Workpiece, figures: Mapping[str, float]) -> Workpiece:
    """The piece after a cut: which faces are true now, which waste is off, whether it has been cut from its long piece."""
    marks, made, left_on = layout.marks, set(piece.made), dict(piece.left_on)
    long = piece.long and task.kind != "separate"
    if isinstance(marks, Datum):
        made.add(marks.face)
    elif isinstance(marks, Level) and task.kind != "rough-length":
        made.add(opposite(marks.face))
    elif isinstance(marks, Off):
        left_on.pop(marks.face, None)
        made.add(marks.face)
    elif isinstance(marks, Line) and marks.edges and axis_of(marks.edges[0]) == "x":
        made.add(marks.edges[0])
    sound = piece.sound
    if "run-out" in task.leaves:
        (low, high), reach = piece.spans["x"], figures["run-out"]
        old = sound or (low, high)
        sound = max(old[0], low + reach), min(old[1], high - reach)
    return replace(piece, made=frozenset(made), left_on=left_on, long=long, sound=sound)
