"""What a school's own folder changes in the shipped knowledge: each change by its place, with who made it and why.

A change that loosens a shipped default needs a name and a reason, as a rule of the workshop file does. Where it cannot be
judged which way a change goes, it counts as loosening.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from sequencer.findings import Finding
from sequencer.knowledge.formats import (
    CLASS_WORK,
    BandBlade,
    BenchFigure,
    Change,
    CutterSpeed,
    DrillBit,
    FinishKind,
    Glue,
    GuardItem,
    Hazard,
    HeldShape,
    Knowledge,
    Limit,
    Material,
    Operation,
    Record,
    SizedTools,
    StaffStep,
    StationKind,
)
from sequencer.knowledge.materials import names_of
from sequencer.knowledge.region_changes import measure_looser, records_looser, region_looser
from sequencer.knowledge.region_forms import Measure, Region
from sequencer.model.workshop import GATES, OPERATORS, SUPERVISIONS
from sequencer.reading.expressions import ExpressionError, parse

CHANGES_FILE = "changes.yaml"
"""The file of a school's own folder that says who made each change and why."""

ENTRIES = {
    "guards": "guards",
    "holding": "holding",
    "wear": "wear",
    "materials": "materials",
    "glues": "glues",
    "finishes": "finishes",
    "fits": "fits",
    "screws": "screws",
    "drill-bits": "drill_bits",
    "tool-sizes": "tool_sizes",
    "ghs": "ghs",
    "terms": "terms",
    "staff-steps": "staff_steps",
    "bench": "bench_figures",
    "jigs": "jigs",
    "shapes": "shapes",
    "measures": "measures",
    "regions": "regions",
    "abrasives": "abrasives",
}
"""Lists of entries by name, and where the knowledge holds them."""
ROWS = {"cutter-speeds": "cutter_speeds", "band-saw-blades": "band_blades", "limits": "limits", "verbs": "verbs"}
"""Lists of rows, and where the knowledge holds them."""
_SEVERITIES = ("minor", "serious", "severe")
_ASK_MORE = ("at_least", "more_than")
_COMPARISONS = (*_ASK_MORE, "at_most", "less_than")


def changes_against(shipped: Knowledge, own: Knowledge, records: Mapping[str, Record]) -> tuple[Change, ...]:
    """Every change, with the record that stands for it: that of its own place, else of what it stands in."""
    return tuple(_recorded(change, records) for change in _changes(shipped, own))


def covers(record: str, about: str) -> bool:
    """Whether a record stands for a change: of the same place, or of the file or key it stands in."""
    return "/" in record and (about == record or about.startswith(f"{record}/"))


def change_findings(knowledge: Knowledge) -> tuple[Finding, ...]:
    """A finding for each change that loosens a default, an error where nobody answers for it; a warning for each other
    change of which it is not recorded who made it and why."""
    return tuple(finding for change in knowledge.changes if (finding := _finding(change)) is not None)


def _finding(change: Change) -> Finding | None:
    record = f"Write `{change.about}` with `by` (a role) and `why` in {CHANGES_FILE}"
    if change.looser and change.by:
        return Finding(
            "warning",
            "own-knowledge-loosens",
            change.about,
            f"{change.text} It asks for less than the shipped one: {'; '.join(change.looser)}. "
            f"Decided by {change.by}: {change.why}",
            "Shipped defaults are cautious; what loosens them is the school's decision.",
        )
    if change.looser:
        return Finding(
            "error",
            "unnamed-loosening",
            change.about,
            f"{change.text} It asks for less than the shipped one: {'; '.join(change.looser)}. Who decided it and why is not "
            "recorded.",
            "Shipped defaults are cautious; loosening one is the school's decision and is printed.",
            f"{record}, or take the change out.",
        )
    if not change.by:
        return Finding(
            "warning",
            "change-not-recorded",
            change.about,
            f"{change.text} Who made the change and why is not recorded.",
            "The risk assessment lists it, and whoever signs it asks.",
            f"{record}.",
        )
    return None


