"""What the picture of a step shows: the piece as it lies and is cut, or the pieces as they go together, from the states of
the plan carried out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from sequencer.design.placing import place
from sequencer.features.base import NEAR
from sequencer.model.frame import FACES, FaceName, Hand, axis_of, is_high, mirrored, sign_of
from sequencer.model.job import Job, Joint
from sequencer.model.marks import Datum, Layout, Level, Off, Shoulders, mirrored_marks
from sequencer.model.plan import Piecework, Plan, Step, Task
from sequencer.model.stock_lists import Strip
from sequencer.model.work import WORK_KINDS
from sequencer.paper.corner_pictures import with_splines
from sequencer.paper.face_panels import Panel
from sequencer.paper.in_its_stick import left_before, told_by_line, with_wood_before
from sequencer.paper.mitre_pictures import both_ends, seen_on
from sequencer.paper.mitre_pictures import face_words as words_of_face
from sequencer.paper.pair_pictures import hand_behind, pair_scene, still_a_pair
from sequencer.paper.pieces import cut_before, marking_panels
from sequencer.paper.ring_pictures import cramped_scene, ring_of, rolled_scenes
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups import left_scene, set_up_scene
from sequencer.paper.spline_pictures import corner_scenes, sawn_off
from sequencer.paper.whole import Whole
from sequencer.paper.whole_scenes import assembled_scene, joining_scene
from sequencer.planning.loose import SLOTS
from sequencer.proving.cut_places import measured_along
from sequencer.proving.making import Making, State
from sequencer.proving.strips import cuts_apart
from sequencer.proving.workpiece import Workpiece
from sequencer.reading.words import listed
from sequencer.solid.solids import Solid, box, joined

MOST = 6
"""Pictures in one step; more would leave the page."""
_ON_IT = frozenset({"face-marks", "mark-out"})
"""Work that marks a long piece."""
_UNDRAWN = frozenset({"make-dowels", "make-wedges", "make-splines"})
_AT_CORNERS = frozenset({SLOTS.name, "spline", "trim-splines"})
"""Work on splines across glued corners."""
"""Work on loose pieces, which are no parts of the drawing."""
TAPE = "strong tape"
"""The tool that tells that pieces are laid in a row and rolled up."""
_FIXING = frozenset({"glue", "screw", "nail", "fit-dry", "key"})
_TOGETHER = _FIXING | {"dry-fit", "clean-inside", "dowel", "biscuit"}
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
class Pictured:
    """A plan carried out, as its pictures need it."""

    plan: Plan
    job: Job
    making: Making
    known: dict[str, tuple[Shown, ...]] = field(default_factory=dict)
    """What steps show, as far as it has been asked: a card tries a picture in several rooms."""

    panels_known: dict[str, tuple[Panel, ...]] = field(default_factory=dict)
    """The views that steps of marking out are drawn from, as far as they have been asked for."""

    def panels(self, step: Step) -> tuple[Panel, ...]:
        """The views that a step of marking out is drawn from."""
        if step.id not in self.panels_known:
            tasks = [self.tasks[name] for name in step.tasks]
            pieces = self.making.pieces_at.get(tasks[0].id, {})
            self.panels_known[step.id] = tuple(marking_panels(self.job, step, self.plan, tasks, pieces))
        return self.panels_known[step.id]

    def shown(self, step: Step) -> tuple[Shown, ...]:
        """What a step's picture shows."""
        if step.id not in self.known:
            self.known[step.id] = scenes_of(step, self)
        return self.known[step.id]

    def shown_parts(self, step: Step) -> tuple[Piecework, ...]:
        """The parts of a step with the pieces of each; where parts come together also what is joined to them by then: the picture
        shows that, and it is taken in hand."""
        tasks = [self.tasks[name] for name in step.tasks if name in self.tasks]
        joints = joints_of(tasks, self.job)
        if step.kind != "work" or not joints or not {task.kind for task in tasks} & (_TOGETHER - {"clean-inside"}):
            return step.parts
        pieces = _reached([*self.joined_before(step), *joints], joints)
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
                    here = (task.part for task in tasks if task.part in shared and _at_its_place(task))
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
        both = {piece.part for strip in strips for piece in strip.pieces if _holds_pair(strip, piece.part)}
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
        kinds = _FIXING | {self.tasks[name].kind for name in step.tasks}
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


