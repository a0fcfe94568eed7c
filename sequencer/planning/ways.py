"""Ways: every operation that can make a piece of work is tried against geometry, station, guards and who may do it.

What is not possible keeps its reasons with figures and remedies. What is possible is ranked by the teacher's aim; a cut
for which normal guards must come off never wins by being quicker.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from sequencer.features.base import Feature, mm
from sequencer.knowledge.formats import Limit, Operation, StationKind
from sequencer.knowledge.links import FROM_GLUE
from sequencer.knowledge.settings import SETTINGS, STAFF_DECIDE, Request
from sequencer.model.frame import axis_of
from sequencer.model.job import Aim
from sequencer.model.marks import Tool
from sequencer.model.plan import Setting
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.model.workshop import Station, Who
from sequencer.planning.blanks import OVER_LENGTH, Workpiece, after_first_end, before_first_end
from sequencer.planning.shop import Premises, Shop
from sequencer.planning.who import authorised, default_who, may_do
from sequencer.planning.work import Work
from sequencer.reading.expressions import Expression, ExpressionError, parse

ObstacleKind = Literal["purpose", "station", "service", "guard", "holding", "limit", "figure", "who"]


@dataclass(frozen=True)
class Obstacle:
    """Why a way is not possible, and the nearest remedy."""

    kind: ObstacleKind
    what: str
    remedy: str
    short_by: float = 0.0
    """For limits: how far the figure is from what is asked, in the figure's unit."""


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


def find_ways(
    work: Work, pieces: Pieces, shop: Shop, words: Mapping[str, str], hardness: str, station: str = ""
) -> tuple[Way, ...]:
    """Every way of doing a work, possible or not, in the knowledge's order."""
    return tuple(
        _try_stations(Attempt(work, pieces, in_the_long, kind, name, operation, words, hardness, station), shop)
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
        (*_purpose(operation, figures), missing),
    )


def _try(attempt: Attempt, station: Station, shop: Shop) -> Way:
    work, kind, operation = attempt.work, attempt.kind, attempt.operation
    at_station = shop.station_figures(kind, station)
    piece, short = _piece_at(attempt, at_station)
    figures = {
        **shop.common_figures,
        **work.figures,
        **(piece.figures() if piece else {}),
        **at_station,
        **(shop.glue_figures if work.kind in GLUED else {}),
        **finish_figures(work, shop),
    }
    if piece is not None and work.drawn is not None:
        figures["blank.standing"] = _standing(piece, work.drawn)
    if piece is not None and attempt.pieces.trim:
        # The limits are for what squaring the first end has left; what is printed is the blank.
        figures |= after_first_end(piece, attempt.pieces.trim).figures()
    who = may_do(kind, attempt.name, operation, shop.workshop)
    obstacles = (
        *_purpose(operation, figures),
        *_finish(work, operation, shop),
        *_hardware(work, operation, shop),
        *_service(station),
        *_guards(operation, station, shop),
        *_holding(kind, operation, station, shop),
        *short,
        *_limits_of_all(operation.limits, figures, attempt.pieces.several, station),
        *_cramps(work, figures, shop),
        *_people(kind, operation, who, shop),
    )
    if work.kind == "rough-length" and piece is not None:
        # The limits are for the board on the station; what is set and printed is the blank that is cut off it.
        figures["blank.length"] = piece.length - piece.waste
    elif piece is not None:
        figures |= piece.figures()
    settings: tuple[Setting, ...] = ()
    if not obstacles:
        known = shop.knowledge
        settings = SETTINGS[operation.settings].work(
            Request(
                figures,
                operation.use,
                station.speeds,
                attempt.hardness,
                attempt.words,
                known.screws,
                known.drill_bits,
                known.cutter_speeds,
            )
        )
    if any(setting.text == STAFF_DECIDE for setting in settings) and who.operator == "student":
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
    )


