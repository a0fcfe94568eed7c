"""Ways: every operation that can make a piece of work is tried against geometry, station, guards and who may do it. What is
not possible keeps its reasons with figures and remedies.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import cos, radians

from sequencer.features.base import Feature, mm
from sequencer.knowledge.forms.operations import Limit, Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.knowledge.working import Working
from sequencer.model.frame import axis_of
from sequencer.model.marks import Tool
from sequencer.model.plan import Setting
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Station, Who
from sequencer.planning.blanks import Workpiece, after_first_end, before_first_end, held, held_beside_cut, marked_out
from sequencer.planning.cleaned_sizes import small_ones
from sequencer.planning.limits import Obstacle, limits_of_all, right_of, value_of
from sequencer.planning.lying import lie_of
from sequencer.planning.obstacles import (
    cramps_against,
    finish_against,
    guards_against,
    hardware_against,
    holding_against,
    people_against,
    purpose_against,
    service_against,
)
from sequencer.planning.shapes_left import ROUND, Left, grips_against, held_by_shapes, shapes_against
from sequencer.planning.shop import Shop, as_it_stands
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.tool_sizes import sizes_against
from sequencer.planning.turning import turning_against
from sequencer.planning.who import may_do, staff_alone
from sequencer.planning.work import Work, finish_index, words


@dataclass(frozen=True)
class Way:
    """One operation at one station for one piece of work, possible or not.

    piece
        The piece as it is worked; `in_the_long` if that is a longer piece cut apart afterwards.
    minutes, set_up
        For one piece; once for a setting.
    tool
        Where the cutter comes from.
    """

    operation: str
    title: str
    kind: str
    station: str
    who: Who
    piece: Workpiece | None
    in_the_long: bool
    figures: Figures
    settings: tuple[Setting, ...]
    minutes: float
    set_up: float
    guards_off: bool
    tool: Tool
    obstacles: tuple[Obstacle, ...]
    left: tuple[Left, ...] = ()
    """Shapes that the piece is held by."""
    needs: tuple[str, ...] = ()
    """True faces that the operation asks for: `face-side`, `face-edge`."""

    @property
    def possible(self) -> bool:
        """Whether nothing stands against it."""
        return not self.obstacles

    @property
    def meant(self) -> bool:
        """Whether the operation is meant for work of this shape at all."""
        return all(obstacle.kind != "purpose" for obstacle in self.obstacles)


LongPiece = Callable[[float, float, float], Workpiece | None]
"""The long piece for a station's shortest, longest and least holding end, mm; None if the stock gives none."""


@dataclass(frozen=True)
class Pieces:
    """The pieces a work may be done on: the piece by itself, and a longer one cut apart afterwards if there may be one.

    `only_long`: the piece has no square block of its own yet (mitred ends, or it is cut off a long piece later).
    """

    single: Workpiece | None
    long: LongPiece | None = None
    only_long: bool = False
    several: tuple[Workpiece, ...] = ()
    """For work on several parts: each of the pieces, every one of which must be within the limits."""
    longest: float = float("inf")
    """The longest that the piece by itself may be made: as the stock is bought, mm."""
    trim: float = 0.0
    """The most that squaring its first end has taken off the piece before this work, mm; the piece is given as it was."""
    whole: bool = False
    """Whether the long piece gives one part only, and is made as long as an operation asks of what it cuts."""


def find_ways(
    work: Work,
    pieces: Pieces,
    shop: Shop,
    words: Mapping[str, str],
    hardness: str,
    station: str = "",
    shaped: tuple[str, ...] = (),
) -> tuple[Way, ...]:
    """Every way of doing a work, possible or not, in the knowledge's order. `shaped`: features of the part that are cut before
    and may have taken faces that the piece is held by."""
    return tuple(
        _try_stations(Attempt(work, pieces, in_the_long, kind, name, operation, words, hardness, station, shaped), shop)
        for kind, name, operation in shop.makers.get(work.kind, ())
        for in_the_long in _choices(operation, pieces)
    )