@dataclass(frozen=True, eq=False)
class Shown:
    """A scene with the words over it. `whole`: it shows pieces together and needs more height; `tall`: so does a piece that
    stands in the vice with its sizes about it."""

    scene: Scene
    caption: str = ""
    whole: bool = False
    tall: bool = False


def scenes_of(step: Step, pictured: Pictured) -> tuple[Shown, ...]:
    """What a step's picture shows, in the order of the work; nothing for waiting and for putting guards back."""
    if step.kind in ("wait", "guards-back"):
        return ()
    tasks = [pictured.tasks[name] for name in step.tasks]
    kinds = {task.kind for task in tasks}
    if kinds == {"make-splines"}:
        sawn = sawn_off(tasks[0], "spline")
        return () if sawn is None else (Shown(sawn),)
    if kinds <= _UNDRAWN:
        return ()
    stick = pictured.sticks.get(step.id)
    whole = stick is not None and not stick.cut
    shown_once = _of_first(tasks) if stick is not None and whole else tasks
    if kinds == {"rough-length"}:
        shown_once = _one_of_each(tasks, pictured.plan.strips)
    if kinds == {"mitre"}:
        return tuple(_mitres(step, tasks, pictured))
    cuts = list(_cuts(step, shown_once, pictured, stick if whole else None))
    if stick is not None and whole and cuts and not stick.here:
        return tuple(replace(each, scene=_unnamed(each.scene)) for each in cuts)
    if kinds == {"rough-length"} and len(shown_once) < len(tasks):
        # A stick is no part yet.
        return tuple(replace(each, scene=_unnamed(each.scene)) for each in cuts)
    if cuts:
        return tuple(cuts)
    if "face-marks" in kinds:
        return tuple(_marked(step, tasks, pictured, stick.strips if stick is not None else ()))
    if kinds & _TOGETHER:
        return tuple(_together(step, tasks, pictured))
    if kinds <= _AT_CORNERS:
        joints = [pictured.job.joints[name] for name in tasks[0].joints]
        hangs = _reached([*pictured.joined_before(step), *joints], joints)
        now = pictured.whole(tasks[0].id)
        return tuple(Shown(scene, words, whole=large) for words, scene, large in corner_scenes(step, tasks[0], now, hangs))
    pieces = [
        piece for piece in pictured.job.pieces() if any(pictured.job.part_of(piece).name == work.part for work in step.parts)
    ]
    if not pieces:
        return ()
    # What hangs on to them is in the hand with them.
    pieces = _hanging_on(pictured.joined_before(step), pieces)
    whole_now = _worked_side_up(pictured.whole(tasks[0].id), tasks)
    return (Shown(with_splines(assembled_scene(whole_now, pieces), whole_now, pictured.splined_before(step)), whole=True),)


def _worked_side_up(whole: Whole, tasks: Sequence[Task]) -> Whole:
    """The whole as it lies to have hardware fixed: the face that this goes on is on top, where the drawing says which it is."""
    things = (whole.job.hardware[task.feature] for task in tasks if task.kind == "hardware")
    thing = next((each for each in things if each.on is not None), None)
    if thing is None or thing.on is None:
        return whole
    pieces = (name for name, piece in whole.job.pieces().items() if {name, piece.part} & {thing.fixed_to[0]})
    return whole.lying_with(next(pieces), thing.on)


def _mitres(step: Step, tasks: Sequence[Task], pictured: Pictured) -> Iterator[Shown]:
    """Each part seen square on with both its ends named, then its ends as they are cut; of parts that are cut alike off one stick
    those of the first."""
    parts = dict.fromkeys(task.part for task in tasks)
    for name in parts:
        last = [task for task in tasks if task.part == name][-1]
        part = pictured.job.parts[name]
        face = seen_on(part)
        scene = both_ends(part, pictured.states[last.id][0].after.body) if face is not None and not part.handed else None
        if face is not None and scene is not None:
            yield Shown(scene, f"{part.letter}, seen on its {words_of_face(part, face)}")
    stick = pictured.sticks.get(step.id)
    first = [task for task in tasks if task.part == tasks[0].part]
    yield from _cuts(step, first if stick is not None and len(first) > 1 else tasks, pictured)


