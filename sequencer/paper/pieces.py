"""What is marked out on a piece: every face that something is cut in, with its sizes, as it is by then."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sequencer.features.base import NEAR, Dimension, Feature, mm
from sequencer.model.frame import (
    AXES,
    FACES,
    Axis,
    Block,
    FaceName,
    Hand,
    Point,
    axis_of,
    face_at,
    is_high,
    mirrored,
    opposite,
    others,
)
from sequencer.model.job import Job, Part
from sequencer.model.marks import Line
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.shapes import Prism, Rind, Shape, Turned, bounds_of, box, mirror
from sequencer.model.stock_lists import Strip
from sequencer.paper.frames import Frame
from sequencer.paper.part_view import Subject, View
from sequencer.paper.svg import shortened
from sequencer.proving.workpiece import Workpiece

_TITLE = 40.0
"""The longest a view's title may be, mm, so that it stands over a narrow picture."""
_ROUND_TEMPLATE = "draw round the template"
_KERF = 3.0
"""Between the parts of a long piece as it is drawn, mm."""
_CROWDED = 8
"""More sizes than this at one face are divided over two pictures."""


@dataclass(frozen=True)
class Laid:
    """A piece in a strip: how far along from the first one, its part, the features of that part that are cut, its name."""

    along: float
    part: Part
    before: frozenset[str]
    called: str


@dataclass(frozen=True)
class Ends:
    """Wood beyond the ends of a part while it is marked out, mm by face, and how many parts the whole piece gives; of a strip
    every piece where it lies."""

    over: Mapping[FaceName, float]
    yields: int = 1
    laid: tuple[Laid, ...] = ()


NO_ENDS = Ends({})


@dataclass(frozen=True)
class Panel:
    """The views of one piece: alternatives for the main column, best first, and a section or nothing."""

    main: tuple[tuple[View, ...], ...]
    section: tuple[View, ...] = ()

    def apart(self) -> tuple[Panel, ...]:
        """Each view of the column by itself, the first with the section."""
        views = range(len(self.main[0]))
        return tuple(Panel(tuple((column[at],) for column in self.main), () if at else self.section) for at in views)


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
        laid = _laid_in(strip, job, done) if strip is not None and name == strip.parts[0] else ()
        ends = {hand: _ends_of(piece, laid) for (member, hand), piece in pieces.items() if member == name}
        if len(laid) > 1:
            panels += _stick_panels(part, before, ends, shared, _long_face(laid))
            panels += part_panels(part, before | shared, {}) if own else []
        elif laid and own and shared - before:
            panels += part_panels(part, before, ends, shared)
            panels += part_panels(part, before | shared)
        else:
            panels += part_panels(part, before, ends)
    return panels


def _on_the_whole(feature: Feature, part: Part) -> bool:
    """Whether a cut is drawn where the whole stick is: it runs along it, or makes an end and shows on its broad faces."""
    return feature.lengthwise(part.block) or (bool(feature.ends_part()) and not _sloping(feature, part))


def _sloping(feature: Feature, part: Part) -> bool:
    """Whether a cut makes an end that slopes through the thickness: of the two faces one keeps its whole length."""
    marks = feature.marks(part.block) if feature.ends_part() else None
    return isinstance(marks, Line) and marks.through == "y" and len(marks.points) == 2


def _slopes(part: Part) -> list[tuple[Feature, Line]]:
    """The cuts of a part that make its ends slope through the thickness, with their lines."""
    found = ((each, each.marks(part.block)) for each in part.features.values() if _sloping(each, part))
    return [(each, marks) for each, marks in found if isinstance(marks, Line)]


def _long_face(laid: Sequence[Laid]) -> FaceName | None:
    """The broad face on which every part of a stick has its whole length because its ends slope away under it; None where
    they do not, or not to one face."""
    faces = {opposite(marks.edges[-1]) for each in laid for _, marks in _slopes(each.part)}
    return next(iter(faces)) if len(faces) == 1 else None