@dataclass(frozen=True)
class Attempt:
    """One operation tried for one work, by the piece or in the long."""

    work: Work
    pieces: Pieces
    in_the_long: bool
    kind: StationKind
    name: str
    operation: Operation
    words: Mapping[str, str]
    hardness: str
    station: str = ""
    """The station that a decision asks for, tried first."""
    shaped: tuple[str, ...] = ()
    """Features of the part that are cut before and may have taken faces that the piece is held by."""


def _choices(operation: Operation, pieces: Pieces) -> Iterator[bool]:
    if not pieces.only_long and operation.in_the_long != "always":
        yield False
    if operation.in_the_long == "always" or (pieces.long is not None and (operation.in_the_long != "never" or pieces.only_long)):
        yield True


def _try_stations(attempt: Attempt, shop: Shop) -> Way:
    """The way at the first station of the kind where it is possible, else at the first one, else without a station."""
    stations = shop.stations.get(attempt.kind.station, ())
    tried = [_try(attempt, each, shop) for each in sorted(stations, key=lambda each: each.name != attempt.station)]
    possible = next((way for way in tried if way.possible), None)
    return possible or (tried[0] if tried else _try_nowhere(attempt, shop))


def _try_nowhere(attempt: Attempt, shop: Shop) -> Way:
    kind, operation = attempt.kind, attempt.operation
    piece = attempt.pieces.single
    figures = {**attempt.work.figures, **(piece.figures() if piece else {})}
    missing = Obstacle(
        "station", f"This workshop has no station for {kind.name.lower()}.", f"Add one (kind {kind.station}), or use another way."
    )
    return Way(
        attempt.name,
        operation.name,
        kind.station,
        "",
        may_do(kind, attempt.name, operation, shop.workshop),
        piece,
        attempt.in_the_long,
        figures,
        (),
        operation.minutes.each,
        operation.minutes.set_up,
        bool(operation.guards_off),
        (operation.lies or kind.lies).tool,
        (*purpose_against(operation, figures), missing),
    )


def _try(attempt: Attempt, station: Station, shop: Shop) -> Way:
    work, kind, operation = attempt.work, attempt.kind, attempt.operation
    at_station = shop.station_figures(kind, station)
    trim = shop.knowledge.bench.first_end_trim
    piece, short = _piece_at(attempt, at_station, shop.knowledge.working)
    figures = {
        **shop.common_figures,
        **work.figures,
        **(piece.figures() if piece else {}),
        **at_station,
        **(shop.glue_figures if work.kind in GLUED else {}),
        **finish_figures(work, shop),
        **laser_figures(work, shop),
        **_marked_by(work, shop.knowledge.working),
        **small_ones(work.figures, at_station.get("station.shortest")),
    }
    if piece is not None and work.drawn is not None:
        standing = _standing(piece, work.drawn)
        upright = max(0.0, standing - piece.thickness)
        figures |= {"blank.standing": standing, "blank.upright": upright, "blank.flat": float(not upright)}
    if piece is not None and attempt.pieces.trim:
        # The limits are for what squaring the first end has left; what is printed is the blank.
        figures |= after_first_end(piece, attempt.pieces.trim).figures()
    if piece is not None:
        figures |= _held_at(attempt, after_first_end(piece, attempt.pieces.trim), at_station, trim)
    who = may_do(kind, attempt.name, operation, shop.workshop)
    theirs = staff_alone(kind, operation, shop.class_work(work.parts)) or staff_put_it_on(work, shop)
    if who.operator == "student" and theirs:
        who = replace(who, operator="staff")
    left = _left(attempt, shop)
    held = as_it_stands(operation, figures)
    # Where the stock gives no piece, its sizes are not unknown: there is none to be held against limits.
    limits = tuple(limit for limit in operation.limits if not short or piece is not None or not _of_the_piece(limit))
    obstacles = (
        *purpose_against(operation, figures),
        *finish_against(work, operation, shop),
        *hardware_against(work, operation, shop),
        *service_against(station, shop),
        *guards_against(operation, station, shop),
        *holding_against(kind, held, station, shop),
        *(shapes_against(work.drawn, shop.job.parts[work.part], kind) if work.drawn is not None else ()),
        *(grips_against(left, shop.job.parts[work.part], kind, held, station, shop) if left else ()),
        *(
            turning_against(work.drawn, shop.job.parts[work.part], operation, station, figures, shop.knowledge.bench)
            if work.drawn is not None
            else ()
        ),
        *short,
        *limits_of_all(limits, figures, attempt.pieces.several, station),
        *cramps_against(work, figures, shop),
        *people_against(kind, operation, who, shop),
        *_no_start_against(attempt, shop),
    )
    if work.kind == "rough-length" and piece is not None:
        # The limits are for the board on the station; what is set and printed is the blank that is cut off it.
        figures["blank.length"] = piece.length - piece.waste
        figures["blank.width"] = piece.sawn_width or piece.width
    elif piece is not None:
        figures |= piece.figures()
    settings: tuple[Setting, ...] = ()
    if not obstacles or operation.tool_sizes:
        settings = _settings(attempt, figures, station, shop)
        obstacles = (*obstacles, *sizes_against(operation, settings, station, shop, work.drawn is not None))
    settings = () if obstacles else settings
    if any(setting.value is None for setting in settings) and who.operator == "student":
        # A figure that nobody knows is for staff to decide, so the step is theirs.
        who = replace(who, operator="staff")
    return Way(
        attempt.name,
        operation.name,
        kind.station,
        station.name,
        who,
        piece,
        attempt.in_the_long,
        figures,
        settings,
        _minutes(work, operation, shop),
        operation.minutes.set_up,
        bool(operation.guards_off),
        (operation.lies or kind.lies).tool,
        obstacles,
        left,
        operation.needs,
    )