def _piece_at(attempt: Attempt, at_station: Figures) -> tuple[Workpiece | None, tuple[Obstacle, ...]]:
    """The piece as it lies on a station: a long one of the length the station asks, a blank to be cut off with a holding
    end as long as the station asks."""
    least = at_station.get("station.least-remnant", 0.0)
    if not attempt.in_the_long:
        piece = attempt.pieces.single
        if piece is not None and attempt.work.kind in ("first-end", "length"):
            piece = _long_enough(attempt, piece, at_station, least)
            if piece.length > attempt.pieces.longest:
                return piece, (SHORT_STOCK,)
        return piece, ()
    if attempt.pieces.long is None:
        only_long = "It is done only in a long piece, and this cut does not run along the whole length."
        return attempt.pieces.single, (Obstacle("purpose", only_long, "Use another way."),)
    end = least if attempt.work.kind in ("first-end", "separate") else 0.0
    shortest, longest = at_station.get("station.shortest", 0.0), at_station.get("station.longest", float("inf"))
    piece = attempt.pieces.long(shortest, longest, end)
    if piece is not None:
        return piece, ()
    return None, (SHORT_STOCK,)


def _long_enough(attempt: Attempt, blank: Workpiece, at_station: Figures, least: float) -> Workpiece:
    """A blank with a holding end of `least` mm, and a little longer if that is all an operation asks of its length; both are
    held against what squaring the first end leaves of it."""
    piece = after_first_end(blank, attempt.pieces.trim)
    asked = [
        value
        for limit in attempt.operation.limits
        if limit.of == "blank.length" and limit.at_least
        for value in [_value(_right(limit)[1], {**attempt.work.figures, **at_station, **piece.figures()})]
        if value is not None
    ]
    missing = max((value - piece.length for value in asked), default=0.0)
    missing = missing if 0.0 < missing <= OVER_LENGTH else 0.0
    waste = max(piece.waste + missing, least)
    if waste <= piece.waste:
        return blank
    return before_first_end(replace(piece, length=piece.length + waste - piece.waste, waste=waste), attempt.pieces.trim)


SHORT_STOCK = Obstacle(
    "limit", "The stock does not give a long piece that this station can take.", "Buy longer stock, or use another way."
)


GLUED = frozenset({"glue", "cure"})


def finish_figures(work: Work, shop: Shop) -> Figures:
    """What the job's finish adds to the figures of a coat or of its drying."""
    if work.kind not in ("coat", "dry"):
        return {}
    finish = shop.job.finish[finish_index(work)]
    known = shop.knowledge.finishes.get(finish.what)
    figures = {"finish.coats": float(finish.coats)}
    return figures if known is None else figures | {"finish.dry-time": known.dry_time}


def finish_index(work: Work) -> int:
    """Which finish of the job a coat or its drying belongs to, from its name `finish-2-coat-1`; 0 if there is one."""
    head = work.feature.partition("-coat-")[0]
    return int(head.removeprefix("finish-")) - 1 if head.startswith("finish-") else 0


def _minutes(work: Work, operation: Operation, shop: Shop) -> float:
    """Minutes for one piece: each cut its time; setting and drying take what glue and finish need."""
    if work.kind == "cure" and shop.glue_figures:
        return shop.glue_figures["station.cure-time"]
    if work.kind == "dry":
        return finish_figures(work, shop).get("finish.dry-time", operation.minutes.each)
    return operation.minutes.each * work.figures.get("feature.count", 1.0)


def _purpose(operation: Operation, figures: Figures) -> Iterator[Obstacle]:
    for limit in operation.applies:
        if any(name not in figures for name in (limit.of, *_right(limit)[1].names)):
            continue
        if not _holds(limit, figures):
            yield Obstacle("purpose", f"It is not meant for this: the piece is {limit.says}.", "Use another way.")


