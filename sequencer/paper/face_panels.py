"""The views of one face of a part with what is cut in it, and from its end what its face does not show."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sequencer.features.base import NEAR, Dimension, Feature
from sequencer.model.frame import (
    AXES,
    Axis,
    Block,
    FaceName,
    Hand,
    axis_of,
    face_at,
    is_high,
    mirrored,
    opposite,
)
from sequencer.model.job import Part
from sequencer.model.marks import Line
from sequencer.model.shapes import Shape, bounds_of, mirror
from sequencer.paper.frames import Frame
from sequencer.paper.longer_pieces import NO_ENDS, Ends
from sequencer.paper.overall_sizes import along_sizes, left_on_sizes, length_of
from sequencer.paper.part_view import View
from sequencer.paper.subject import Subject
from sequencer.paper.subject_of_part import subject_of
from sequencer.paper.svg import shortened

_TITLE = 40.0
"""The longest a view's title may be, mm, so that it stands over a narrow picture."""


_ROUND_TEMPLATE = "draw round the template"


_CROWDED = 8
"""More sizes than this at one face are divided over two pictures."""


@dataclass(frozen=True)
class Panel:
    """The views of one piece: alternatives for the main column, best first, and a section or nothing."""

    main: tuple[tuple[View, ...], ...]
    section: tuple[View, ...] = ()

    def apart(self) -> tuple[Panel, ...]:
        """Each view of the column by itself, the first with the section."""
        views = range(len(self.main[0]))
        return tuple(Panel(tuple((column[at],) for column in self.main), () if at else self.section) for at in views)


def face_panel(
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
        subject, sizes = subject_of(part, hand, features, before, beyond)
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
        sizes += along_sizes(subject, flat) + left_on_sizes(subject)
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
        subject, sizes = subject_of(part, hand, (feature,), before)
        if across is not None and subject.waste:
            near = _near_sizes(subject, face, sizes, across)
            return near, _section(subject, face, near, across, subject.waste[0])
    return (), ()


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


def _seen_as(size: Dimension) -> tuple[object, ...]:
    """What makes two sizes say the same: alike ends along one axis, and one label."""
    index = AXES.index(size.along)
    return size.along, *sorted((round(size.start[index], 3), round(size.stop[index], 3))), size.label


def by_face(features: Iterable[Feature]) -> dict[FaceName, list[Feature]]:
    found: dict[FaceName, list[Feature]] = {}
    for feature in features:
        found.setdefault(feature.opens()[0], []).append(feature)
    return found


def legible_groups(features: Sequence[Feature], block: Block) -> list[list[Feature]]:
    """Features of one face in one picture, or, where their sizes would crowd it, shapes in a picture of their own."""
    shapes = [each for each in features if each.nature == "shape"]
    rest = [each for each in features if each.nature != "shape"]
    crowded = sum(len(each.dimensions(block)) for each in features) > _CROWDED
    return [rest, shapes] if crowded and shapes and rest else [list(features)]


def all_bent(features: Sequence[Feature], block: Block) -> bool:
    """Whether all of what is set out is bent lines, which have full-size templates."""
    marks = [feature.marks(block) for feature in features]
    return all(isinstance(each, Line) and len(each.points) > 2 for each in marks)


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


def _near_sizes(subject: Subject, face: FaceName, sizes: Sequence[Dimension], across: Axis) -> tuple[Dimension, ...]:
    """The sizes that a section across an axis shows: the depth, and what lies near the cut."""
    reach = 4 * min(subject.block.size(axis) for axis in AXES)
    return tuple(size for size in sizes if across not in size.axes and (axis_of(face) in size.axes or length_of(size) <= reach))


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
