"""The way that is taken of all that can make a work: the teacher's decision where there is one, else the best by the job's aim.
Where there is none, what stands against every one and what would help.
"""

from __future__ import annotations

from difflib import get_close_matches

from sequencer.features.base import mm
from sequencer.findings import Finding, Place
from sequencer.model.job import Decision, Job
from sequencer.planning.decided import decisions_on_way, way_decided
from sequencer.planning.ranking import Along, Wish, ranked, shut_out
from sequencer.planning.shop import Shop
from sequencer.planning.sticks import what_forbids
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


def wish_for(work: Work, shop: Shop, along: Along | None = None) -> Wish:
    """What the ways of a work are ranked by in this job. `along`: where a strip may be taken for it."""
    return Wish(shop.job.aim, work.quantity * shop.workshop.students, work.kind == "rough-length", along)


def pick(work: Work, ways: tuple[Way, ...], shop: Shop, along: Along | None = None) -> tuple[Way | None, list[Finding]]:
    """The way that is taken for a work, with a note on what would have come before it; or None and why no way is possible.
    `along`: where a strip may be taken for it."""
    decision = way_decided(work, shop.job)
    wanted = ways
    if decision is not None:
        wanted = _asked_for(decision, ways)
    wish = wish_for(work, shop, along)
    best = ranked(wanted, wish)
    if best:
        out = [] if decision else shut_out(ways, best[0], wish)
        return best[0], [_way_out(work, way, best[0]) for way in out[:1]]
    if decision is not None:
        return None, _decision_refused(work, decision, wanted, ways, shop.job)
    return None, [_no_way(work, ways, _place_of(work, shop.job), what_forbids(work, shop))]


def _way_out(work: Work, out: Way, taken: Way) -> Finding:
    return Finding(
        "note",
        "way-out",
        work.id,
        f"{work.title} is planned as: {taken.title}. {out.title} would come first, but is out here: "
        f"{' '.join(each.what for each in out.obstacles)}",
        remedy=" ".join(each.remedy for each in out.obstacles),
    )


def _asked_for(decision: Decision, ways: tuple[Way, ...]) -> tuple[Way, ...]:
    return tuple(way for way in ways if decision.way in ("", way.operation) and decision.station in ("", way.station, way.kind))


def _decision_refused(work: Work, decision: Decision, wanted: tuple[Way, ...], ways: tuple[Way, ...], job: Job) -> list[Finding]:
    """Why nothing can be done as it is decided. `decision`: what all decisions about the work ask for together."""
    asked = " at ".join(filter(None, (decision.way, decision.station)))
    single = decisions_on_way(work, job)
    if not wanted:
        unknown = [each for each in single if not _asked_for(each, ways)]
        if not unknown:
            return [
                Finding(
                    "error",
                    "decisions-contradict",
                    work.id,
                    f"The decisions together ask for {asked}, which does not do this: {work.title}.",
                    "Each by itself has a way, but no way is both.",
                    f"Keep one of them: {', '.join(each.way or each.station for each in single)}.",
                    decision.place,
                )
            ]
        return [
            Finding(
                "error",
                "decision-unknown",
                work.id,
                f"The decision asks for {' at '.join(filter(None, (each.way, each.station)))}, which does not do this: "
                f"{work.title}.",
                remedy=_offered(each, ways),
                place=each.place,
            )
            for each in unknown
        ]
    others = [way.operation for way in ways if way.possible]
    obstacles = min((way.obstacles for way in wanted), key=len)
    return [
        Finding(
            "error",
            "decision-refused",
            work.id,
            f"The decision asks for {asked}, which cannot be done: {' '.join(obstacle.what for obstacle in obstacles)}",
            "No decision can undo a limit, a guard or work-holding.",
            f"{' '.join(obstacle.remedy for obstacle in obstacles)}"
            + (f" Or use: {', '.join(dict.fromkeys(others))}." if others else ""),
            decision.place,
        )
    ]


