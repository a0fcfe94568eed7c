"""What a station file keeps beside its form: all that it and its operations name exists."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import fields

from sequencer.knowledge.forms.operations import WhoDefault
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.links import Names, check_limit, check_name, check_names, check_sentences, check_stop_when
from sequencer.knowledge.operation_checks import OperationChecks, check_lies
from sequencer.model.quantities import QUANTITIES
from sequencer.reading.report import Report


def check_station(report: Report, station: StationKind, names: Names) -> None:
    """All that a station file names."""
    check_names(report, "guard", station.guards, names.guards, ("guards",))
    check_names(report, "way of holding", station.holding, names.holding, ("holding",))
    check_names(report, "hazard", station.hazards, names.hazards, ("hazards",))
    check_names(report, "thing to wear", station.wear, names.wear, ("wear",))
    check_sentences(report, station.before_starting, names, ("before_starting",))
    check_sentences(report, station.seen_at_sign_off, names, ("seen_at_sign_off",))
    check_stop_when(report, station.stop_when)
    figures = {f"station.{name}" for name in station.figures}
    for name in station.figures:
        check_name(report, "figure of a station", f"station.{name}", QUANTITIES, ("figures", name))
    for each in fields(WhoDefault):
        if getattr(station.who, each.name) is None:
            report.error(
                "missing",
                ("who",),
                f"'{each.name}' is missing.",
                "The station's answer stands for every operation here that has none.",
                "Add it.",
            )
    for number, limit in enumerate(station.limits):
        check_limit(report, limit, figures, ("limits", number))
    check_lies(report, station.lies, ("lies",))
    check_watched(report, station)
    check_ways_shown(report, station)
    for key, operation in station.operations.items():
        OperationChecks(report, key, operation, station, figures, names).check()


def check_ways_shown(report: Report, station: StationKind) -> None:
    """Every way of work that is shown by itself is that of an operation here, whose students are shown how."""
    for name in station.ways_shown:
        own = [each for each in station.operations.values() if name in each.shown_as]
        if not own:
            report.error(
                "way-shown",
                ("ways_shown", name),
                f"No operation here is shown as '{name}'.",
                "It would never be shown to anybody.",
                f"Write `shown_as: [{name}]` under the operations that are done so, or take it out.",
            )
        elif all((each.who.gate or station.who.gate) == "none" for each in own):
            report.error(
                "way-shown",
                ("ways_shown", name),
                f"What is shown as '{name}' may be done by students whom nobody has shown it.",
                "Who need not be shown a thing is given no lesson time for it.",
                "Write `gate: instructed` under `who`, or take it out.",
            )


def check_ways_of_others(report: Report, station: StationKind, ways: Collection[str]) -> None:
    """A way of work of another station is there. `ways`: all, each after its station, `hand-sawing/mitre-box`."""
    for key, operation in station.operations.items():
        for number, way in enumerate(operation.shown_as):
            if "/" in way:
                check_name(report, "way shown at another station", way, ways, ("operations", key, "shown_as", number))


def check_watched(report: Report, station: StationKind) -> None:
    """How many an adult watches at a station with a motor follows from the motor."""
    if station.watched and station.power in ("machine", "powered-hand"):
        report.error(
            "watched",
            ("watched",),
            f"It has a motor and is to be watched as {station.watched.replace('-', ' ')}.",
            "How many one adult watches at a station with a motor follows from `power`.",
            "Take `watched` out.",
        )
