"""What is known of an attempt at a station: the figures its limits are held against, and those that are set and printed. mm."""

from __future__ import annotations

from collections.abc import Collection

from sequencer.features.base import Feature
from sequencer.model.frame import axis_of
from sequencer.model.quantities import Figures
from sequencer.planning.attempts import Attempt
from sequencer.planning.blanks import Workpiece, after_first_end
from sequencer.planning.cleaned_sizes import small_ones
from sequencer.planning.free_waste import free_waste
from sequencer.planning.job_figures import GLUED, finish_figures, laser_figures, marked_by
from sequencer.planning.piece_at_station import held_at
from sequencer.planning.shop import Shop
from sequencer.planning.work import Work


def figures_for_limits(attempt: Attempt, piece: Workpiece | None, at_station: Figures, shop: Shop) -> dict[str, float]:
    """The figures by name that limits are held against. Of a blank they are what squaring its first end has left."""
    work = attempt.work
    figures = {
        **shop.common_figures,
        **work.figures,
        **(piece.figures() if piece else {}),
        **at_station,
        **(shop.glue_figures if work.kind in GLUED else {}),
        **finish_figures(work, shop),
        **laser_figures(work, shop),
        **marked_by(work, shop.knowledge.working),
        **small_ones(work.figures, at_station.get("station.gripped", at_station.get("station.shortest"))),
        **_small_part(work, at_station.get("station.shortest")),
    }
    if piece is None:
        return figures
    if work.drawn is not None:
        standing = _standing(piece, work.drawn)
        upright = max(0.0, standing - piece.thickness)
        figures |= {"blank.standing": standing, "blank.upright": upright, "blank.flat": float(not upright)}
    bench, working = shop.knowledge.bench, shop.knowledge.working
    figures |= free_waste(work.kind, work.figures, piece, bench.first_end_trim, working.partner_holds)
    thin = figures.get("part.sheet", 0.0) > 0 and piece.thickness < bench.thin_sheet and piece.width > bench.flutters_from
    figures["blank.thin-sheet"] = float(thin)
    squared = after_first_end(piece, attempt.pieces.trim)
    if attempt.pieces.trim:
        figures |= squared.figures()
    figures["blank.held"] = held_at(attempt, squared, at_station, shop.knowledge.bench.first_end_trim)
    return figures


def bench_figures(at_hand: Collection[str]) -> dict[str, float]:
    """Which of the two that hold wood at a bench are at hand there, as figures: sentences name the one there is."""
    found: dict[str, float] = {}
    for name, holding in (("vice", "bench-vice"), ("cramps", "bench-cramp")):
        found |= {f"bench.{name}": float(holding in at_hand), f"bench.no-{name}": float(holding not in at_hand)}
    return found


def _small_part(work: Work, shortest: float | None) -> dict[str, float]:
    """Whether the finished part is shorter than a station holds, as figures."""
    length = work.figures.get("part.length")
    if length is None or shortest is None:
        return {}
    return {"part.small": float(length < shortest), "part.held": float(length >= shortest)}


def figures_to_print(work: Work, piece: Workpiece | None, figures: Figures) -> dict[str, float]:
    """The figures that settings are worked out from and sentences print: of the blank as it is marked out. Of what is sawn off a
    board they are those of the blank, where limits are for the board on the station."""
    if piece is None:
        return {**figures}
    if work.kind == "rough-length":
        return {**figures, "blank.length": piece.length - piece.waste, "blank.width": piece.sawn_width or piece.width}
    return {**figures, **piece.figures()}


def _standing(piece: Workpiece, feature: Feature) -> float:
    """How high the piece stands when the tool comes from above into the face a cut opens, mm."""
    axis = axis_of(feature.opens()[0])
    return {"x": piece.length, "y": piece.width, "z": piece.thickness}[axis]
