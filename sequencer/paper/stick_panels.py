"""The views of a whole stick with the parts in it, and which of its faces show their sizes where ends slope."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from sequencer.features.base import Dimension, Feature
from sequencer.model.frame import (
    FaceName,
    Hand,
    opposite,
)
from sequencer.model.job import Job, Part
from sequencer.model.marks import Line
from sequencer.model.stock_lists import Strip
from sequencer.paper.face_panels import Panel, by_face, face_panel
from sequencer.paper.longer_pieces import Ends, Laid
from sequencer.paper.overall_sizes import length_of
from sequencer.paper.part_view import View


def sloping(feature: Feature, part: Part) -> bool:
    """Whether a cut makes an end that slopes through the thickness: of the two faces one keeps its whole length."""
    marks = feature.marks(part.block) if feature.ends_part() else None
    return isinstance(marks, Line) and marks.through == "y" and len(marks.points) == 2


def _slopes(part: Part) -> list[tuple[Feature, Line]]:
    """The cuts of a part that make its ends slope through the thickness, with their lines."""
    found = ((each, each.marks(part.block)) for each in part.features.values() if sloping(each, part))
    return [(each, marks) for each, marks in found if isinstance(marks, Line)]


def long_face(laid: Sequence[Laid]) -> FaceName | None:
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


def stick_panels(
    part: Part, before: set[str], ends: Mapping[Hand | None, Ends], shared: Collection[str], long: FaceName | None
) -> list[Panel]:
    """The whole stick with the parts in it and what it is cut in as a whole, its sizes running from the first end; where that is
    nothing, its face side. The parts' own cuts would be a smudge here: each has a picture of its own. Where ends slope through
    the thickness, the sizes run on the `long` face, where the parts have their length; on the short one it is told how far
    in they lie."""
    left = [each for each in part.features.values() if each.name in shared and each.name not in before and each.when == "loose"]
    faces = by_face(left) or ({} if long else {part.face_side: []})
    if long:
        faces = {long: [], **faces}
    in_turn = sorted(faces.items(), key=lambda each: (each[0] != long, each[0] != part.face_side))
    slopes = [feature for feature, _ in _slopes(part)] if long else []
    laid = next((each.laid for each in ends.values() if each.laid), ())

    def shown(view: View, running: bool) -> View:
        several = len(view.subject.parts) > 1

        def kept(size: Dimension) -> bool:
            return size.along != "x" or (running and not (several and length_of(size) >= part.length))

        return replace(view, sizes=tuple(filter(kept, view.sizes)), running=running and several)

    panels: list[Panel] = []
    for face, group in in_turn:
        short = long is not None and face == opposite(long)
        panel = face_panel(part, face, [*group, *(slopes if short else ())], before, ends, round_template=False)
        columns = tuple(tuple(shown(view, not panels) for view in column) for column in panel.main)
        if short:
            columns = tuple(tuple(replace(each, running=True, insets=_insets(laid)) for each in column) for column in columns)
        panels.append(Panel(columns, () if short else panel.section))
    return panels


def laid_in(strip: Strip, job: Job, done: Mapping[str, set[str]]) -> tuple[Laid, ...]:
    """Every piece of a strip as it is drawn."""
    return tuple(
        Laid(piece.start - strip.trim, job.parts[piece.part], frozenset(done.get(piece.part, set())), piece.called)
        for piece in strip.pieces
    )