def _of_the_piece(limit: Limit) -> bool:
    """Whether a limit asks for sizes of the piece as it is worked."""
    return any(name.startswith("blank.") for name in (limit.of, *right_of(limit)[1].names))


def _no_start_against(attempt: Attempt, shop: Shop) -> Iterator[Obstacle]:
    """No hole for a blade that must be threaded through: the waste is too narrow for one, or nothing here makes it."""
    if NEEDED not in attempt.operation.needs:
        return
    hole = attempt.work.start
    if hole is None:
        least, beside = shop.knowledge.working.least_start_hole, shop.knowledge.working.start_hole_beside
        yield Obstacle(
            "limit",
            "The blade is threaded through a hole in the waste, and that of the "
            f"{words(attempt.work.feature)} has no room for one of {mm(least)} mm with {mm(beside)} mm beside it.",
            f"Draw it at least {mm(least + 2 * beside)} mm wide, or use another way.",
        )
        return
    ways = find_ways(hole, attempt.pieces, shop, attempt.words, attempt.hardness)
    if not any(way.possible for way in ways):
        tried = (way.obstacles[0] for way in ways if way.station)
        nearest = next((each.what for each in tried if each.kind != "purpose"), "")
        yield Obstacle(
            "station",
            "The blade is threaded through a hole in the waste, and nothing in this workshop can make that hole. "
            f"{nearest}".strip(),
            "Add a drill or a brace, or use another way.",
        )


def _marked_by(work: Work, working: Working) -> dict[str, float]:
    """Whether the width of a part is marked by a gauge or, further than its stem reaches, by rule and straight edge."""
    width = work.figures.get("part.width")
    if width is None:
        return {}
    return {"part.gauged": float(width <= working.gauge_reach), "part.past-gauge": float(width > working.gauge_reach)}


def _left(attempt: Attempt, shop: Shop) -> tuple[Left, ...]:
    """The shapes a piece is held by while this operation cuts it: round stock from the start, a long stick that has been made
    round too. A hand with abrasive paper turns round wood as it likes."""
    cut, kind, work = attempt.operation.cut, attempt.kind, attempt.work
    if not work.part or cut == "none" or (cut == "sand" and kind.power in ("hand", "bench")):
        return ()
    part = shop.job.parts[work.part]
    shapes = [part.features[name] for name in attempt.shaped]
    lie = lie_of(attempt.operation.lies or kind.lies, work, part)
    left = held_by_shapes(lie, shapes, part, work.drawn, shop.knowledge.bench)
    return (ROUND, *left) if work.figures["part.round"] else left


def _settings(attempt: Attempt, figures: Figures, station: Station, shop: Shop) -> tuple[Setting, ...]:
    known = shop.knowledge
    return SETTINGS[attempt.operation.settings].work(
        Request(
            figures,
            attempt.operation.use,
            station.speeds,
            attempt.hardness,
            attempt.words,
            known.screws,
            known.drill_bits,
            known.cutter_speeds,
            known.abrasives,
            station.sizes,
            {name: tools.within for name, tools in known.tool_sizes.items()},
        )
    )