def _insets(laid: Sequence[Laid]) -> tuple[tuple[float, float], ...]:
    """How much further in each part of a stick begins and ends on the face that its sloping ends make short, mm."""
    found = []
    for each in laid:
        own = {"left": 0.0, "right": 0.0}
        for feature, marks in _slopes(each.part):
            (_, tip), (_, toe) = (spot[0] for spot in marks.points)
            own[feature.ends_part()[0]] = abs(toe - tip)
        found.append((own["left"], own["right"]))
    return tuple(found)


def _stick_panels(
    part: Part, before: set[str], ends: Mapping[Hand | None, Ends], shared: Collection[str], long: FaceName | None
) -> list[Panel]:
    """The whole stick with the parts in it and what it is cut in as a whole, its sizes running from the first end; where that is
    nothing, its face side. The parts' own cuts would be a smudge here: each has a picture of its own. Where ends slope through
    the thickness, the sizes run on the `long` face, where the parts have their length; on the short one it is told how far
    in they lie."""
    left = [each for each in part.features.values() if each.name in shared and each.name not in before and each.when == "loose"]
    faces = _by_face(left) or ({} if long else {part.face_side: []})
    if long:
        faces = {long: [], **faces}
    in_turn = sorted(faces.items(), key=lambda each: (each[0] != long, each[0] != part.face_side))
    slopes = [feature for feature, _ in _slopes(part)] if long else []
    laid = next((each.laid for each in ends.values() if each.laid), ())

    def shown(view: View, running: bool) -> View:
        several = len(view.subject.parts) > 1
        kept = [each for each in view.sizes if each.along != "x" or (running and not (several and _length(each) >= part.length))]
        return replace(view, sizes=tuple(kept), running=running and several)

    panels: list[Panel] = []
    for face, group in in_turn:
        short = long is not None and face == opposite(long)
        panel = _face_panel(part, face, [*group, *(slopes if short else ())], before, ends, round_template=False)
        columns = tuple(tuple(shown(view, not panels) for view in column) for column in panel.main)
        if short:
            columns = tuple(tuple(replace(each, running=True, insets=_insets(laid)) for each in column) for column in columns)
        panels.append(Panel(columns, () if short else panel.section))
    return panels


def _laid_in(strip: Strip, job: Job, done: Mapping[str, set[str]]) -> tuple[Laid, ...]:
    """Every piece of a strip as it is drawn."""
    return tuple(
        Laid(piece.start - strip.trim, job.parts[piece.part], frozenset(done.get(piece.part, set())), piece.called)
        for piece in strip.pieces
    )


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
        _face_panel(part, face, together, before, ends or {}, round_template=ends is not None and _bent(together, part.block))
        for face, group in _by_face(left).items()
        for together in _legible_groups(group, part.block)
    ]
    return panels or [_plain_panel(part, before)]


def _legible_groups(features: Sequence[Feature], block: Block) -> list[list[Feature]]:
    """Features of one face in one picture, or, where their sizes would crowd it, shapes in a picture of their own."""
    shapes = [each for each in features if each.nature == "shape"]
    rest = [each for each in features if each.nature != "shape"]
    crowded = sum(len(each.dimensions(block)) for each in features) > _CROWDED
    return [rest, shapes] if crowded and shapes and rest else [list(features)]


def _bent(features: Sequence[Feature], block: Block) -> bool:
    """Whether all of what is set out is bent lines, which have full-size templates."""
    marks = [feature.marks(block) for feature in features]
    return all(isinstance(each, Line) and len(each.points) > 2 for each in marks)


