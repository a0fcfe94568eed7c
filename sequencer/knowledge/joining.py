"""Joins the files that have been read and checked into one `Knowledge`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from sequencer.knowledge.files import Files
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge


def knowledge_of(files: Files) -> Knowledge:
    """Everything joined; a station's limits stand in front of each of its operations' own."""

    def named(name: str) -> dict[Any, Any]:
        return {key: value for file in files.listed(name) for key, value in file.value.items()}

    def several(name: str) -> tuple[Any, ...]:
        return tuple(value for file in files.listed(name) for value in file.value)

    return Knowledge(
        stations={file.name: _with_limits(file.value) for file in files.stations},
        hazards={file.name: file.value for file in files.hazards},
        guards=named("guards"),
        holding=named("holding"),
        wear=named("wear"),
        materials=named("materials"),
        glues=named("glues"),
        finishes=named("finishes"),
        fits=named("fits"),
        fasteners=named("fasteners"),
        change_times=named("changes"),
        screws=named("screws"),
        drill_bits=named("drill-bits"),
        tool_sizes=named("tool-sizes"),
        cutter_speeds=tuple(sorted(several("cutter-speeds"), key=lambda row: row.up_to)),
        band_blades=tuple(sorted(several("band-saw-blades"), key=lambda row: row.up_to)),
        abrasives=named("abrasives"),
        verbs=tuple(dict.fromkeys(several("verbs"))),
        limits=several("limits"),
        measures=named("measures"),
        regions=named("regions"),
        ghs=named("ghs"),
        signs=named("signs"),
        terms=named("terms"),
        staff_steps=named("staff-steps"),
        waiting_work=named("waiting-work"),
        bench_figures=named("bench"),
        working_figures=named("working-figures"),
        jigs=named("jigs"),
        shapes=named("shapes"),
    )


def _with_limits(station: StationKind) -> StationKind:
    return _with_operations(station, lambda operation: replace(operation, limits=(*station.limits, *operation.limits)))


def _with_operations(station: StationKind, change: Callable[[Operation], Operation]) -> StationKind:
    return replace(station, operations={name: change(operation) for name, operation in station.operations.items()})