def _finish(work: Work, operation: Operation, shop: Shop) -> Iterator[Obstacle]:
    """A way of putting on a finish takes the kinds of finish that its `use` names."""
    takes = operation.use.get("finishes")
    if work.kind != "coat" or takes is None:
        return
    finish = shop.knowledge.finishes[shop.job.finish[finish_index(work)].what]
    if finish.kind != takes:
        yield Obstacle("purpose", f"It is not meant for {finish.name}.", "Use another way.")


def _hardware(work: Work, operation: Operation, shop: Shop) -> Iterator[Obstacle]:
    """A way of fixing hardware takes the sort of thing that its `use` names."""
    takes = operation.use.get("things")
    if work.kind != "hardware" or takes is None:
        return
    thing = shop.job.hardware[work.feature]
    if thing.kind != takes:
        yield Obstacle("purpose", f"It is not meant for {thing.what}.", "Use another way.")


def _service(station: Station) -> Iterator[Obstacle]:
    if station.out_of_service:
        yield Obstacle(
            "service", f"{station.name} is out of service: {station.out_of_service}.", f"Put {station.name} back into service."
        )


def _guards(operation: Operation, station: Station, shop: Premises) -> Iterator[Obstacle]:
    yield from _named(
        operation.guards.all_of,
        operation.guards.any_of,
        shop.fitted(station),
        "guard",
        {name: item.name for name, item in shop.knowledge.guards.items()},
        "is not fitted at",
        "Fit",
        station.name,
    )


def _holding(kind: StationKind, operation: Operation, station: Station, shop: Premises) -> Iterator[Obstacle]:
    yield from _named(
        operation.holding.all_of,
        operation.holding.any_of,
        shop.holding(station) | shop.made_holding(kind),
        "holding",
        {name: item.name for name, item in shop.knowledge.holding.items()},
        "is not at hand at",
        "Provide",
        station.name,
    )


def _named(
    all_of: tuple[str, ...],
    any_of: tuple[str, ...],
    there: frozenset[str],
    kind: ObstacleKind,
    titles: Mapping[str, str],
    lacking: str,
    verb: str,
    station: str,
) -> Iterator[Obstacle]:
    for name in all_of:
        if name not in there:
            title = titles[name].lower()
            yield Obstacle(kind, f"The {title} {lacking} {station}.", f"{verb} the {title}, then name it in the workshop file.")
    if any_of and not there.intersection(any_of):
        choice = " or ".join(titles[name].lower() for name in any_of)
        yield Obstacle(kind, f"The {choice} {lacking} {station}.", f"{verb} the {choice}, then name it in the workshop file.")


def _people(kind: StationKind, operation: Operation, who: Who, shop: Premises) -> Iterator[Obstacle]:
    if who.operator == "nobody":
        if default_who(kind, operation).operator != "nobody":
            yield Obstacle("who", f"The school's policy lets nobody do this at {kind.name.lower()}.", "Use another way.")
        return
    if kind.power in ("machine", "powered-hand") and not authorised(kind.station, shop.workshop):
        doing = "operate" if who.operator == "staff" else "supervise"
        yield Obstacle(
            "who",
            f"No adult in the workshop file is authorised to {doing} the {kind.name.lower()}.",
            "Name an authorised adult, or use another way.",
        )


def _standing(piece: Workpiece, feature: Feature) -> float:
    """How high the piece stands when the tool comes from above into the face a cut opens, mm."""
    axis = axis_of(feature.opens()[0])
    return {"x": piece.length, "y": piece.width, "z": piece.thickness}[axis]


def _cramps(work: Work, figures: Figures, shop: Shop) -> Iterator[Obstacle]:
    """Cramps enough and long enough for one student's glue-up, as far as the workshop file counts them."""
    if work.kind != "glue" or not figures.get("joint.cramps"):
        return
    cramps = [thing for thing in shop.workshop.counted.values() if (thing.kind or thing.name) == CRAMPS]
    reach, needed = figures["joint.reach"], figures["joint.cramps"]
    long_enough = sum(thing.count for thing in cramps if thing.reach is None or thing.reach >= reach)
    if cramps and long_enough < needed:
        yield Obstacle(
            "holding",
            f"It takes {mm(needed)} cramps that open {mm(reach)} mm, and the workshop counts {long_enough}.",
            "Count more or longer cramps in the workshop file, or glue the parts up in smaller groups.",
        )