def _end_on(feature: Feature, block: Block, face: FaceName) -> Axis | None:
    """The axis to look along to see how a cut is marked, where its face does not show it: a tenon, with wood standing
    between waste at the face and waste opposite, and a slope that runs in from the face. None for other cuts."""
    deep = axis_of(face)
    spans = [bounds_of([shape]).span(deep) for shape in feature.removes(block)]
    ends = [(low <= NEAR, high >= block.size(deep) - NEAR) for low, high in spans]
    if (True, False) in ends and (False, True) in ends:
        return "x"
    for size in feature.dimensions(block):
        if size.slope is not None and deep in size.axes:
            return next(axis for axis in AXES if axis not in size.axes)
    return None


def _by_face(features: Iterable[Feature]) -> dict[FaceName, list[Feature]]:
    found: dict[FaceName, list[Feature]] = {}
    for feature in features:
        found.setdefault(feature.opens()[0], []).append(feature)
    return found


def _face_panel(
    part: Part,
    face: FaceName,
    features: Sequence[Feature],
    before: set[str],
    ends: Mapping[Hand | None, Ends],
    *,
    round_template: bool,
) -> Panel:
    hands = _hands(part, features)
    columns: list[View] = []
    section: tuple[View, ...] = ()
    for index, hand in enumerate(hands):
        seen_from = mirrored(face) if hand == "right" else face
        # A part whose hands are alike is drawn as the left one.
        beyond = ends.get(hand) or ends.get("left") or NO_ENDS
        subject, sizes = _subject(part, hand, features, before, beyond)
        aside, cut = _marked_end_on(part, hand, features, before, seen_from)
        if index == 0:
            section = cut
        shown = {_seen_as(size) for size in aside}
        sizes = tuple(size for size in sizes if _seen_as(size) not in shown and axis_of(seen_from) not in size.axes)
        title = _title(part, face, hand, alone=len(hands) == 1)
        if len(subject.parts) > 1:
            title = shortened(f"the whole stick, {title}", 1.5 * _TITLE)
        if round_template:
            sizes, title = (), _ROUND_TEMPLATE
        flat = tuple(axis for axis in AXES if axis != axis_of(seen_from))
        sizes += _along(subject, flat) + _left_on(subject)
        columns.append(View(subject, seen_from, title, sizes))
    whole = tuple(columns)
    broken = tuple(replace(view, broken=True) for view in columns)
    return Panel((whole, broken), section)


def _marked_end_on(
    part: Part, hand: Hand | None, features: Sequence[Feature], before: set[str], face: FaceName
) -> tuple[tuple[Dimension, ...], tuple[View, ...]]:
    """For the first cut that is marked from its end: the sizes to show there, and the view."""
    for feature in features:
        across = _end_on(feature, part.block, face)
        subject, sizes = _subject(part, hand, (feature,), before)
        if across is not None and subject.waste:
            near = _near_sizes(subject, face, sizes, across)
            return near, _section(subject, face, near, across, subject.waste[0])
    return (), ()


def _seen_as(size: Dimension) -> tuple[object, ...]:
    """What makes two sizes say the same: alike ends along one axis, and one label."""
    index = AXES.index(size.along)
    return size.along, *sorted((round(size.start[index], 3), round(size.stop[index], 3))), size.label


def _hands(part: Part, features: Sequence[Feature]) -> tuple[Hand | None, ...]:
    """Which hands need a drawing: both if the cuts of the pair differ, else one."""
    if not part.handed:
        return (None,)
    only: set[Hand | None] = {feature.only for feature in features}
    if len(only) == 1 and None not in only:
        hand = next(iter(only))
        return (hand,)
    shapes = [shape for feature in features for shape in feature.removes(part.block)]
    if _corners(shapes) == _corners([mirror(shape, part.length) for shape in shapes]) and only <= {None}:
        return (None,)
    return ("left", "right")


def _corners(shapes: Iterable[Shape]) -> set[tuple[float, ...]]:
    return {
        tuple(round(value, 3) for corner in (box.low, box.high) for value in corner)
        for box in (bounds_of([shape]) for shape in shapes)
    }