def _recorded(change: Change, records: Mapping[str, Record]) -> Change:
    standing = [name for name in records if covers(name, change.about)]
    if not standing:
        return change
    record = records[max(standing, key=len)]
    return replace(change, by=record.by, why=record.why)


def _changes(shipped: Knowledge, own: Knowledge) -> Iterator[Change]:
    for name, kind in own.stations.items():
        before = shipped.stations.get(name)
        if before is None:
            yield Change(f"operations/{name}", f"The station {kind.name} is added, with {len(kind.operations)} operations.")
        elif kind != before:
            yield from _station_changes(f"operations/{name}", before, kind)
    for name, hazard in own.hazards.items():
        was = shipped.hazards.get(name)
        if was is None:
            yield Change(f"hazards/{name}", f"The hazard {hazard.name} is added.")
        elif hazard != was:
            yield Change(f"hazards/{name}", f"The hazard {hazard.name} is replaced.", tuple(_hazard_looser(was, hazard)))
    for name, attribute in ENTRIES.items():
        entries, known = getattr(own, attribute), getattr(shipped, attribute)
        for key, entry in entries.items():
            about = f"lists/{name}/{key}"
            if key not in known:
                looser = tuple(region_looser(None, entry) if isinstance(entry, Region) else _new_entry_looser(entry))
                yield Change(about, f"{_title(entry, key)} is added to the list {name}.", looser)
            elif entry != known[key]:
                looser = tuple(_entry_looser(known[key], entry))
                yield Change(about, f"{_title(entry, key)} is replaced in the list {name}.", looser)
    for name, attribute in ROWS.items():
        rows = [row for row in getattr(own, attribute) if row not in getattr(shipped, attribute)]
        if rows:
            looser = tuple(_rows_looser(name, shipped, own, rows))
            yield Change(f"lists/{name}", f"{_count(len(rows), 'entry', 'entries')} added to the list {name}.", looser)


def _rows_looser(name: str, shipped: Knowledge, own: Knowledge, rows: Iterable[Any]) -> Iterator[str]:
    """What the rows added to a list ask for less."""
    if name == "cutter-speeds":
        yield from _speeds_looser(shipped.cutter_speeds, rows)
    elif name == "band-saw-blades":
        yield from _blades_looser(shipped.band_blades, rows)
    elif name == "limits":
        yield from records_looser(shipped, own)


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many} {'is' if number == 1 else 'are'}"


def _title(entry: object, key: object) -> str:
    return f"{getattr(entry, 'name', '') or key}"


def _station_changes(at: str, before: StationKind, kind: StationKind) -> Iterator[Change]:
    for name in dict.fromkeys((*before.figures, *kind.figures)):
        old, new = before.figures.get(name), kind.figures.get(name)
        if old == new:
            continue
        had, has = (None if each is None else each.default for each in (old, new))
        shown = [f"{value:g}" if value is not None else "none" for value in (has, had)]
        yield Change(
            f"{at}/figures/{name}",
            f"{kind.name}: the figure {name} is {shown[0]}; shipped it is {shown[1]}.",
            tuple(_figure_looser(before, name, had, has)) if had != has else (),
        )
    for key in dict.fromkeys((*before.operations, *kind.operations)):
        was, now = before.operations.get(key), kind.operations.get(key)
        about = f"{at}/operations/{key}"
        if was is None and now is not None:
            yield Change(about, f"{kind.name}: the operation “{now.name}” is added.")
        elif was is not None and now is None:
            yield Change(about, f"{kind.name}: the operation “{was.name}” is taken out.")
        elif was is not None and now is not None and _by_itself(before, was) != _by_itself(kind, now):
            looser = tuple(_operation_looser(before, was, kind, now))
            yield Change(about, f"{kind.name}: the operation “{now.name}” is replaced.", looser)
    for item in fields(StationKind):
        if item.name in ("figures", "operations"):
            continue
        ours, theirs = getattr(kind, item.name), getattr(before, item.name)
        if ours != theirs:
            looser = tuple(_key_looser(item.name, theirs, ours))
            yield Change(f"{at}/{item.name}", f"{kind.name}: “{item.name}” is not as shipped.", looser)


