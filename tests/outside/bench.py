"""Small invented jobs and the full example workshop with other figures, so that a published rule meets the real tool."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sequencer.design.checking import check_design
from sequencer.features.base import Feature
from sequencer.findings import Finding
from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.model.job import Decision, Job, Stock
from sequencer.model.plan import Plan, Setting
from sequencer.model.workshop import Workshop
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.reading.job import read_job
from tests.design.jobs import job, part
from tests.made import knowledge, workshop

OVER_LENGTH = 25
"""What the tool leaves on a blank before its ends are squared, mm; a blank is this much longer than its part."""


def board(
    *features: Feature, length: float = 600, width: float = 90, thick: float = 15, surface: str = "planed", stock: float = 15,
    material: str = "radiata pine", hardness: str = "softwood", count: int = 1,
) -> Job:  # fmt: skip
    """One part, `rail`, from a board 190 wide."""
    bought = Stock("board", material, "board", 190, stock, (2400,), hardness=hardness, surface=surface)  # type: ignore[arg-type]
    return job([part("rail", "board", length, width, thick, *features, count=count)], [], stock=(bought,))


def sheet(*features: Feature, material: str = "laser plywood", thick: float = 18, length: float = 450, width: float = 240) -> Job:
    """One part, `rail`, from a sheet of 1220 by 610."""
    bought = Stock("panel", material, "sheet", 610, thick, (1220,))
    return job([part("rail", "panel", length, width, thick, *features)], [], stock=(bought,))


def equipped(station: str, without: str = "", **figures: float) -> Workshop:
    """The well-equipped example workshop, one station with other figures or without a guard or way of holding."""
    whole = workshop("well-equipped")
    old = whole.stations[station]
    new = replace(
        old,
        figures={**old.figures, **{name.replace("_", "-"): value for name, value in figures.items()}},
        guards=tuple(each for each in old.guards if each != without),
        holding=tuple(each for each in old.holding if each != without),
    )
    counted = {name: thing for name, thing in whole.counted.items() if not without or without not in (name, thing.kind)}
    return replace(whole, stations={**whole.stations, station: new}, counted=counted)


def shop(station: str, **figures: float) -> Workshop:
    """The full example workshop, one station with other figures; hyphens of their names as underlines."""
    old = workshop().stations[station]
    new = {**old.figures, **{name.replace("_", "-"): value for name, value in figures.items()}}
    return replace(workshop(), stations={**workshop().stations, station: replace(old, figures=new)})


def with_speeds(station: str, *speeds: float) -> Workshop:
    """The full example workshop, one station with other spindle speeds."""
    old = workshop().stations[station]
    return replace(workshop(), stations={**workshop().stations, station: replace(old, speeds=speeds)})


def ways(made: Job, task: str, operation: str, where: Workshop | None = None) -> list[Way]:
    """Every way of doing a task by an operation, possible or not; at least one."""
    found = [
        way for _, ways, _ in ways_of(task, made, where or workshop(), knowledge()) for way in ways if way.operation == operation
    ]
    assert found, f"{operation} is not among the ways of {task}"
    return found


def possible(made: Job, task: str, operation: str, where: Workshop | None = None) -> bool:
    """Whether any way of doing a task by an operation is open."""
    return any(way.possible for way in ways(made, task, operation, where))


def against(made: Job, task: str, operation: str, where: Workshop | None = None) -> str:
    """Everything that is said against doing a task by an operation; empty if a way is open."""
    found = ways(made, task, operation, where)
    return "" if any(way.possible for way in found) else " ".join(each.what for way in found for each in way.obstacles)


def set_to(made: Job, task: str, operation: str, where: Workshop | None = None) -> dict[str, Setting]:
    """The settings of the open way of doing a task by an operation."""
    way = next(way for way in ways(made, task, operation, where) if way.possible)
    return {setting.name: setting for setting in way.settings}


def worked(
    function: str, figures: dict[str, float], hardness: str = "unknown", *speeds: float, **use: float | str
) -> dict[str, Setting]:
    """What a settings function gives for figures, with the shipped lists."""
    known = knowledge()
    request = Request(
        figures, use, speeds, hardness, screws=known.screws, drill_bits=known.drill_bits, cutter_speeds=known.cutter_speeds
    )
    return {setting.name: setting for setting in SETTINGS[function].work(request)}


def planned_by(made: Job, about: str, way: str) -> Plan:
    """The plan of a job in which staff have decided on a way."""
    decided = replace(made, decisions=(Decision(about, "Head of technology", "for this check", way=way),))
    return make_plan(decided, workshop(), knowledge())


def findings_of(text: str, folder: Path) -> list[Finding]:
    """What the tool finds about a job file with this text."""
    path = folder / "job.yaml"
    path.write_text(text, encoding="utf-8")
    return list(check_design(read_job(path)[0], knowledge()))