def _of_first(tasks: Sequence[Task]) -> list[Task]:
    """What is done right along a long piece, once: for its other parts it is the same cut."""
    return [task for task in tasks if task.part == tasks[0].part or _at_its_place(task)]


def _one_of_each(tasks: Sequence[Task], strips: Sequence[Strip]) -> list[Task]:
    """Each long piece once, by the first part that comes out of it."""
    by_part = {part: strip.name for strip in strips for part in strip.parts}
    found: dict[str, Task] = {}
    for task in tasks:
        found.setdefault(by_part.get(task.part, task.part), task)
    return list(found.values())


def _at_its_place(task: Task) -> bool:
    """Whether a cut on a long piece belongs to one part of it, and has its place by that."""
    return task.in_the_long and not cuts_apart(task) and any(measured_along(layout.marks) for layout in task.layouts)


def _unnamed(scene: Scene) -> Scene:
    """Without the part's letter: it is a stick, and the letters stand in the picture of the whole."""
    return replace(scene, things=tuple(replace(each, letter="") for each in scene.things))


def _cuts(step: Step, tasks: Sequence[Task], pictured: Pictured, stick: Stick | None = None) -> Iterator[Shown]:
    """Each cut of the step, on each hand; stock has no hand yet, and is shown once. Of tenons that are alike at both ends the
    first is shown."""
    sawn_off = _sawn_off(step, tasks, pictured)
    for task in tasks:
        if any(_at_the_other_end(task, other) for other in tasks[: tasks.index(task)]):
            continue
        # Until its first end is squared a piece of a pair is neither left nor right.
        stock = task.kind in WORK_KINDS and not (task.kind == "first-end" and still_a_pair(pictured.job.parts[task.part]))
        # One stick that both hands are in is cut along once, whichever it becomes.
        stock = stock or (stick is not None and task.part in stick.handed and not _at_its_place(task))
        made = list(zip(task.layouts, pictured.states.get(task.id, ()), strict=False))
        for layout, state in made[:1] if stock else made:
            alike = [task, *(other for other in tasks if _at_the_other_end(other, task))]
            words = [" and ".join(each.feature.replace("-", " ") for each in alike)] if len(tasks) > 1 else []
            if sawn_off is not None:
                words = [listed([piece.called for piece in sawn_off.pieces if piece.part == task.part])]
            within = stick.strips[0] if stick is not None and task.part in stick.here else None
            if within is not None:
                words += [listed([piece.called for piece in within.pieces if piece.part == task.part])]
                state = _in_its_stick(step, state, within, pictured)
            words += [f"{layout.hand} hand"] if layout.hand and not stock else []
            left = _left(task, layout, state, pictured.job)
            standing = left is not None and isinstance(layout.marks, Shoulders)
            scene = _cut(step, task, layout, state, pictured, within)
            # What stays of the stick has the other parts in it: it is not cut away.
            scene = _stock(scene) if sawn_off is not None else scene
            yield Shown(scene, ", ".join(words), tall=standing)
            if left is not None:
                yield Shown(left, "when sawn" if standing else ", ".join([*words, "turned up"]))
        if sawn_off is not None and task is tasks[0]:
            yield from _new_end(step, sawn_off, pictured)


def _sawn_off(step: Step, tasks: Sequence[Task], pictured: Pictured) -> Strip | None:
    """The stick that a step saws its parts off, one after the other, its new end sawn square each time; None for other steps."""
    stick = pictured.sticks.get(step.id)
    if stick is None or not stick.cut or any(task.kind not in ("length", "separate") for task in tasks):
        return None
    several = [strip for strip in stick.strips if len(strip.pieces) > 1 and strip.name in stick.squared]
    return several[0] if len(several) == 1 == len(stick.strips) else None


