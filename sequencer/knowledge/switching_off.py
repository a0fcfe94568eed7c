"""What a school does without: what can be switched off by name, and the knowledge without it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sequencer.knowledge.forms.changes import Change, Records
from sequencer.knowledge.knowledge import Knowledge
from sequencer.reading.words import meant


def not_to_be_off(name: str, knowledge: Knowledge) -> tuple[str, str, str, str] | None:
    """Code, what, why and remedy if this cannot be switched off. Hazards cannot: a sheet would lose its warning."""
    operations = {name for station in knowledge.stations.values() for name in station.operations}
    can = {*operations, *knowledge.stations, *knowledge.glues, *knowledge.finishes}
    if name in can:
        return None
    if name in knowledge.hazards:
        return (
            "hazard-switched-off",
            f"The hazard '{name}' is switched off, and hazards cannot be.",
            "A sheet would lose its warning in silence.",
            "Take it out; to word it otherwise, lay your own file over it.",
        )
    what = f"'{name}' is switched off; no operation, kind of station, glue or finish is called that."
    return "unknown-name", what, "", meant(name, can)


def off_change(name: str, records: Records, knowledge: Knowledge) -> Change:
    """The change that switching off makes."""
    record = records.switched_off.get(name)
    by, why = (record.by, record.why) if record else ("", "")
    titles = {key: operation.name for kind in knowledge.stations.values() for key, operation in kind.operations.items()}
    for things in (knowledge.finishes, knowledge.glues, knowledge.stations):
        titles |= {key: thing.name for key, thing in things.items() if key not in titles}
    return Change(name, f"“{titles[name]}” is switched off.", (), by, why)


def without(knowledge: Knowledge, names: Iterable[str]) -> Knowledge:
    """The knowledge less what is switched off. A kind of station keeps its name and has no operation left."""
    off = set(names)
    stations = {
        kind: replace(
            station,
            operations={} if kind in off else {name: each for name, each in station.operations.items() if name not in off},
        )
        for kind, station in knowledge.stations.items()
    }
    glues = {name: glue for name, glue in knowledge.glues.items() if name not in off}
    finishes = {name: finish for name, finish in knowledge.finishes.items() if name not in off}
    return replace(knowledge, stations=stations, glues=glues, finishes=finishes)
