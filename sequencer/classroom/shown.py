"""What students are shown before they use it: a kind of station, and ways of work there that are taught by themselves.

A name is that of the kind of station, or of it and the way of work: `hand-sawing`, `hand-sawing/mitre-box`.
"""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Workshop


def asked_for(plan: Plan, knowledge: Knowledge) -> dict[str, tuple[str, ...]]:
    """Of each step of students, by id, the names of what has been shown at its station to whoever does it; none where nothing
    need be."""
    tasks = {task.id: task for task in plan.tasks}
    found: dict[str, tuple[str, ...]] = {}
    for step in plan.steps:
        if step.kind == "work" and step.who.operator == "student":
            kind, operations = step.station_kind, knowledge.stations[step.station_kind].operations
            ways = [operations[tasks[task].operation].shown_as for task in step.tasks if tasks[task].operation in operations]
            names = dict.fromkeys((kind, *(f"{kind}/{way}" for way in ways if way)))
            found[step.id] = () if step.who.gate == "none" else tuple(names)
    return found


def on_record(name: str, workshop: Workshop) -> bool:
    """Whether the school's record says that the class has been shown it; who is signed off at a station knows all its ways."""
    return name in workshop.instructed or name.partition("/")[0] in workshop.signed_off


def kinds_used(step: Step, knowledge: Knowledge) -> list[str]:
    """The kind of station of a step, and at a bench those whose own tools are used at it too."""
    if knowledge.stations[step.station_kind].power not in ("hand", "bench"):
        return [step.station_kind]
    tools = {tool.partition(",")[0] for tool in step.tools}
    used = [kind for kind, station in knowledge.stations.items() if not tools.isdisjoint(station.own_tools)]
    return list(dict.fromkeys((step.station_kind, *used)))


def way_words(name: str, knowledge: Knowledge) -> str:
    """A way of work in words, `the mitre box`; empty for a kind of station."""
    kind, _, way = name.partition("/")
    return knowledge.stations[kind].ways_shown[way] if way else ""


def title(names: Sequence[str], step: Step, knowledge: Knowledge) -> str:
    """What a demonstration is called that shows these at the station of a step: `Hand saws`, `Hand saws, with the mitre box`, and
    of the way of work alone `Hand saws: the mitre box`."""
    ways = [words for name in names if (words := way_words(name, knowledge))]
    joined = ", with " if step.station_kind in names else ": "
    return joined.join((step.station_title, " and ".join(ways))) if ways else step.station_title