def _new_end(step: Step, strip: Strip, pictured: Pictured) -> Iterator[Shown]:
    """The second thing to do: the end that sawing the first part off has left is sawn square, at the line of the next part."""
    first, following = strip.pieces[:2]
    task = next(each for each in pictured.plan.tasks if each.kind == "first-end" and each.part == following.part)
    later = next(pictured.tasks[name] for name in step.tasks if pictured.tasks[name].part == following.part)
    state, layout = pictured.states[later.id][0], task.layouts[0]
    piece, gap = state.before, following.start - first.stop
    spans = [piece.body.bounds.span(axis) for axis in ("y", "z")]
    waste = box((-gap, *(span[0] for span in spans)), (0.0, *(span[1] for span in spans)))
    before = replace(piece, body=joined([piece.body, waste]))
    yield Shown(_cut(step, task, layout, State(task.id, state.piece, before, waste, piece), pictured), "then the new end")


def _at_the_other_end(task: Task, first: Task) -> bool:
    """Whether a tenon is the same as an earlier one, at the other end of the piece."""
    if task.part != first.part or task.id == first.id or (task.operation, task.settings) != (first.operation, first.settings):
        return False
    pairs = list(zip(task.layouts, first.layouts, strict=False))
    return len(task.layouts) == len(first.layouts) and all(
        isinstance(one.marks, Shoulders) and mirrored_marks(one.marks) == other.marks for one, other in pairs
    )


def _in_its_stick(step: Step, state: State, strip: Strip, pictured: Pictured) -> State:
    """The state with the wood of the parts that lie before it in their stick."""
    done = cut_before(step, pictured.plan, pictured.job)
    return replace(state, before=with_wood_before(state.before, strip, pictured.job, done))


def _cut(step: Step, task: Task, layout: Layout, state: State, pictured: Pictured, within: Strip | None = None) -> Scene:
    part = pictured.job.parts[task.part]
    side, edge = (_shown(state.before, layout.hand, face) for face in (part.face_side, part.face_edge))
    scene = set_up_scene(
        task,
        layout,
        pictured.figures.get(task.station, {}),
        state.before.body,
        state.removed,
        part.letter,
        face_side=side,
        face_edge=edge,
        holding=[thing.name for thing in step.holding],
        left_on={**_over(state.before, layout), **(left_before(within, task.part) if within is not None else {})},
        others=_joined_to(step, state, pictured),
        tools=step.tools,
    )
    if within is not None:
        scene = told_by_line(scene, within, task.part)
    return _stock(scene) if task.kind == "rough-length" else scene


def _joined_to(step: Step, state: State, pictured: Pictured) -> list[Solid]:
    """The pieces that earlier steps have joined to a piece, in its own frame."""
    before, poses = pictured.joined_before(step), pictured.drawn.placement.poses
    name = next(name for name, piece in pictured.job.pieces().items() if (piece.part, piece.hand) == state.piece)
    own = [joint for joint in before if name in (joint.enters_piece, joint.seat.piece)]
    if name not in poses or not own:
        return []
    back, pieces = poses[name].inverse, pictured.making.pieces
    reached = [other for other in _reached(before, own) if other != name and other in poses]
    return [pictured.body(pieces, other).posed(poses[other]).posed(back) for other in reached]


def _stock(scene: Scene) -> Scene:
    """The scene with what comes off drawn as wood: the rest of a board is stock, no waste."""
    return replace(scene, things=tuple(replace(each, look="wood") if each.look == "waste" else each for each in scene.things))


def _left(task: Task, layout: Layout, state: State, job: Job) -> Scene | None:
    """The piece after a cut from below, turned up; None where the set-up shows the cut itself."""
    part, piece = job.parts[task.part], state.before
    side, edge = (_shown(piece, layout.hand, face) for face in (part.face_side, part.face_edge))
    return left_scene(task, layout, piece.body, state.removed, part.letter, face_side=side, face_edge=edge, left_on=piece.left_on)


def _over(piece: Workpiece, layout: Layout) -> Mapping[FaceName, float]:
    """Waste beyond the lines that sizes are taken from: what stays on until later, and ends that are laid out and not yet
    sawn. A square cut is measured from the end itself."""
    if isinstance(layout.marks, Level | Datum | Off):
        return piece.left_on
    over = {face: sign_of(face) * (piece.spans[axis_of(face)][is_high(face)] - piece.level(face)) for face in FACES}
    return {face: amount for face, amount in over.items() if amount > NEAR}


