"""Shapes that stock or earlier cuts have left where a later cut has to rest or be gripped, and what holds the piece there.

An edge that is broken follows whatever makes or crosses it, so a taper, bevel or curve it meets is there before it. What else
comes after a shape, only the order says (`shapes_met`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sequencer.features.base import NEAR, Feature, ShapeLeft
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.model.frame import AXES, FACES, FaceName, axis_of, face_at, others
from sequencer.model.job import Allowance, Part
from sequencer.model.marks import Lie, Line
from sequencer.model.plan import Bench, Task
from sequencer.model.quantities import Figures
from sequencer.model.shapes import Bounds, bounds, bounds_of
from sequencer.model.workshop import Station
from sequencer.planning.limits import Obstacle
from sequencer.planning.shop import Premises

TOUCH = 0.01
"""Shapes nearer than this meet, mm: below anything that can be marked."""


def meet(one: Bounds, other: Bounds) -> bool:
    """Whether two boxes touch."""
    return all(
        one.span(axis)[0] < other.span(axis)[1] + TOUCH and other.span(axis)[0] < one.span(axis)[1] + TOUCH for axis in AXES
    )


def followed_by(edge: Feature, part: Part) -> tuple[Feature, ...]:
    """What is cut before an edge is broken because the edge meets it; none for a cut that breaks no edge."""
    if edge.nature != "edge":
        return ()
    own = [bounds(shape) for shape in edge.removes(part.block)]
    return tuple(
        each
        for each in part.features.values()
        if each.nature != "edge"
        and each.when == "loose"
        and not (each.only and edge.only and each.only != edge.only)
        and any(meet(one, bounds(shape)) for one in own for shape in each.removes(part.block))
    )


def shaped_ends(shape: Feature, part: Part) -> tuple[Allowance, ...]:
    """Waste that is left on a face which a shape takes away."""
    return tuple(each for each in part.allowances if each.face in shape.spoils())


def shapes_against(edge: Feature, part: Part, kind: StationKind) -> Iterator[Obstacle]:
    """A machine's fence and table ask for straight faces: an edge beside one that a shape has taken away is not fed there."""
    if kind.power != "machine":
        return
    for shape in followed_by(edge, part):
        lost = sorted({*shape.spoils()} & {*edge.opens()}, key=FACES.index)
        if lost and not shape.ends_part():
            yield Obstacle(
                "holding",
                f"The {shape.title} comes before it and leaves no straight {lost[0]} face to bear on fence or table.",
                f"Break this edge by hand, or draw it clear of the {shape.title}.",
            )


@dataclass(frozen=True)
class Left:
    """What a piece is held by and a shape has taken: the face, what it has become, and by which feature of the part; of round
    stock no face and no feature.

    depth, length, across
        How deep the shape goes into the face, over which length it grows deeper, over which width it is the same, mm.
    """

    shape: ShapeLeft
    face: FaceName | None = None
    feature: str = ""
    depth: float = 0.0
    length: float = 0.0
    across: float = 0.0

    def figures(self) -> Figures:
        """The figures that a jig for it takes."""
        return {"shape.depth": self.depth, "shape.length": self.length, "shape.across": self.across}


ROUND = Left("round")
"""Round stock: it is so from the start."""


def grip_of(left: Left, kind: StationKind, operation: Operation, station: Station, shop: Premises) -> str:
    """The way of holding that grips a piece by what a shape has left: one that the operation rests on anyway, else one at hand,
    else one that is made; empty if there is none."""
    shape = shop.knowledge.shapes[left.shape]
    used = shop.held_by(kind, operation, station)
    for names, there in (
        ((*shape.holding, *shape.enough), used),
        (shape.holding, shop.holding(station)),
        (shape.holding, shop.made_holding(kind)),
    ):
        if found := next((name for name in names if name in there), ""):
            return found
    return ""


def grips_of(
    shapes: Iterable[Left], kind: StationKind, operation: Operation, station: Station, shop: Premises
) -> tuple[str, ...]:
    """What grips a piece by each of the shapes, besides what the operation asks for itself."""
    used = shop.held_by(kind, operation, station)
    found = (grip_of(left, kind, operation, station, shop) for left in shapes)
    return tuple(dict.fromkeys(name for name in found if name and name not in used))


def grips_against(
    shapes: Iterable[Left], part: Part, kind: StationKind, operation: Operation, station: Station, shop: Premises
) -> Iterator[Obstacle]:
    """Shapes that nothing here grips a piece by. Holding counts as a guard."""
    for left in shapes:
        if grip_of(left, kind, operation, station, shop):
            continue
        shape = shop.knowledge.shapes[left.shape]
        choice = " or ".join(shop.knowledge.holding[name].name for name in shape.holding)
        choice = choice[:1].lower() + choice[1:] if choice[1:2].islower() else choice
        if left.face is None:
            what = f"The stock is {shape.name}: it {shape.says}."
        else:
            title = part.features[left.feature].title
            what = f"The {title} comes before it and leaves the {left.face} face {shape.name}: it {shape.says}."
        what += f" The {choice} is not at hand at {station.name}."
        yield Obstacle("holding", what, f"Provide the {choice}, then name it in the workshop file, or use another way.")


