"""Ways: every operation that can make a piece of work is tried against geometry, station, guards and who may do it. What is
not possible keeps its reasons with figures and remedies.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from sequencer.features.base import mm
from sequencer.knowledge.forms.operations import Limit, Operation
from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.model.marks import Tool
from sequencer.model.plan import Setting
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Station, Who
from sequencer.planning.attempt_figures import bench_figures, figures_for_limits, figures_to_print
from sequencer.planning.attempts import Attempt, Pieces
from sequencer.planning.blanks import Workpiece
from sequencer.planning.job_figures import minutes_of_work, staff_put_it_on
from sequencer.planning.limits import Obstacle, limits_of_all, right_of
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
from sequencer.planning.piece_at_station import piece_at
from sequencer.planning.shapes_left import ROUND, Left, grips_against, held_by_shapes, shapes_against
from sequencer.planning.shop import Shop, as_it_stands
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.tool_sizes import sizes_against
from sequencer.planning.turning import turning_against
from sequencer.planning.who import may_do, staff_alone
from sequencer.planning.work import Work, words


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
    by_hand: bool = False
    """Whether no motor drives the tool."""

    @property
    def possible(self) -> bool:
        """Whether nothing stands against it."""
        return not self.obstacles

    @property
    def meant(self) -> bool:
        """Whether the operation is meant for work of this shape at all."""
        return all(obstacle.kind != "purpose" for obstacle in self.obstacles)


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
        operation=attempt.name,
        title=operation.name,
        kind=kind.station,
        station="",
        who=may_do(kind, attempt.name, operation, shop.workshop),
        piece=piece,
        in_the_long=attempt.in_the_long,
        figures=figures,
        settings=(),
        minutes=operation.minutes.each,
        set_up=operation.minutes.set_up,
        guards_off=bool(operation.guards_off),
        tool=(operation.lies or kind.lies).tool,
        by_hand=kind.power == "hand",
        obstacles=(*purpose_against(operation, figures), missing),
    )


def _try(attempt: Attempt, station: Station, shop: Shop) -> Way:
    work, kind, operation = attempt.work, attempt.kind, attempt.operation
    at_station = shop.station_figures(kind, station)
    piece, short = piece_at(attempt, at_station, shop.knowledge.working)
    figures = figures_for_limits(attempt, piece, at_station, shop) | bench_figures(shop.holding(station))
    who, left = _who(attempt, shop), _left(attempt, shop)
    # Where the stock gives no piece, its sizes are not unknown: there is none to be held against limits.
    limits = tuple(limit for limit in operation.limits if not short or piece is not None or not _of_the_piece(limit))
    obstacles = (
        *_whatever_the_size(attempt, station, figures, left, shop),
        *short,
        *limits_of_all(limits, figures, attempt.pieces.several, station),
        *cramps_against(work, operation, figures, shop),
        *people_against(kind, operation, who, shop),
        *_no_start_against(attempt, shop),
    )
    figures = figures_to_print(work, piece, figures)
    settings: tuple[Setting, ...] = ()
    if not obstacles or operation.tool_sizes:
        settings = _settings(attempt, figures, station, shop)
        obstacles = (*obstacles, *sizes_against(operation, settings, station, shop, work.drawn is not None))
    settings = () if obstacles else settings
    if any(setting.value is None for setting in settings) and who.operator == "student":
        # A figure that nobody knows is for staff to decide, so the step is theirs.
        who = replace(who, operator="staff")
    return Way(
        operation=attempt.name,
        title=operation.name,
        kind=kind.station,
        station=station.name,
        who=who,
        piece=piece,
        in_the_long=attempt.in_the_long,
        figures=figures,
        settings=settings,
        minutes=minutes_of_work(work, operation, shop),
        set_up=operation.minutes.set_up,
        guards_off=bool(operation.guards_off),
        tool=(operation.lies or kind.lies).tool,
        by_hand=kind.power == "hand",
        obstacles=obstacles,
        left=left,
        needs=operation.needs,
    )


def _who(attempt: Attempt, shop: Shop) -> Who:
    """Who may do it; staff where the operation, the material or what is put on is theirs."""
    kind, operation, work = attempt.kind, attempt.operation, attempt.work
    who = may_do(kind, attempt.name, operation, shop.workshop)
    theirs = staff_alone(kind, operation, shop.class_work(work.parts)) or staff_put_it_on(work, shop)
    return replace(who, operator="staff") if who.operator == "student" and theirs else who


def _whatever_the_size(
    attempt: Attempt, station: Station, figures: Figures, left: tuple[Left, ...], shop: Shop
) -> Iterator[Obstacle]:
    """What stands against it besides sizes and people: what the operation is meant for, what is put on, the station's state,
    guards, holding, and shapes that nothing here grips."""
    work, kind, operation = attempt.work, attempt.kind, attempt.operation
    held = as_it_stands(operation, figures)
    yield from purpose_against(operation, figures)
    yield from finish_against(work, operation, shop)
    yield from hardware_against(work, operation, shop)
    yield from service_against(station, shop)
    yield from guards_against(operation, station, shop)
    yield from holding_against(kind, held, station, shop)
    if work.drawn is not None:
        yield from shapes_against(work.drawn, shop.job.parts[work.part], kind)
    if left:
        yield from grips_against(left, shop.job.parts[work.part], kind, held, station, shop)
    if work.drawn is not None:
        yield from turning_against(work.drawn, shop.job.parts[work.part], operation, station, figures, shop.knowledge.bench)


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