def _by_itself(kind: StationKind, operation: Operation) -> Operation:
    """The operation without the limits of its station, which loading puts in front."""
    return replace(operation, limits=operation.limits[len(kind.limits) :])


def _key_looser(key: str, was: Any, now: Any) -> Iterator[str]:
    """What a station's own keys ask for less."""
    if key in ("hazards", "wear", "before_starting", "stop_when"):
        yield from (f"no “{each}”" for each in was if each not in now)
    elif key == "limits":
        yield from _limits_looser(was, now)
    elif key == "who":
        for what, scale in (("operator", OPERATORS), ("supervision", SUPERVISIONS), ("gate", GATES)):
            yield from _people_looser(what, scale, getattr(was, what), getattr(now, what))
    elif key == "set_up_by":
        yield from _people_looser("set up by", OPERATORS, was, now)
    elif key == "noise" and was is not None and (now is None or (now.default or 0.0) < (was.default or 0.0)):
        yield "a lower level of noise"


def _people_looser(what: str, scale: Iterable[str], old: str | None, new: str | None) -> Iterator[str]:
    order = list(scale)
    if old and new and order.index(new) < order.index(old):
        yield f"{what} {new} instead of {old}"


def _operation_looser(before: StationKind, was: Operation, kind: StationKind, now: Operation) -> Iterator[str]:
    for what, old, new in (("guard", was.guards, now.guards), ("holding", was.holding, now.holding)):
        yield from (f"no {what} {name}" for name in old.all_of if name not in new.all_of)
        if old.any_of and not set(new.all_of) & set(old.any_of):
            more = [name for name in new.any_of if name not in old.any_of]
            if more or not new.any_of:
                yield f"{what} {' or '.join(more) or 'none'} is enough"
    for what, asked, asks in (
        ("hazard", was.hazards, (*now.hazards, *kind.hazards)),
        ("wear", was.wear, (*now.wear, *kind.wear)),
        ("true surface", was.needs, now.needs),
    ):
        yield from (f"no {what} {name}" for name in asked if name not in asks)
    yield from (f"normal guard {name} comes off" for name in now.guards_off if name not in was.guards_off)
    for what, scale in (("operator", OPERATORS), ("supervision", SUPERVISIONS), ("gate", GATES)):
        old_answer = getattr(was.who, what) or getattr(before.who, what)
        yield from _people_looser(what, scale, old_answer, getattr(now.who, what) or getattr(kind.who, what))
    yield from _limits_looser(was.limits, now.limits)
    yield from _limits_looser(was.applies, now.applies)
    yield from (f"no size asked of the {each.tool}" for each in was.tool_sizes if each not in now.tool_sizes)
    if was.stop and not now.stop:
        yield "staff no longer look before it goes on"


def _limits_looser(was: Iterable[Limit], now: tuple[Limit, ...]) -> Iterator[str]:
    for limit in was:
        if not any(_as_strict(each, limit) for each in now):
            yield f"the limit “{limit.says}” is gone or another"


def _as_strict(now: Limit, was: Limit) -> bool:
    """Whether a limit allows nothing that the other forbids, as far as two numbers show it."""
    comparison = next(key for key in _COMPARISONS if getattr(was, key))
    old, new = getattr(was, comparison), getattr(now, comparison)
    if now.of != was.of or not new:
        return False
    if old == new:
        return True
    try:
        return float(new) >= float(old) if comparison in _ASK_MORE else float(new) <= float(old)
    except ValueError:
        return False