_TO_LENGTH = ("rough-length", "first-end", "length", "separate")
"""Kinds of work that cut a piece to length square across."""


def _cuts_end(work: Work) -> bool:
    """Whether a work is a feature that makes an end of its part: a mitre."""
    return work.drawn is not None and bool(work.drawn.ends_part())


def _held_at(attempt: Attempt, piece: Workpiece, at_station: Figures, trim: float) -> dict[str, float]:
    """What is held beside the cut, as a figure: of what is not cut to length, the whole piece."""
    work = attempt.work
    if work.kind not in _TO_LENGTH and not _cuts_end(work):
        return {"blank.held": piece.length}
    part = work.figures.get("part.length", 0.0)
    return {"blank.held": held_beside_cut(piece, work.kind, part, _kerf_along(work, at_station), trim)}


def _kerf_along(work: Work, at_station: Figures) -> float:
    """What the saw takes along the piece, mm: the kerf, which a cut aslant makes longer by the cosine of its angle."""
    angle = work.figures.get("feature.angle", 0.0) if _cuts_end(work) else 0.0
    return at_station.get("station.kerf", 0.0) / cos(radians(angle))


def _piece_at(attempt: Attempt, at_station: Figures, working: Working) -> tuple[Workpiece | None, tuple[Obstacle, ...]]:
    """The piece as it lies on a station: a long one of the length the station asks, a blank to be cut off with a holding
    end as long as the station asks."""
    least = at_station.get("station.least-remnant", 0.0)
    if not attempt.in_the_long:
        piece = attempt.pieces.single
        if piece is not None and attempt.work.kind in ("first-end", "length"):
            piece = _long_enough(attempt, piece, at_station, least, working)
            if piece.length > attempt.pieces.longest:
                return piece, (SHORT_STOCK,)
        return piece, ()
    if attempt.pieces.long is None:
        only_long = "It is done only in a long piece, and this cut does not run along the whole length."
        return attempt.pieces.single, (Obstacle("purpose", only_long, "Use another way."),)
    shortest, longest = at_station.get("station.shortest", 0.0), at_station.get("station.longest", float("inf"))
    if attempt.pieces.whole:
        shortest = max([shortest, *_lengths_asked(attempt, at_station)])
    end = _beside_cut(attempt, at_station) if _cuts_end(attempt.work) else 0.0
    if attempt.work.kind in ("first-end", "separate"):
        end = _end_held(attempt, least, at_station)
    piece = attempt.pieces.long(shortest, longest, end)
    if piece is not None:
        return piece, ()
    return None, (SHORT_STOCK,)


def _end_held(attempt: Attempt, least: float, at_station: Figures) -> float:
    """What stays behind the last part that is cut off, mm: enough to be held, and for the last piece on the saw, the part with
    it, to be as long as station and operation ask. The kerf is in it only where the operation asks what is held beside it."""
    shortest = max([at_station.get("station.shortest", 0.0), *_lengths_asked(attempt, at_station)])
    return max(least, shortest - attempt.work.figures.get("part.length", shortest), _beside_cut(attempt, at_station))


def _beside_cut(attempt: Attempt, at_station: Figures) -> float:
    """What must stay behind the last part that is cut off, kerf and all, where the operation asks for so much to be held and the
    part itself is shorter, mm; else 0."""
    part = attempt.work.figures.get("part.length", 0.0)
    asked = [each for each in _lengths_asked(attempt, at_station, "blank.held") if each > part]
    return max(asked) + _kerf_along(attempt.work, at_station) if asked else 0.0


def _lengths_asked(attempt: Attempt, at_station: Figures, of: str = "blank.length") -> list[float]:
    """The least lengths `of` the piece that the operation asks for, mm, as far as they do not depend on the piece."""
    figures = {**attempt.work.figures, **at_station}
    return [
        value
        for limit in attempt.operation.limits
        if limit.of == of and limit.at_least and {*right_of(limit)[1].names} <= figures.keys()
        for value in [value_of(right_of(limit)[1], figures)]
        if value is not None
    ]


