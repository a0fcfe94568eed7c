"""Every way of making something, as it stands in a workshop or in none in particular."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.asking.lines import told_line
from sequencer.asking.meaning import Meant
from sequencer.asking.wording import chosen, limit_text
from sequencer.features import feature_kinds
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.quantities import Figures
from sequencer.model.work import WORK_KINDS
from sequencer.model.workshop import Station, Who
from sequencer.paper.wording import source_words
from sequencer.planning.limits import Obstacle
from sequencer.planning.obstacles import purposes_against, stands_against
from sequencer.planning.shop import Premises
from sequencer.planning.who import default_who, in_words, may_do
from sequencer.talk import wrapped


def best_station(
    kind: StationKind, name: str, operation: Operation, premises: Premises, figures: Figures
) -> tuple[Station, tuple[Obstacle, ...]] | None:
    """The station of the workshop where least stands against an operation, and what does; None if it has no such station."""
    tried = [
        (station, stands_against(kind, name, operation, station, premises, figures))
        for station in premises.stations.get(kind.station, ())
    ]
    return min(tried, key=lambda each: len(each[1]), default=None)


def ways_answer(meaning: Meant, knowledge: Knowledge, premises: Premises | None) -> str:
    """Every way of each kind that is meant: for ordinary work first, then what is not meant for work of this sort."""
    blocks = []
    for made in meaning.kinds:
        title = feature_kinds()[made].says if made in feature_kinds() else WORK_KINDS[made].meaning
        said = f", {', '.join(meaning.said)}" if meaning.said else ""
        lines = [wrapped(f"{made}{said}: {title}"), *_called(made, knowledge)]
        makers = [
            (kind, name, operation)
            for kind in knowledge.stations.values()
            for name, operation in kind.operations.items()
            if made in operation.makes
        ]
        told = [way_of(*maker, premises, meaning.figures or {}) for maker in makers]
        for way in sorted((way for way in told if not way.purpose), key=lambda way: (bool(way.against), way.name)):
            lines += ["", *way_lines(way, knowledge, premises)]
        beside = [way for way in told if way.purpose]
        if beside:
            lines += ["", wrapped("Not meant for this:")]
            lines += [wrapped(f"{way.operation.name} ({way.name}): {way.purpose}", 2, 2) for way in beside]
        if len(beside) == len(told):
            lines += ["", wrapped("No way of making it is known: it cannot be planned.")]
        blocks.append("\n".join(lines))
    if meaning.unused:
        blocks.append(wrapped(f"Not used of the question: {', '.join(meaning.unused)}."))
    blocks.append(
        wrapped(
            "Whether a way is possible for a piece depends on its sizes: `sequencer ways JOB PART/FEATURE` tries every one. "
            "Local law, the school's policy and the machine maker's instructions come first."
        )
    )
    return "\n\n".join(blocks)


@dataclass(frozen=True)
class _Way:
    """One way of making something: where in the workshop, what it is not meant for, what else stands against it."""

    kind: StationKind
    name: str
    operation: Operation
    station: Station | None
    purpose: str
    against: tuple[Obstacle, ...]


def _called(kind: str, knowledge: Knowledge) -> Iterator[str]:
    """What a kind of feature or work is called elsewhere."""
    term = knowledge.terms.get(kind.replace("-", " "))
    if term is not None:
        regions = (("AU", term.AU), ("NZ", term.NZ), ("UK", term.UK), ("US", term.US))
        yield wrapped("also called: " + "; ".join(f"{', '.join(words)} ({region})" for region, words in regions if words))


def way_of(kind: StationKind, name: str, operation: Operation, premises: Premises | None, figures: Figures) -> _Way:
    """A way as it stands in the workshop, or in none in particular."""
    best = best_station(kind, name, operation, premises, figures) if premises is not None else None
    if best is not None:
        station, found = best
    else:
        known = {f"station.{key}": each.default for key, each in kind.figures.items() if each.default is not None}
        station, found = None, purposes_against(operation, {**known, **figures})
    against = tuple(each for each in found if each.kind != "purpose")
    if premises is not None and station is None:
        missing = f"This workshop has no station for {kind.name}."
        against = (Obstacle("station", missing, f"Add one (kind {kind.station}), or use another way."),)
    return _Way(kind, name, operation, station, " ".join(each.what for each in found if each.kind == "purpose"), against)


def way_lines(way: _Way, knowledge: Knowledge, premises: Premises | None) -> Iterator[str]:
    """A way with what it asks for and what stands against it."""
    operation, kind = way.operation, way.kind
    here = premises.station_figures(kind, way.station) if premises is not None and way.station is not None else None
    who = who_may(kind, way.name, premises)
    place = f" at {way.station.name}" if way.station is not None else ""
    mark = "" if premises is None else f"{'not possible' if way.against else 'possible'}{place}: "
    yield wrapped(f"{mark}{operation.name} ({way.name})", 0, 2)
    yield from (wrapped(f"{each.what} -> {each.remedy}", 4, 3) for each in way.against)
    yield from told_line("station", kind.name)
    yield from told_line("who", in_words(who))
    yield from told_line("guards", chosen(operation.guards, knowledge.guards))
    yield from told_line("comes off", ", ".join(knowledge.guards[name].name for name in operation.guards_off))
    yield from told_line("holding", chosen(operation.holding, knowledge.holding))
    if operation.holding_upright is not None:
        yield from told_line("on edge", chosen(operation.holding_upright, knowledge.holding))
    yield from told_line("not for", "; ".join(f"a piece that is {limit.says}" for limit in operation.applies))
    for limit in operation.limits:
        yield from told_line("limit", limit_text(limit, kind, here))
    hazards = dict.fromkeys((*operation.hazards, *kind.hazards))
    yield from told_line("hazards", ", ".join(knowledge.hazards[name].name for name in hazards))
    yield from told_line("sources", "; ".join(map(source_words, operation.sources)))


def who_may(kind: StationKind, name: str, premises: Premises | None) -> Who:
    """Who may do an operation: as the school's rules say, where a workshop is given."""
    operation = kind.operations[name]
    return default_who(kind, operation) if premises is None else may_do(kind, name, operation, premises.workshop)