def _offered(decision: Decision, ways: tuple[Way, ...]) -> str:
    """What a decision could ask for instead of what nothing here is called: stations for a station, ways for a way; of these
    what is possible here, and the nearest name first."""
    if decision.way and all(way.operation != decision.way for way in ways):
        asked, what, names = decision.way, "Ways that do", [(way.operation, way) for way in ways]
    elif all(decision.station not in (way.station, way.kind) for way in ways):
        asked, what, names = decision.station, "Stations that do", [(way.station, way) for way in ways if way.station]
    else:
        fitting = [way for way in ways if decision.way in ("", way.operation)]
        asked, what, names = "", f"Stations for {decision.way}", [(way.station, way) for way in fitting if way.station]
    near = get_close_matches(asked, {name for name, _ in names}, n=1, cutoff=0.6) if asked else []
    possible = sorted({name for name, way in names if way.possible})
    meant = f"Did you mean {near[0]}? " if near else ""
    return f"{meant}{what} here: {', '.join(possible) or 'none'}."


def _no_way(work: Work, ways: tuple[Way, ...], place: Place | None, on_a_stick: str = "") -> Finding:
    """That nothing makes it. `on_a_stick`: the remedy where all that stands against the nearest way is how short the piece is."""
    meant = [way for way in ways if way.meant]
    if not ways:
        return Finding(
            "error",
            "no-way",
            work.id,
            f"Nothing in the knowledge makes this: {work.title} ({work.kind}).",
            "The tool plans only what it knows.",
            "Add an operation for it, or let staff plan this by hand.",
            place,
        )
    nearest = sorted(
        meant or ways, key=lambda way: (len(way.obstacles), sum(each.short_by for each in way.obstacles), way.operation)
    )
    reasons = "; ".join(f"{way.title}: {' '.join(each.what for each in way.obstacles)}" for way in (meant or ways))
    remedies = " Or: ".join(
        f"{way.title}: {' '.join(dict.fromkeys(each.remedy for each in way.obstacles))}" for way in nearest[:2]
    )
    too_short = all(each.remedy.endswith(" longer.") for each in nearest[0].obstacles)
    return Finding(
        "error",
        "no-way",
        work.id,
        f"No way of doing this is possible here: {work.title}. {reasons}",
        "Every way was tried against sizes, guards, holding, stations and people.",
        _too_thin(work, ways) or (f"{on_a_stick} Or nearest: {remedies}" if too_short and on_a_stick else f"Nearest: {remedies}"),
        place,
    )


def _too_thin(work: Work, ways: tuple[Way, ...]) -> str:
    """What to do where every way that this workshop has a station for leaves too little wood: to change the drawing, as no other
    machine leaves more. Empty where that is not what stands against them."""
    here = [(way, _thin(way)) for way in ways if way.station]
    if not here or any(thin is None for _, thin in here):
        return ""
    way, much = min(
        ((way, thin) for way, thin in here if thin is not None),
        key=lambda each: (len(each[0].obstacles), each[1], each[0].operation),
    )
    rest = " ".join(dict.fromkeys(each.remedy for each in way.obstacles if each.of != "feature.remaining"))
    depth = way.figures.get("feature.depth", 0.0)
    named = work.title.partition(": ")[0].partition(" ")[2]
    do = (
        f"Make {named} {mm(depth - much)} mm deep at most, {mm(much)} mm shallower"
        if work.kind in ("groove", "housing") and depth > much
        else f"Leave {mm(much)} mm more wood at {named}"
    )
    return f"{do}: no other tool or machine leaves more wood." + (f" For {way.title} besides: {rest}" if rest else "")


def _thin(way: Way) -> float | None:
    """How much too little wood a way leaves, mm; None where that does not stand against it."""
    return next((each.short_by for each in way.obstacles if each.of == "feature.remaining"), None)


def _place_of(work: Work, job: Job) -> Place | None:
    return job.parts[work.part].place_of(work.feature) if work.part else None