CRAMPS = "sash-cramps"
"""What counted things serve as where they cramp a glue-up."""


@cache
def _expression(text: str) -> Expression:
    return parse(text)


def _right(limit: Limit) -> tuple[str, Expression]:
    """The comparison a limit makes and its right-hand side."""
    for comparison in ("at_least", "at_most", "more_than", "less_than"):
        text = getattr(limit, comparison)
        if text:
            return comparison, _expression(text)
    raise ValueError("a limit compares nothing")  # the loader refuses such files


def _value(right: Expression, figures: Figures) -> float | None:
    """The right-hand side of a limit; None where the figures divide by zero."""
    try:
        return right.value(figures)
    except ExpressionError:
        return None


def _holds(limit: Limit, figures: Figures) -> bool:
    comparison, right = _right(limit)
    have, asked = figures[limit.of], _value(right, figures)
    if asked is None:
        return False
    return {
        "at_least": have >= asked - 1e-6,
        "at_most": have <= asked + 1e-6,
        "more_than": have > asked,
        "less_than": have < asked,
    }[comparison]


_BOUNDS = {"at_least": "at least", "at_most": "at most", "more_than": "more than", "less_than": "less than"}
_CHANGES = {
    "length": ("longer", "shorter"),
    "width": ("wider", "narrower"),
    "thickness": ("thicker", "thinner"),
    "depth": ("deeper", "shallower"),
    "diameter": ("larger", "smaller"),
}
"""How a figure grows and shrinks, by the last word of its name; `more` and `less` for the rest."""
_UNITS = {"count": "", "deg": " degrees", "degC": " degrees C"}


def _limits_of_all(
    limits: tuple[Limit, ...], figures: Figures, several: tuple[Workpiece, ...], station: Station
) -> Iterator[Obstacle]:
    """The limits for the piece, or for each of several pieces; what stands against more than one is said once."""
    if not several:
        yield from _limits(limits, figures, station)
        return
    found = (each for piece in several for each in _limits(limits, {**figures, **piece.figures()}, station))
    yield from dict.fromkeys(found)


def _limits(limits: tuple[Limit, ...], figures: Figures, station: Station) -> Iterator[Obstacle]:
    for limit in limits:
        comparison, right = _right(limit)
        unknown = [name for name in (limit.of, *sorted(right.names)) if name not in figures]
        if not unknown and _value(right, figures) is None:
            yield Obstacle("figure", f"What {limit.of} is held against cannot be worked out here.", "Let staff decide.")
        elif unknown:
            yield _unknown(unknown[0], station)
        elif not _holds(limit, figures):
            have, asked = figures[limit.of], right.value(figures)
            quantity = QUANTITIES[limit.of]
            unit = _UNITS.get(quantity.unit, f" {quantity.unit}")
            larger, smaller = _CHANGES.get(limit.of.rpartition(".")[2], ("more", "less"))
            missing = abs(asked - have)
            amount = f"{mm(missing)}{unit}" if mm(missing) != "0" else "a little"
            says = f"The piece is {limit.says}"
            if quantity.unit != "count" or quantity.name.startswith("joint."):
                shown = (mm(have), mm(asked)) if mm(have) != mm(asked) or have == asked else (f"{have:.2f}", f"{asked:.2f}")
                says += f": {quantity.meaning} is {shown[0]}{unit}, {_BOUNDS[comparison]} {shown[1]}{unit} is needed"
            yield Obstacle(
                "limit",
                f"{says}.",
                "Use another way."
                if quantity.unit == "count"
                else f"It must be {amount} {larger if comparison in ('at_least', 'more_than') else smaller}.",
                missing,
            )


