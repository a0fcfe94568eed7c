"""What is marked out on a piece: every face that something is cut in, with its sizes, as it is by then."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.features.base import NEAR, Dimension, Feature, mm
from sequencer.model.frame import (
    FaceName,
    Hand,
    Point,
)
from sequencer.model.job import Job, Part
from sequencer.model.plan import Plan, Step, Task
from sequencer.paper.face_panels import Panel, all_bent, by_face, face_panel, legible_groups
from sequencer.paper.longer_pieces import Ends, Laid
from sequencer.paper.overall_sizes import left_on_sizes, overall_sizes
from sequencer.paper.part_view import View
from sequencer.paper.stick_panels import laid_in, long_face, sloping, stick_panels
from sequencer.paper.subject import Subject
from sequencer.paper.subject_of_part import subject_of
from sequencer.proving.workpiece import Workpiece


def cut_before(step: Step, plan: Plan, job: Job) -> dict[str, set[str]]:
    """Features that earlier steps have cut, and allowances they have trimmed, by part."""
    acts = {task.id: task for task in plan.tasks}
    done: dict[str, set[str]] = {}
    for earlier in plan.steps:
        if earlier.id == step.id:
            break
        if earlier.kind == "work":
            tasks = [acts[name] for name in earlier.tasks if name in acts]
            for part, feature in _cuts(tasks, job):
                done.setdefault(part, set()).add(feature)
            for task in tasks:
                if task.kind == "trim":
                    done.setdefault(task.part, set()).add(task.feature)
    return done


def _cuts(tasks: Iterable[Task], job: Job) -> Iterator[tuple[str, str]]:
    for task in tasks:
        if task.part in job.parts and task.feature in job.parts[task.part].features and task.kind != "mark-out":
            yield task.part, task.feature


def marking_panels(
    job: Job, step: Step, plan: Plan, tasks: Sequence[Task], pieces: Mapping[tuple[str, Hand | None], Workpiece]
) -> list[Panel]:
    """For marking out: every feature of the parts in question that can be marked, with where it lies on each face of the
    pieces as they are by then: with all the parts in a long one, and the waste at ends that a later cut makes.
    """
    done = cut_before(step, plan, job)
    names = list(dict.fromkeys(name for task in tasks for name in (task.part, *task.parts) if name in job.parts))
    strips = {part: strip for strip in plan.strips for part in strip.parts}
    panels = []
    for name in names:
        part, before = job.parts[name], done.get(name, set())
        strip = strips.get(name)
        # What runs along a strip, and what makes the ends, is drawn where the whole strip is; the rest on each part.
        # A slope on the edges is drawn on each part too: on the thin edge of a whole stick it could not be read.
        shared = {each.name for each in part.features.values() if _on_the_whole(each, part)}
        own = {each.name for each in part.features.values() if each.when == "loose"} - before - shared
        if strip is not None and name != strip.parts[0] and strip.parts[0] in names:
            if not own:
                continue
            panels += part_panels(part, before | shared, {})
            continue
        laid = laid_in(strip, job, done) if strip is not None and name == strip.parts[0] else ()
        ends = {hand: _ends_of(piece, laid) for (member, hand), piece in pieces.items() if member == name}
        if len(laid) > 1:
            panels += stick_panels(part, before, ends, shared, long_face(laid))
            panels += part_panels(part, before | shared, {}) if own else []
        elif laid and own and shared - before:
            panels += part_panels(part, before, ends, shared)
            panels += part_panels(part, before | shared)
        else:
            panels += part_panels(part, before, ends)
    return panels


def _on_the_whole(feature: Feature, part: Part) -> bool:
    """Whether a cut is drawn where the whole stick is: it runs along it, or makes an end and shows on its broad faces."""
    return feature.lengthwise(part.block) or (bool(feature.ends_part()) and not sloping(feature, part))


def _ends_of(piece: Workpiece, laid: tuple[Laid, ...] = ()) -> Ends:
    low, high = piece.body.bounds.span("x")
    over: dict[FaceName, float] = {"left": -low, "right": high - piece.part.block.length}
    kept = {face: round(amount, 3) for face, amount in over.items() if amount > NEAR and face not in piece.left_on}
    return Ends(kept, piece.yields if piece.long else 1, laid if piece.long and piece.hand != "right" else ())


def part_panels(
    part: Part, before: set[str], ends: Mapping[Hand | None, Ends] | None = None, only: Collection[str] | None = None
) -> list[Panel]:
    """A part with every loose feature that is not cut yet, where it lies on each face; its own size if none is left.
    `ends` is the wood beyond its ends on each hand, for a piece that is marked out: there a bent line is drawn round its
    full-size template, and needs no sizes. `only`: the features to show, where it is not all of them.
    """
    left = [each for each in part.features.values() if each.name not in before and each.when == "loose"]
    left = left if only is None else [each for each in left if each.name in only]
    panels = [
        face_panel(part, face, together, before, ends or {}, round_template=ends is not None and all_bent(together, part.block))
        for face, group in by_face(left).items()
        for together in legible_groups(group, part.block)
    ]
    return panels or [_plain_panel(part, before)]


def _plain_panel(part: Part, before: set[str]) -> Panel:
    """A part as it is by now, with its length, width and thickness."""
    subject, _ = subject_of(part, None, (), before)
    view = View(subject, "inside", "", overall_sizes(subject.block, ("x", "y")) + left_on_sizes(subject))
    return Panel(((view,), (replace(view, broken=True),)), _round_end(part))


def _round_end(part: Part) -> tuple[View, ...]:
    """Round stock from its end, with its diameter; nothing for other parts."""
    if part.section != "round":
        return ()
    subject = Subject(part.letter, part.block, (), (), "round", part.grain)
    low, high = Point(0.0, 0.0, part.thickness / 2), Point(0.0, part.width, part.thickness / 2)
    size = Dimension("y", low, high, f"diameter {mm(part.width)}")
    return (View(subject, "right", "end view", (size,), main=False),)
