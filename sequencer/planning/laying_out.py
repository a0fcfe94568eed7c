"""What is set out for each piece of work, and how the piece lies: for every hand of its part. mm."""

from __future__ import annotations

from dataclasses import replace

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.model.frame import axis_of, mirrored
from sequencer.model.job import Part
from sequencer.model.marks import (
    Between,
    Datum,
    Layout,
    Level,
    Marks,
    Off,
    Profile,
    Shoulders,
    Window,
    mirrored_lie,
    mirrored_marks,
)
from sequencer.planning.lying import faces_of, lie_of
from sequencer.planning.ways import Way
from sequencer.planning.work import CLOSE, Work


def layouts_of(work: Work, way: Way, part: Part, kind: StationKind, operation: Operation) -> tuple[Layout, ...]:
    """Marks and lie for the pieces of each hand that the work is done on; none where nothing is set out or cut."""
    marks = _marks(work, way, part)
    if marks is None:
        return ()
    lie = lie_of(operation.lies or kind.lies, work, part)
    marked = faces_of(work, part)[0]
    if not part.handed:
        return (Layout(None, lie, marks, marked),)
    only = work.drawn.only if work.drawn is not None else None
    drawn = Layout("left", lie, marks, marked)
    turned = Layout("right", mirrored_lie(lie), mirrored_marks(marks), mirrored(marked))
    return tuple(layout for layout in (drawn, turned) if only in (None, layout.hand))


def _marks(work: Work, way: Way, part: Part) -> Marks | None:
    """A feature says what is set out for it; stock is worked from the face side, the face edge and the first end."""
    size = part.worked
    if work.drawn is not None:
        return _right_along(gauged(work.drawn.marks(part.block), part), way)
    if work.kind == "rough-length" and way.piece is not None:
        return Level("left", way.piece.length - way.piece.waste)
    if work.kind == "trim":
        allowance = next(each for each in part.allowances if f"{each.face}-allowance" == work.feature)
        return Off(allowance.face, allowance.amount)
    if work.kind in ("length", "separate") and any(feature.ends_part() == ("left",) for feature in part.features.values()):
        # The other end is made by a feature that is measured from this one.
        return Datum("right")
    by_kind: dict[str, Marks] = {
        "face-side": Datum(part.face_side),
        "face-edge": Datum(part.face_edge),
        "first-end": Datum("left"),
        "thickness": Level(part.face_side, size.size(axis_of(part.face_side))),
        "width": Level(part.face_edge, size.size(axis_of(part.face_edge))),
        "length": Level("left", size.length),
        "separate": Level("left", size.length),
    }
    return by_kind.get(work.kind)


def _right_along(marks: Marks, way: Way) -> Marks:
    """The marks on the piece that is worked: what is made round in the long is so from end to end of the long piece."""
    if not isinstance(marks, Profile) or not way.in_the_long or way.piece is None:
        return marks
    *stations, (_, across) = marks.stations
    return replace(marks, stations=(*stations, (way.piece.length, across)))


def gauged(marks: Marks, part: Part) -> Marks:
    """The marks with what lies in the middle gauged from the face side and the face edge: from either face the figure is the
    same, but wood that is not quite to size stays flush on the true side."""

    def from_true(lines: Between) -> Between:
        true = next((face for face in (part.face_side, part.face_edge) if axis_of(face) == axis_of(lines.face)), lines.face)
        middle = abs(lines.near + lines.far - part.block.size(axis_of(lines.face))) < CLOSE
        return replace(lines, face=true) if middle else lines

    if isinstance(marks, Window):
        first, second = (from_true(lines) for lines in marks.sides)
        return replace(marks, sides=(first, second))
    if isinstance(marks, Shoulders):
        return replace(marks, keeps=tuple(from_true(lines) for lines in marks.keeps))
    return marks