def _unknown(name: str, station: Station) -> Obstacle:
    quantity = QUANTITIES[name]
    where = (
        f"State `{name.partition('.')[2]}` for {station.name} in the workshop file"
        if name.startswith("station.")
        else "State the room's temperature in the workshop file"
        if name == "room.temperature"
        else "Give the drawing this size"
    )
    return Obstacle("figure", f"It is not known here: {quantity.meaning}.", f"{where}; until then staff must decide.")


def stands_against(
    kind: StationKind, name: str, operation: Operation, station: Station, premises: Premises, known: Figures
) -> tuple[Obstacle, ...]:
    """What stands against an operation at a station before any piece is drawn: purpose, service, guards, holding, people,
    figures of station and room that nobody has stated, and limits that hold for every piece with the figures `known`."""
    figures = {**premises.common_figures, **known, **premises.station_figures(kind, station)}
    settled = []
    unstated: list[str] = []
    for limit in operation.limits:
        asked = [each for each in (limit.of, *_right(limit)[1].names) if each not in figures and each not in FROM_GLUE]
        unstated += [each for each in asked if each.startswith(("station.", "room."))]
        if all(each in figures for each in (limit.of, *_right(limit)[1].names)):
            settled.append(limit)
    return (
        *_purpose(operation, figures),
        *_service(station),
        *_guards(operation, station, premises),
        *_holding(kind, operation, station, premises),
        *(_unknown(each, station) for each in dict.fromkeys(unstated)),
        *_limits(tuple(settled), figures, station),
        *_people(kind, operation, may_do(kind, name, operation, premises.workshop), premises),
    )


def purposes_against(operation: Operation, known: Figures) -> tuple[Obstacle, ...]:
    """What an operation is not meant for, as far as the figures known say it."""
    return tuple(_purpose(operation, known))


def comparison_of(limit: Limit) -> tuple[str, Expression]:
    """What a limit compares with: `at least` and the like, and the sum that follows."""
    comparison, right = _right(limit)
    return _BOUNDS[comparison], right


def ranked(ways: tuple[Way, ...], aim: Aim, pieces: float = 1.0, for_class: bool = False) -> list[Way]:
    """The possible ways, best first by the aim. Ties break by name, so equal input gives equal order.

    `for_class`: work done for the whole class before the lessons, such as cutting blanks off boards; staff do it if they
    can.
    A way for which normal guards come off ranks last whatever its time: risk is never traded for time. Work that staff do
    for a class is preferred in the long, work that students do piece by piece.
    """

    possible = (way for way in ways if way.possible)
    return sorted(possible, key=lambda way: _rank(way, aim, pieces, for_class))


def shut_out(ways: tuple[Way, ...], taken: Way, aim: Aim, pieces: float, for_class: bool) -> list[Way]:
    """The ways that would come before the one taken, were it not for a guard or holding that is missing or a station out
    of service."""
    mendable = {"guard", "holding", "service"}
    return [
        way
        for way in ways
        if way.obstacles
        and {each.kind for each in way.obstacles} <= mendable
        and _rank(way, aim, pieces, for_class) < _rank(taken, aim, pieces, for_class)
    ]


def _rank(way: Way, aim: Aim, pieces: float, for_class: bool) -> tuple[object, ...]:
    staff = (way.who.operator == "staff") != for_class
    time = way.minutes * pieces + way.set_up
    wrong_length = way.in_the_long != (way.who.operator == "staff")
    by_aim: tuple[object, ...] = {
        "most-by-students": (staff, wrong_length, time),
        "least-time": (time, wrong_length, staff),
        "fewest-set-ups": (way.set_up, wrong_length, time),
    }[aim]
    return (way.guards_off, *by_aim, way.operation, way.in_the_long)
