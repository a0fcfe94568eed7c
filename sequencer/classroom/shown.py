"""What students are shown before they use it: a kind of station, and ways of work there that are taught by themselves.

A name is that of the kind of station, or of it and the way of work: `hand-sawing`, `hand-sawing/mitre-box`.
"""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Workshop


def asked_for(plan: Plan, knowledge: Knowledge) -> dict[str, tuple[str, ...]]:
    """Of each step of students, by id, the names of what has been shown to whoever does it: its own station first, then
    benches whose own tools or ways of work it uses, then ways of work; none where nothing need be."""
    tasks = {task.id: task for task in plan.tasks}
    found: dict[str, tuple[str, ...]] = {}
    for step in plan.steps:
        if step.kind == "work" and step.who.operator == "student":
            kind, operations = step.station_kind, knowledge.stations[step.station_kind].operations
            known = [operations[tasks[task].operation] for task in step.tasks if tasks[task].operation in operations]
            ways = [way if "/" in way else f"{kind}/{way}" for operation in known for way in operation.shown_as]
            names = dict.fromkeys((*kinds_used(step, knowledge), *map(kind_of, ways), *ways))
            found[step.id] = () if step.who.gate == "none" else tuple(names)
    return found


def kind_of(name: str) -> str:
    """The kind of station of a name."""
    return name.partition("/")[0]


def by_kind(names: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """Names under the kinds of station that they belong to, in order: each kind is shown by itself."""
    return {kind: tuple(name for name in names if kind_of(name) == kind) for kind in dict.fromkeys(map(kind_of, names))}


def on_record(name: str, workshop: Workshop) -> bool:
    """Whether the school's record says that the class has been shown it; who is signed off at a station knows all its ways."""
    return name in workshop.instructed or kind_of(name) in workshop.signed_off


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
    """What a demonstration is called that shows these, all of one kind, at the station of a step: `Hand saws`, `Hand saws, with
    the mitre box`, of the way of work alone `Hand saws: the mitre box`, of tools of another bench `Hand saws: hand planes`. Where
    nothing is shown, the station alone."""
    if not names:
        return step.station_title
    kind = kind_of(names[0])
    whole = [knowledge.stations[kind].name] if kind in names else []
    ways = [words for name in names if (words := way_words(name, knowledge))]
    shown = ", with ".join((*whole, *([" and ".join(ways)] if ways else [])))
    return shown if whole and kind == step.station_kind else f"{step.station_title}: {shown}"