def _shown(piece: Workpiece, hand: Hand | None, face: FaceName) -> FaceName | None:
    """A marked face on this hand, once it is true."""
    own = mirrored(face) if hand == "right" else face
    return own if own in piece.made else None


def _marked(step: Step, tasks: Sequence[Task], pictured: Pictured, strips: Sequence[Strip]) -> Iterator[Shown]:
    """Pieces with the face marks they get, a stick of several parts once."""
    stick = {part: strip for strip in strips for part in strip.parts}
    shown: set[str] = set()
    for task in tasks:
        part = pictured.job.parts[task.part]
        if task.part in stick:
            if stick[task.part].name in shown:
                continue
            shown.add(stick[task.part].name)
        piece = next(piece for key, piece in pictured.making.pieces_at[task.id].items() if key[0] == part.name)
        side, edge = part.face_side, part.face_edge
        letter = "" if task.part in stick else part.letter
        scene = set_up_scene(task, None, {}, piece.body, None, letter, face_side=side, face_edge=edge)
        apart = still_a_pair(part) and not any(_holds_pair(strip, part.name) for strip in strips)
        yield Shown(pair_scene(scene, part) if apart else scene)


def _holds_pair(strip: Strip, part: str) -> bool:
    """Whether more than one piece of a part lies in a strip."""
    return sum(piece.part == part for piece in strip.pieces) > 1


def joints_of(tasks: Sequence[Task], job: Job) -> list[Joint]:
    """The joints that tasks are about, each once."""
    return [job.joints[name] for name in dict.fromkeys(name for task in tasks for name in task.joints)]


def _together(step: Step, tasks: Sequence[Task], pictured: Pictured) -> Iterator[Shown]:
    """The pieces apart with their ways in, then as they stand joined. What stands joined already only gets its nails or
    screws: it is shown as it stands."""
    joints = joints_of(tasks, pictured.job)
    if {task.kind for task in tasks} == {"clean-inside"}:
        cleaned = {work.part for work in step.parts}
        joints = [
            each
            for each in joints
            if {pictured.job.part_of(piece).name for piece in (each.enters_piece, each.seat.piece)} & cleaned
        ]
    if not joints:
        return
    whole = pictured.whole(tasks[0].id)
    before = pictured.joined_before(step)
    apart = any(joint not in before for joint in joints)
    ring = ring_of(step, whole, joints) if {task.kind for task in tasks} & {"dry-fit", "glue"} else None
    if ring is not None and TAPE in step.tools:
        tried = any(task.kind == "dry-fit" for task in tasks)
        scenes = rolled_scenes(ring, _reached([*before, *joints], joints), tried=tried)
        yield from (Shown(scene, words, whole=True) for words, scene in scenes)
        return
    if apart:
        yield Shown(joining_scene(whole, joints, before), whole=True)
    if not apart or any(task.kind in _FIXING | {"dry-fit"} for task in tasks):
        pieces = _reached([*before, *joints], joints)
        cramped = cramped_scene(ring, pieces, step, pictured.plan) if ring is not None and apart else None
        yield Shown(cramped or assembled_scene(whole, pieces), "together" if apart else "", whole=True)


def _hanging_on(links: Sequence[Joint], pieces: Sequence[str]) -> list[str]:
    """Some pieces, and all that joints make one body with them."""
    own = [joint for joint in links if {joint.enters_piece, joint.seat.piece} & {*pieces}]
    return list(dict.fromkeys((*pieces, *_reached(links, own))))


def _reached(links: Sequence[Joint], joints: Sequence[Joint]) -> list[str]:
    """All pieces that the joints of a step make one body with."""
    reached = {piece for joint in joints for piece in (joint.enters_piece, joint.seat.piece)}
    grown = True
    while grown:
        more = {
            piece
            for joint in links
            for piece in (joint.enters_piece, joint.seat.piece)
            if {joint.enters_piece, joint.seat.piece} & reached
        } - reached
        reached |= more
        grown = bool(more)
    return sorted(reached)