def _title(part: Part, face: FaceName, hand: Hand | None, *, alone: bool) -> str:
    own = next((word for word, meant in part.names.items() if meant == face), face)
    kind = {"x": "end", "y": "edge", "z": "face"}[axis_of(face)]
    words = own.replace("-", " ")
    if hand is None:
        return shortened(words if words.endswith(kind) else f"{words} {kind}", _TITLE)
    return shortened(f"{words}, {hand} hand", _TITLE) if alone or hand == "left" else f"{hand} hand"


def _subject(
    part: Part, hand: Hand | None, features: Sequence[Feature], before: set[str], ends: Ends = NO_ENDS
) -> tuple[Subject, tuple[Dimension, ...]]:
    on_hand = {feature.name for feature in part.features_of(hand)}
    turn = hand == "right"
    block = part.block

    def shapes(chosen: Iterable[Feature]) -> tuple[Shape, ...]:
        found = [shape for feature in chosen if feature.name in on_hand for shape in feature.removes(block)]
        return tuple(mirror(shape, block.length) for shape in found) if turn else tuple(found)

    sizes = tuple(size for feature in features if feature.name in on_hand for size in feature.dimensions(block))
    # On a pair left and right are hands.
    called: dict[FaceName, str] = {"left": "first end", "right": "other end"} if part.handed else {}
    names = called | {face: word for word, face in part.names.items()}
    subject = Subject(
        part.letter,
        block,
        shapes(feature for feature in part.features.values() if feature.name in before),
        shapes(features),
        part.section,
        part.grain,
        mirrored(part.face_side) if turn else part.face_side,
        mirrored(part.face_edge) if turn else part.face_edge,
        {mirrored(face) if turn else face: names.get(face, face) for face in FACES},
    )
    if turn:
        sizes = tuple(_mirrored(size, block.length) for size in sizes)
    over = {
        mirrored(each.face) if turn else each.face: each.amount
        for each in part.allowances
        if f"{each.face}-allowance" not in before
    }
    subject, sizes = _lengthened(subject, sizes, over)
    subject = replace(subject, left_on=dict(over))
    if ends.laid and ends.over:
        return _in_strip(subject, sizes, ends, {feature.opens()[0] for feature in features})
    return _among_others(subject, sizes, ends) if ends.over else (subject, sizes)