def shapes_met(
    order: Sequence[str], tasks: Mapping[str, Task], parts: Mapping[str, Part], bench: Bench
) -> dict[str, tuple[str, ...]]:
    """For each task the features that have taken faces of its part before it, where the piece is held by these; tasks that meet
    nothing are left out."""
    before: dict[str, list[Feature]] = {}
    found: dict[str, tuple[str, ...]] = {}
    for name in order:
        task = tasks[name]
        if not task.part:
            continue
        part, shapes = parts[task.part], before.setdefault(task.part, [])
        feature = part.features.get(task.feature)
        cuts = bool(shapes and task.layouts) and task.cut != "none"
        if cuts and held_by_shapes(task.layouts[0].lie, shapes, part, feature, bench):
            found[name] = tuple(shape.name for shape in shapes)
        if feature is not None and feature.shape_left is not None:
            shapes.append(feature)
    return found


def held_by_shapes(lie: Lie, shapes: Sequence[Feature], part: Part, cut: Feature | None, bench: Bench) -> tuple[Left, ...]:
    """What shapes that are cut before have left of the faces that a piece is held by, as it lies for a cut."""
    lost = faces_lost(shapes, part, cut, bench)
    sawn_flat = lie.tool == "beside" and (cut is None or isinstance(cut.marks(part.block), Line))
    needed = _needed(lie, frozenset(lost), part, bench, sawn_flat=sawn_flat)
    return tuple(lost[face] for face in FACES if face in needed)


def faces_lost(shapes: Iterable[Feature], part: Part, cut: Feature | None, bench: Bench) -> dict[FaceName, Left]:
    """The faces of which shapes have left too little to rest on or grip; of several on a face the last."""
    found: dict[FaceName, Left] = {}
    for shape in shapes:
        if cut is not None and shape.only and cut.only and shape.only != cut.only:
            continue
        for face in shape.spoils():
            own = [each for each in shape.removes(part.block) if _reaches_face(bounds(each), face, part)]
            run = max(others(axis_of(face)), key=part.block.size)
            taken = sum(bounds(each).size(run) for each in own)
            if own and taken > (1 - bench.face_share) * part.block.size(run) + NEAR:
                found[face] = _left(shape, face, own[0].axis, bounds_of(own))
    return found


def takes_away(shape: Feature, face: FaceName, part: Part, bench: Bench) -> bool:
    """Whether a shape takes the whole breadth of a face, along so much of it that a piece no longer lies on the rest."""
    if face not in shape.spoils():
        return False
    own = [box for each in shape.removes(part.block) if _reaches_face(box := bounds(each), face, part)]
    run, across = sorted(others(axis_of(face)), key=part.block.size, reverse=True)
    taken = sum(box.size(run) for box in own if box.size(across) > part.block.size(across) - TOUCH)
    return taken > (1 - bench.face_share) * part.block.size(run) + NEAR


def _left(shape: Feature, face: FaceName, along: str, box: Bounds) -> Left:
    assert shape.shape_left is not None
    beside = others(axis_of(face))
    same = next((axis for axis in beside if axis == along), beside[1])
    grows = next(axis for axis in beside if axis != same)
    return Left(shape.shape_left, face, shape.name, box.size(axis_of(face)), box.size(grows), box.size(same))


def _reaches_face(box: Bounds, face: FaceName, part: Part) -> bool:
    low, high = box.span(axis_of(face))
    return low - TOUCH <= part.block.level(face) <= high + TOUCH


def _needed(lie: Lie, lost: frozenset[FaceName], part: Part, bench: Bench, *, sawn_flat: bool) -> set[FaceName]:
    """The lost faces without which a piece is not held: the one it rests on, unless it stands in the vice; and where no pair of
    faces beside is whole, those of the pair that is gripped best. What is larger than a vice opens is cramped down flat. A
    fence is no holding: what is fed along a lost face is out (`shapes_against`, and the proof)."""
    pairs = [axis for axis in others(axis_of(lie.down)) if part.block.size(axis) <= bench.vice_opens]
    grips = [{face for face in (face_at(axis, False), face_at(axis, True)) if face in lost} for axis in pairs]
    gripped: set[FaceName] = min(grips, key=len, default=set())
    in_vice = lie.tool == "above" and bool(pairs) and not gripped
    needed = {lie.down} if lie.down in lost and not in_vice else set()
    if lie.tool not in ("below", "fence") and not sawn_flat:
        needed |= gripped
    return needed