_LOOKED_AT = {"centre-bite": False, "centre-depth": False, "off-balance": True}
"""Figures that planning and proof hold a piece against with no limit that names them, and whether a larger one allows more."""


def _figure_looser(kind: StationKind, name: str, old: float | None, new: float | None) -> Iterator[str]:
    """What a changed figure of a station allows that it did not, seen at the limits and settings that use it."""
    figure = f"station.{name}"
    used = [(operation, limit) for operation in kind.operations.values() for limit in (*operation.limits, *operation.applies)]
    naming = [limit for _, limit in used if figure in (limit.of, *_right(limit)[1].names)]
    set_by = any(figure in str(value) for operation in kind.operations.values() for value in operation.use.values())
    if name in _LOOKED_AT and old is not None and new is not None and (new > old) == _LOOKED_AT[name]:
        yield "a stick is turned with less wood at its centres, or further out of balance"
    if new is None or not (naming or set_by):
        return
    if old is None:
        yield "staff are no longer asked to state it"
        return
    if set_by:
        yield "machines are set by it"
    for limit in dict.fromkeys(naming):
        if _allows_more(kind, limit, figure, old, new):
            yield f"“{limit.says}” is said less soon"


def _right(limit: Limit) -> tuple[str, Any]:
    comparison = next(key for key in _COMPARISONS if getattr(limit, key))
    return comparison, parse(getattr(limit, comparison))


def _allows_more(kind: StationKind, limit: Limit, figure: str, old: float, new: float) -> bool:
    """Whether the room a limit leaves grows with the new figure, all other figures as they are."""
    comparison, right = _right(limit)

    def room(value: float) -> float:
        figures = dict.fromkeys((limit.of, *right.names), 100.0)
        figures |= {f"station.{each}": one.default for each, one in kind.figures.items() if one.default is not None}
        figures[figure] = value
        over = figures[limit.of] - right.value(figures)
        return float(over if comparison in _ASK_MORE else -over)

    try:
        return room(new) > room(old)
    except ExpressionError:
        return True


def _hazard_looser(was: Hazard, now: Hazard) -> Iterator[str]:
    if _SEVERITIES.index(now.severity) < _SEVERITIES.index(was.severity):
        yield f"severity {now.severity} instead of {was.severity}"
    if was.blade and not now.blade:
        yield "no longer held to be a blade's"
    yield from (f"no longer forbids {name}" for name in was.forbids if name not in now.forbids)
    yield from (f"no control by {name}" for name in _carried(was) if name not in _carried(now))


def _carried(hazard: Hazard) -> tuple[str, ...]:
    controls = (control for level in hazard.controls.values() for control in level)
    return tuple(dict.fromkeys(name for each in controls for name in (each.guard, each.holding, each.wear) if name))


_INTO_LASER = "goes into the laser cutter up to {:g} mm thick"


def _new_entry_looser(entry: Any) -> Iterator[str]:
    """What an entry that is new to a list allows that nothing allowed before."""
    if isinstance(entry, Material) and entry.laser is not None:
        yield _INTO_LASER.format(entry.laser.thickest)


def _material_looser(was: Material, now: Material) -> Iterator[str]:
    if now.dust != was.dust:
        yield "what is known of its dust reads otherwise"
    yield from (f"no longer held to have this effect: {effect}" for effect in was.effects if effect not in now.effects)
    if (was.dust_counts_as, now.dust_counts_as) == ("hardwood", "softwood"):
        yield "its dust counts as softwood dust"
    if CLASS_WORK.index(now.class_work) < CLASS_WORK.index(was.class_work):
        yield f"in class work left to {now.class_work}, not {was.class_work}"
    if was.hardness != now.hardness:
        yield f"{now.hardness} instead of {was.hardness}"
    for what in ("tangential", "radial"):
        old, new = getattr(was, what), getattr(now, what)
        if new is not None and (old is None or new < old):
            yield f"less {what} movement"
    for what, scale in (("works", ("soft", "medium", "hard")), ("blunting", ("slight", "moderate", "severe"))):
        order = ["", *scale]
        if order.index(getattr(now, what)) < order.index(getattr(was, what)):
            yield f"{what}: {getattr(now, what) or 'not said'} instead of {getattr(was, what)}"
    if was.durability is not None and (now.durability is None or now.durability < was.durability):
        yield "more durable outdoors, or not said"
    # Fewer names may leave a name to a milder wood alone.
    yield from (f"no longer meant by “{name}”" for name in names_of(was) if name not in names_of(now))
    if now.laser is not None and (was.laser is None or now.laser.thickest > was.laser.thickest):
        yield _INTO_LASER.format(now.laser.thickest)