def _in_strip(
    subject: Subject, sizes: tuple[Dimension, ...], ends: Ends, faces: set[FaceName]
) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject as the first piece of its strip, with every other piece where it lies, whichever part it is of."""
    first = ends.over.get("left", 0.0)
    longer, sizes = _lengthened(subject, sizes, ends.over)
    block, before, waste = longer.block, [*longer.before], [*longer.waste]
    for each in ends.laid[1:]:
        for feature in each.part.features.values():
            if feature.when == "loose" and (feature.name in each.before or feature.opens()[0] in faces):
                shapes = (_over(shape, "x", first + each.along) for shape in feature.removes(each.part.block))
                (before if feature.name in each.before else waste).extend(shapes)
    parts = tuple((first + each.along, first + each.along + each.part.length) for each in ends.laid)
    edges = [0.0, *(edge for part in parts for edge in part), block.length]
    between = [(low, high) for low, high in zip(edges[::2], edges[1::2], strict=True) if high - low > NEAR]
    gone = tuple(box(span, (0.0, block.width), (0.0, block.thickness)) for span in between)
    called = tuple(each.called for each in ends.laid)
    # Sizes run from the end that is squared; the ends of the stick are no ends of a part.
    names = {**longer.names, "left": "first end", "right": ""} if len(parts) > 1 and first < NEAR else longer.names
    return replace(longer, before=tuple(before), waste=(*waste, *gone), parts=parts, called=called, names=names), sizes


def _among_others(subject: Subject, sizes: tuple[Dimension, ...], ends: Ends) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject where it lies in the longer piece it comes out of, with the other parts there; all between and beyond
    them is waste."""
    length = subject.block.length
    first, spare = (ends.over.get(face, 0.0) for face in ("left", "right"))
    onward = 1.0 if spare >= first else -1.0
    fits = int((max(first, spare) + NEAR) // (length + _KERF))
    steps = [onward * number * (length + _KERF) for number in range(min(ends.yields, fits + 1))]
    longer, sizes = _lengthened(subject, sizes, ends.over)
    block = longer.block
    parts = sorted((first + step, first + step + length) for step in steps)
    edges = [0.0, *(edge for part in parts for edge in part), block.length]
    between = [(low, high) for low, high in zip(edges[::2], edges[1::2], strict=True) if high - low > NEAR]
    gone = tuple(box(span, (0.0, block.width), (0.0, block.thickness)) for span in between)
    before, waste = (
        tuple(_over(shape, "x", step) for step in steps for shape in shapes) for shapes in (longer.before, longer.waste)
    )
    return replace(longer, before=before, waste=(*waste, *gone), parts=tuple(parts)), sizes


def _lengthened(
    subject: Subject, sizes: tuple[Dimension, ...], over: Mapping[FaceName, float]
) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject in a block with more wood at some faces, and its sizes where they then are."""
    block, before, waste = subject.block, subject.before, subject.waste
    for face, amount in over.items():
        axis = axis_of(face)
        block = replace(block, **{_FIELDS[axis]: block.size(axis) + amount})
        if not is_high(face):
            before = tuple(_over(shape, axis, amount) for shape in before)
            waste = tuple(_over(shape, axis, amount) for shape in waste)
            sizes = tuple(_size_over(size, axis, amount) for size in sizes)
    return replace(subject, block=block, before=before, waste=waste), sizes


def _left_on(subject: Subject) -> tuple[Dimension, ...]:
    """The sizes of the waste that stays on until later."""
    found = []
    for face, amount in subject.left_on.items():
        low, high = subject.block.span(face, 0.0, amount)
        ends = [Point(*(level if axis == axis_of(face) else 0.0 for axis in AXES)) for level in (low, high)]
        found.append(Dimension(axis_of(face), ends[0], ends[1], f"{mm(amount)} left on"))
    return tuple(found)


def _over(shape: Shape, axis: Axis, amount: float) -> Shape:
    """A shape moved along an axis."""
    if shape.axis == axis:
        if isinstance(shape, Turned):
            return replace(shape, profile=tuple((along + amount, radius) for along, radius in shape.profile))
        return replace(shape, start=shape.start + amount, stop=shape.stop + amount)
    index = others(shape.axis).index(axis)

    def moved(pair: tuple[float, float]) -> tuple[float, float]:
        return (pair[0] + amount, pair[1]) if index == 0 else (pair[0], pair[1] + amount)

    if isinstance(shape, Prism):
        return replace(shape, outline=tuple(moved(pair) for pair in shape.outline))
    if isinstance(shape, Rind):
        return replace(shape, centre=moved(shape.centre), low=moved(shape.low), high=moved(shape.high))
    return replace(shape, centre=moved(shape.centre))


def _size_over(size: Dimension, axis: Axis, amount: float) -> Dimension:
    def moved(point: Point) -> Point:
        return Point(*(value + (amount if own == axis else 0.0) for own, value in zip(AXES, point, strict=True)))

    return _at(size, moved)


def _mirrored(size: Dimension, length: float) -> Dimension:
    return _at(size, lambda point: Point(length - point.x, point.y, point.z))


def _at(size: Dimension, where: Callable[[Point], Point]) -> Dimension:
    slope = where(size.slope) if size.slope is not None else None
    return Dimension(size.along, where(size.start), where(size.stop), size.label, slope)


def _near_sizes(subject: Subject, face: FaceName, sizes: Sequence[Dimension], across: Axis) -> tuple[Dimension, ...]:
    """The sizes that a section across an axis shows: the depth, and what lies near the cut."""
    reach = 4 * min(subject.block.size(axis) for axis in AXES)
    return tuple(size for size in sizes if across not in size.axes and (axis_of(face) in size.axes or _length(size) <= reach))


def _section(subject: Subject, face: FaceName, sizes: tuple[Dimension, ...], across: Axis, through: Shape) -> tuple[View, ...]:
    """The section across an axis through a cut, with its sizes."""
    low, high = bounds_of([through]).span(across)
    low, high = max(low, 0.0), min(high, subject.block.size(across))
    seen_from = face_at(across, across == "z")
    open_near, open_far = low <= 0, high >= subject.block.size(across)
    if open_far and not open_near:
        seen_from = opposite(seen_from)
    frame = Frame(seen_from, subject.block)
    middle = (low + high) / 2
    depth = subject.block.size(across) - middle if not is_high(seen_from) else middle
    assert frame.axis(across) == "z"
    words = "end" if across == "x" else "edge"
    title = f"{words} view" if open_near or open_far else "cut through"
    return (View(subject, seen_from, title, sizes, at=depth, near=True, main=False),)


def _length(size: Dimension) -> float:
    index = AXES.index(size.along)
    return abs(size.start[index] - size.stop[index])


def _plain_panel(part: Part, before: set[str]) -> Panel:
    """A part as it is by now, with its length, width and thickness."""
    subject, _ = _subject(part, None, (), before)
    view = View(subject, "inside", "", _overall(subject.block, ("x", "y")) + _left_on(subject))
    return Panel(((view,), (replace(view, broken=True),)), _round_end(part))


def _round_end(part: Part) -> tuple[View, ...]:
    """Round stock from its end, with its diameter; nothing for other parts."""
    if part.section != "round":
        return ()
    subject = Subject(part.letter, part.block, (), (), "round", part.grain)
    low, high = Point(0.0, 0.0, part.thickness / 2), Point(0.0, part.width, part.thickness / 2)
    size = Dimension("y", low, high, f"diameter {mm(part.width)}")
    return (View(subject, "right", "end view", (size,), main=False),)


def _along(subject: Subject, axes: Iterable[Axis]) -> tuple[Dimension, ...]:
    """The whole of a part along some axes; in a longer piece of every part there, with what lies before and between them."""
    if not subject.parts:
        return _overall(subject.block, axes)
    parts, block = subject.parts, subject.block
    if len(parts) == 1:
        (low, high) = parts[0]
        sizes = [Dimension("x", Point(low, 0.0, 0.0), Point(high, 0.0, 0.0), mm(high - low))]
    else:
        # Where each part lies is told by running sizes; what lies between is said once where it is equal.
        cuts = [(low, high, f"{mm(high - low)} waste") for (_, low), (high, _) in pairwise(parts)]
        spans = list({label: (low, high, label) for low, high, label in reversed(cuts)}.values())
        spans.append((0.0, parts[0][0], f"{mm(parts[0][0])} spare"))
        sizes = [
            Dimension("x", Point(low, block.width, block.thickness), Point(high, block.width, block.thickness), label)
            for low, high, label in spans
            if high - low > NEAR
        ]
    return (
        (*sizes, *_overall(subject.block, [axis for axis in axes if axis != "x"]))
        if "x" in axes
        else _overall(subject.block, axes)
    )


def _overall(block: Block, axes: Iterable[Axis]) -> tuple[Dimension, ...]:
    start = Point(0.0, 0.0, 0.0)
    ends = ((axis, Point(*(block.size(axis) if own == axis else 0.0 for own in AXES))) for axis in axes)
    return tuple(Dimension(axis, start, end, mm(block.size(axis))) for axis, end in ends)


_FIELDS: Mapping[Axis, str] = {"x": "length", "y": "width", "z": "thickness"}
