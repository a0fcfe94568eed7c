"""What the picture of a cut shows: the piece as it lies and is cut, on each hand, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.features.base import NEAR
from sequencer.model.frame import FACES, FaceName, Hand, axis_of, is_high, mirrored, sign_of
from sequencer.model.job import Job
from sequencer.model.marks import Datum, Layout, Level, Off, Shoulders, mirrored_marks
from sequencer.model.plan import Step, Task
from sequencer.model.stock_lists import Strip
from sequencer.model.work import WORK_KINDS
from sequencer.paper.in_its_stick import left_before, told_by_line, with_wood_before
from sequencer.paper.linked import reached
from sequencer.paper.mitre_pictures import both_ends, seen_on
from sequencer.paper.mitre_pictures import face_words as words_of_face
from sequencer.paper.pair_pictures import pair_scene, still_a_pair
from sequencer.paper.pictured import Pictured, Shown, Stick, at_its_place, holds_pair
from sequencer.paper.pieces import cut_before
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups import left_scene, set_up_scene
from sequencer.proving.making import State
from sequencer.proving.workpiece import Workpiece
from sequencer.reading.words import listed
from sequencer.solid.solids import Solid, box, joined


def cuts_of(step: Step, tasks: Sequence[Task], pictured: Pictured, stick: Stick | None = None) -> Iterator[Shown]:
    """Each cut of the step, on each hand; stock has no hand yet, and is shown once. Of tenons that are alike at both ends the
    first is shown."""
    sawn_off = _sawn_off(step, tasks, pictured)
    for task in tasks:
        if any(_at_the_other_end(task, other) for other in tasks[: tasks.index(task)]):
            continue
        # Until its first end is squared a piece of a pair is neither left nor right.
        stock = task.kind in WORK_KINDS and not (task.kind == "first-end" and still_a_pair(pictured.job.parts[task.part]))
        # One stick that both hands are in is cut along once, whichever it becomes.
        stock = stock or (stick is not None and task.part in stick.handed and not at_its_place(task))
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


def mitres_of(step: Step, tasks: Sequence[Task], pictured: Pictured) -> Iterator[Shown]:
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
    yield from cuts_of(step, first if stick is not None and len(first) > 1 else tasks, pictured)


def marked(step: Step, tasks: Sequence[Task], pictured: Pictured, strips: Sequence[Strip]) -> Iterator[Shown]:
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
        apart = still_a_pair(part) and not any(holds_pair(strip, part.name) for strip in strips)
        yield Shown(pair_scene(scene, part) if apart else scene)


def of_first(tasks: Sequence[Task]) -> list[Task]:
    """What is done right along a long piece, once: for its other parts it is the same cut."""
    return [task for task in tasks if task.part == tasks[0].part or at_its_place(task)]


def one_of_each(tasks: Sequence[Task], strips: Sequence[Strip]) -> list[Task]:
    """Each long piece once, by the first part that comes out of it."""
    by_part = {part: strip.name for strip in strips for part in strip.parts}
    found: dict[str, Task] = {}
    for task in tasks:
        found.setdefault(by_part.get(task.part, task.part), task)
    return list(found.values())


def unnamed(scene: Scene) -> Scene:
    """Without the part's letter: it is a stick, and the letters stand in the picture of the whole."""
    return replace(scene, things=tuple(replace(each, letter="") for each in scene.things))


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
    others = [other for other in reached(before, own) if other != name and other in poses]
    return [pictured.body(pieces, other).posed(poses[other]).posed(back) for other in others]


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