def _entry_looser(was: Any, now: Any) -> Iterator[str]:
    """What an entry of a list asks for less."""
    if isinstance(was, (Glue, FinishKind, Material, StaffStep)):
        yield from (f"no hazard {name}" for name in was.hazards if name not in now.hazards)
    if isinstance(was, (Glue, FinishKind)):
        if was.staff and not now.staff:
            yield "students may put it on"
        if now.family != was.family:
            yield f"of another family: {now.family or 'not said'}"
    if isinstance(was, Glue):
        if now.resists > was.resists:
            yield f"stands more wet: {now.resists}"
        if now.open_time > was.open_time:
            yield "more time to close the joint"
        if now.cramp_time < was.cramp_time or now.cure_time < was.cure_time:
            yield "less time to set"
        elif now.cramp_times != was.cramp_times:
            yield "other times to set by temperature"
        if was.coldest is not None and (now.coldest is None or now.coldest < was.coldest):
            yield "a colder room"
    elif isinstance(was, FinishKind):
        if now.dry_time < was.dry_time:
            yield "less time to dry"
        if now.food and not was.food:
            yield "may touch food"
        if was.self_heating_rags and not now.self_heating_rags:
            yield "rags are no longer held to heat by themselves"
    elif isinstance(was, DrillBit):
        if now.speeds != was.speeds:
            yield "other speeds"
    elif isinstance(was, SizedTools):
        if now.within > was.within:
            yield f"a tool may be {now.within:g} mm off"
    elif isinstance(was, Material):
        yield from _material_looser(was, now)
    elif isinstance(was, GuardItem):
        if now.asked_by and not (was.asked_by and set(was.asked_by) <= set(now.asked_by)):
            yield f"asked for by {', '.join(now.asked_by)} only"
    elif isinstance(was, Region):
        yield from region_looser(was, now)
    elif isinstance(was, Measure):
        yield from measure_looser(was, now)
    elif isinstance(was, StaffStep):
        yield from (f"no “{each}”" for each in (*was.first, *was.last) if each not in (*now.first, *now.last))
    elif isinstance(was, HeldShape):
        more = [name for name in (*now.holding, *now.enough) if name not in (*was.holding, *was.enough)]
        if more:
            yield f"holding {' or '.join(more)} is enough"
    elif isinstance(was, BenchFigure) and now.value != was.value:
        yield f"plans are proved with {now.value:g} instead of {was.value:g}"


def _blades_looser(shipped: Iterable[BandBlade], rows: Iterable[BandBlade]) -> Iterator[str]:
    for row in rows:
        known = next((each for each in shipped if each.up_to >= row.up_to), None)
        if known is None or row.radius < known.radius:
            yield f"curves down to {row.radius:g} mm for a blade of {row.up_to:g} mm"


def _speeds_looser(shipped: Iterable[CutterSpeed], rows: Iterable[CutterSpeed]) -> Iterator[str]:
    for row in rows:
        known = next((each for each in shipped if each.up_to >= row.up_to), None)
        if known is None or row.most > known.most:
            yield f"up to {row.most:g} rev/min for a cutter of {row.up_to:g} mm"
