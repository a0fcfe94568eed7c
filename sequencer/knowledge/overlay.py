"""What a school's own folder changes in the shipped knowledge: each change by its place, with who made it and why.

A change that loosens a shipped default needs a name and a reason, as a rule of the workshop file does. What `strictness` does
not prove to be as strict or stricter counts as loosening.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from sequencer.findings import Finding
from sequencer.knowledge.figure_changes import figure_looser, noise_looser
from sequencer.knowledge.forms.changes import Change, Record
from sequencer.knowledge.forms.cutters import BandBlade, CutterSpeed
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import Figure, StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import largest_movement
from sequencer.knowledge.newly_reaching import BRINGING, bans_looser, brought_looser, hazard_looser
from sequencer.knowledge.region_changes import records_looser
from sequencer.knowledge.strictness import as_it_counts, key_looser, looser, new_looser
from sequencer.reading.words import in_short

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
    "fasteners": "fasteners",
    "changes": "change_times",
    "screws": "screws",
    "drill-bits": "drill_bits",
    "tool-sizes": "tool_sizes",
    "ghs": "ghs",
    "signs": "signs",
    "terms": "terms",
    "staff-steps": "staff_steps",
    "waiting-work": "waiting_work",
    "bench": "bench_figures",
    "working-figures": "working_figures",
    "jigs": "jigs",
    "shapes": "shapes",
    "measures": "measures",
    "regions": "regions",
    "abrasives": "abrasives",
}
"""Lists of entries by name, and where the knowledge holds them."""
ROWS = {"cutter-speeds": "cutter_speeds", "band-saw-blades": "band_blades", "limits": "limits", "verbs": "verbs"}
"""Lists of rows, and where the knowledge holds them."""


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
            f"{change.text} It may ask for less than the shipped one: {'; '.join(change.looser)}. "
            f"Decided by {change.by}: {change.why}",
            "Shipped defaults are cautious; what loosens them is the school's decision.",
        )
    if change.looser:
        return Finding(
            "error",
            "unnamed-loosening",
            change.about,
            f"{change.text} It may ask for less than the shipped one: {'; '.join(change.looser)}. Who decided it and why is not "
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
            text = f"The station {kind.name} is added, with {len(kind.operations)} operations."
            yield Change(f"operations/{name}", text, tuple(new_looser(kind)))
        elif kind != before:
            yield from _station_changes(f"operations/{name}", name, shipped, own)
    for name, hazard in own.hazards.items():
        was = shipped.hazards.get(name)
        if hazard == was:
            continue
        what, said = ("added", new_looser(hazard)) if was is None else ("replaced", looser(was, hazard))
        text = f"The hazard {hazard.name} is {what}."
        yield Change(f"hazards/{name}", text, (*said, *hazard_looser(shipped, own, name)))
    for name, attribute in ENTRIES.items():
        entries, known = getattr(own, attribute), getattr(shipped, attribute)
        for key, entry in entries.items():
            about = f"lists/{name}/{key}"
            if key not in known:
                yield Change(about, f"{_title(entry, key)} is added to the list {name}.", tuple(new_looser(entry)))
            elif entry != known[key]:
                less = tuple(looser(known[key], entry))
                if isinstance(entry, Material):
                    less += tuple(_moving_less(shipped, own, known[key], entry))
                if attribute in BRINGING:
                    less += tuple(brought_looser(shipped, own, known[key].hazards, entry.hazards))
                yield Change(about, f"{_title(entry, key)} is replaced in the list {name}.", less)
    for name, attribute in ROWS.items():
        rows = [row for row in getattr(own, attribute) if row not in getattr(shipped, attribute)]
        if rows:
            less = tuple(_rows_looser(name, shipped, own, rows))
            yield Change(f"lists/{name}", f"{_count(len(rows), 'entry', 'entries')} added to the list {name}.", less)


def _rows_looser(name: str, shipped: Knowledge, own: Knowledge, rows: Iterable[Any]) -> Iterator[str]:
    """What the rows added to a list ask for less."""
    if name == "cutter-speeds":
        yield from _speeds_looser(shipped.cutter_speeds, rows)
    elif name == "band-saw-blades":
        yield from _blades_looser(shipped.band_blades, rows)
    elif name == "limits":
        yield from records_looser(shipped, own)


def _moving_less(shipped: Knowledge, own: Knowledge, was: Material, now: Material) -> Iterator[str]:
    """Where a wood that moved most of all no longer does, and with it every wood of which nothing is known moves less."""
    most, left = largest_movement(shipped), largest_movement(own)
    if left < most and was.tangential == most != now.tangential:
        yield f"woods of which nothing is known are taken to move {left:g} instead of {most:g}"


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many} {'is' if number == 1 else 'are'}"


def _title(entry: object, key: object) -> str:
    return f"{getattr(entry, 'name', '') or key}"


def _station_changes(at: str, name_of_kind: str, shipped: Knowledge, own: Knowledge) -> Iterator[Change]:
    before, kind = shipped.stations[name_of_kind], own.stations[name_of_kind]
    for name in dict.fromkeys((*before.figures, *kind.figures)):
        old, new = before.figures.get(name), kind.figures.get(name)
        if old != new:
            yield Change(
                f"{at}/figures/{name}",
                f"{kind.name}: {_figure_text(name, old, new)}",
                tuple(figure_looser(before, name, old, new)),
            )
    for key in dict.fromkeys((*before.operations, *kind.operations)):
        was, now = before.operations.get(key), kind.operations.get(key)
        about = f"{at}/operations/{key}"
        if was is None and now is not None:
            yield Change(about, f"{kind.name}: the operation “{now.name}” is added.", tuple(new_looser(now)))
        elif was is not None and now is None:
            yield Change(about, f"{kind.name}: the operation “{was.name}” is taken out.")
        elif was is not None and now is not None and _by_itself(before, was) != _by_itself(kind, now):
            old_way, new_way = as_it_counts(before, was), as_it_counts(kind, now)
            bans = bans_looser(shipped, own, old_way.hazards, new_way.hazards)
            less = (*looser(old_way, new_way), *bans)
            yield Change(about, f"{kind.name}: the operation “{now.name}” is replaced.", less)
    for item in fields(StationKind):
        if item.name in ("figures", "operations"):
            continue
        ours, theirs = getattr(kind, item.name), getattr(before, item.name)
        if ours != theirs:
            less = tuple(key_looser(StationKind, item.name, theirs, ours))
            if item.name == "hazards":
                less += tuple(bans_looser(shipped, own, before.hazards, kind.hazards))
            elif item.name == "noise":
                less += tuple(noise_looser(before, before.noise, kind.noise))
            yield Change(f"{at}/{item.name}", f"{kind.name}: “{item.name}” is not as shipped.", less)


def _figure_text(name: str, old: Figure | None, new: Figure | None) -> str:
    """What a figure is now and was; of one that is as much as it was, what else is said of it."""
    now, was = (f"{each.default:g}" if each is not None and each.default is not None else "none" for each in (new, old))
    if now != was or old is None or new is None:
        return f"the figure {name} is {now}; shipped it is {was}."
    others = [f"`{item.name}`" for item in fields(Figure) if getattr(old, item.name) != getattr(new, item.name)]
    return f"the figure {name} is {now} as shipped, and {in_short(others)} {'read' if len(others) > 1 else 'reads'} otherwise."


def _by_itself(kind: StationKind, operation: Operation) -> Operation:
    """The operation without the limits of its station, which loading puts in front."""
    return replace(operation, limits=operation.limits[len(kind.limits) :])


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