def _long_enough(attempt: Attempt, blank: Workpiece, at_station: Figures, least: float, working: Working) -> Workpiece:
    """A blank with a holding end of `least` mm, and a little longer if that is all an operation asks of its length; both are
    held against what squaring the first end leaves of it. A part too short to be held itself leaves what it is cut from to be
    held."""
    piece = after_first_end(blank, attempt.pieces.trim)
    asked = [
        value - piece.figures()[limit.of]
        for limit in attempt.operation.limits
        if limit.of in ("blank.length", "blank.waste") and limit.at_least
        for value in [value_of(right_of(limit)[1], {**attempt.work.figures, **at_station, **piece.figures()})]
        if value is not None
    ]
    if attempt.work.kind == "length":
        asked.append(_beside_cut(attempt, at_station) - piece.waste)
    missing = max(asked, default=0.0)
    # A little longer is no matter; much longer only where the part is too short to be held and the rest is held instead.
    held_by_rest = "clear" in SETTINGS[attempt.operation.settings].gives
    missing = missing if 0.0 < missing <= (float("inf") if held_by_rest else working.over_length) else 0.0
    waste = max(piece.waste + missing, least)
    if waste <= piece.waste:
        return blank
    longer = before_first_end(held(piece, waste), attempt.pieces.trim)
    return marked_out(longer, working, attempt.pieces.longest)


SHORT_STOCK = Obstacle(
    "limit", "The stock does not give a long piece that this station can take.", "Buy longer stock, or use another way."
)


WITH_GLUE = ("glue", "dowel", "biscuit", "wedge")
"""Kinds of work with wet glue."""
GLUED = frozenset({*WITH_GLUE, "cure"})


def staff_put_it_on(work: Work, shop: Shop) -> bool:
    """Whether the job's glue, or the finish of this coat, is one that only staff put on."""
    if work.kind in WITH_GLUE:
        glue = shop.knowledge.glues.get(shop.job.glue)
        return glue is not None and glue.staff
    if work.kind == "coat":
        finish = shop.knowledge.finishes.get(shop.job.finish[finish_index(work)].what)
        return finish is not None and finish.staff
    return False


def finish_figures(work: Work, shop: Shop) -> Figures:
    """What the job's finishes add to the figures of a work: the last paper that a finish on any of its parts asks for, the
    finest of them; coats, and how long each dries, for a coat and its drying."""
    if work.kind not in ("coat", "dry"):
        own = {name for name, _ in work.parts}
        reached = [finish.what for finish in shop.job.finish if not finish.parts or own & {*finish.parts}]
        papers = [shop.knowledge.finishes[name].sanded_to for name in reached if name in shop.knowledge.finishes]
        return {"finish.paper": max(papers)} if papers else {}
    finish = shop.job.finish[finish_index(work)]
    known = shop.knowledge.finishes.get(finish.what)
    figures = {"finish.coats": float(finish.coats)}
    return figures if known is None else figures | {"finish.dry-time": known.dry_time}


def laser_figures(work: Work, shop: Shop) -> Figures:
    """Whether the material of a part is marked for the laser cutter at the part's thickness. One that is not listed, or not
    marked, is not."""
    if not work.part:
        return {}
    part = shop.job.parts[work.part]
    material = shop.material(shop.job.stock[part.stock])
    mark = None if material is None else material.laser
    return {"part.laser": float(mark is not None and part.thickness <= mark.thickest)}


def _minutes(work: Work, operation: Operation, shop: Shop) -> float:
    """Minutes for one piece: each cut its time; setting and drying take what glue and finish need."""
    if work.kind == "cure" and shop.glue_figures:
        return shop.glue_figures["station.cure-time"]
    if work.kind == "dry":
        return finish_figures(work, shop).get("finish.dry-time", operation.minutes.each)
    return operation.minutes.each * work.figures.get("feature.count", 1.0)


def _standing(piece: Workpiece, feature: Feature) -> float:
    """How high the piece stands when the tool comes from above into the face a cut opens, mm."""
    axis = axis_of(feature.opens()[0])
    return {"x": piece.length, "y": piece.width, "z": piece.thickness}[axis]
