"""What a workshop file says of its people and its class, held against the knowledge: a name that means nothing is lost in
silence, and with it an authority, a record or a gate."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.workshop import Workshop
from sequencer.reading.words import nearest


def people_findings(workshop: Workshop, knowledge: Knowledge) -> tuple[Finding, ...]:
    """A warning for each name under `authorised`, `instructed`, `signed_off` and `all_ready` that is no kind of station here, and
    for groups that cannot be as small as asked."""
    return (*_authorised(workshop, knowledge), *_recorded(workshop, knowledge), *_pairs(workshop))


def _authorised(workshop: Workshop, knowledge: Knowledge) -> Iterator[Finding]:
    for adult in workshop.adults:
        for name in adult.authorised:
            if name not in ("all", "benches") and name not in knowledge.stations:
                yield Finding(
                    "warning",
                    "unknown-authority",
                    adult.role,
                    f"{adult.role} is authorised for {name}, which is no kind of station.",
                    remedy=f"Use `all`, `benches` or one of: {', '.join(sorted(knowledge.stations))}.",
                )


def _recorded(workshop: Workshop, knowledge: Knowledge) -> Iterator[Finding]:
    stations = sorted(knowledge.stations)
    ways = [f"{name}/{way}" for name in stations for way in knowledge.stations[name].ways_shown]
    for key, names in (
        ("instructed", workshop.instructed),
        ("signed_off", workshop.signed_off),
        ("all_ready", workshop.all_ready),
    ):
        known = [*stations, *ways] if key == "instructed" else stations
        for name in names:
            if name in known:
                continue
            remedy = f"Use one of: {', '.join(stations)}."
            if key == "instructed":
                remedy += f" Or a way of work that is shown by itself: {', '.join(ways)}."
            if name in ways:
                remedy = f"A way of work stands under `instructed`; under `{key}` write {name.partition('/')[0]}."
            elif near := nearest(name, known):
                remedy = f"Did you mean '{near}'? {remedy}"
            what = f"`{key}` names {name}, which is {'a way of work' if name in ways else 'no kind of station'}."
            yield Finding("warning", "unknown-kind", key, what, "What it says of the class is not counted.", remedy)


def _pairs(workshop: Workshop) -> Iterator[Finding]:
    if not workshop.pairs:
        return
    if workshop.students % 2:
        yield Finding(
            "warning",
            "odd-pairs",
            "pairs",
            f"{workshop.students} {'student does' if workshop.students == 1 else 'students do'} not come out in pairs.",
            "One is alone, and steps for two want a partner.",
            "Plan a helper for whoever is alone, or take `pairs` out.",
        )
    if workshop.shown_in == 1:
        yield Finding(
            "warning",
            "pair-is-shown",
            "shown_in",
            "A pair is shown a station together, so that two stand there where `shown_in` says one.",
            "Both of a pair use the station.",
            "Write shown_in: 2, or take `pairs` out.",
        )
