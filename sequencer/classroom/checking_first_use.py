"""The checker's look at what comes before the first use of a station: it is shown, so are ways of work there that are taught by
themselves, and students are signed off at it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.classroom.as_written import FOREVER, Written
from sequencer.classroom.checking_staff import ROUNDING
from sequencer.model.class_plan import Stint
from sequencer.model.plan import Step


def shown_and_signed(written: Written) -> Iterator[str]:
    """Shown in groups before first use, and signed off right before the first piece where the gate says so."""
    for stint in written.class_plan.stints:
        if stint.kind == "demonstration":
            yield from _demonstration(written, stint)
        elif stint.kind == "sign-off":
            yield from _sign_off(written, stint)
        elif stint.shows:
            yield f"{written.who(stint)} is said to be shown something at step {stint.number}, which is no demonstration."
    for seat, stints in written.by_seat.items():
        yield from _before_use(written, seat, stints)
        yield from _first_cut(written, seat, stints)


def _each(written: Written) -> int:
    """Students of a seat."""
    return 2 if written.workshop.pairs else 1


def _demonstration(written: Written, stint: Stint) -> Iterator[str]:
    """To no more than can see, in one go, as long as what it shows takes."""
    working, each = written.knowledge.working, _each(written)
    most = written.workshop.shown_in or int(working.shown_in)
    if len(stint.seats) > max(1, most // each):
        yield f"{each * len(stint.seats)} students are shown the {stint.title} at once, and {most} may be."
    kind = stint.shows[0].partition("/")[0] if stint.shows else ""
    known = written.knowledge.stations.get(kind)
    if known is None or stint.step not in written.steps:
        yield f"The demonstration of the {stint.title} shows nothing."
        return
    if kind not in _shown_there(written, written.steps[stint.step]):
        yield f"The demonstration of the {stint.title} shows the {known.name}, which are not shown there."
    adult = written.adults.get(stint.adult)
    if adult is not None and not written.may_at(adult, kind):
        yield f"The {stint.title} is shown by the {adult.role.lower()}, who is not authorised for the {known.name}."
    needed = 0.0
    for name in stint.shows:
        station, _, way = name.partition("/")
        if station != kind or (way and way not in known.ways_shown):
            yield f"The demonstration of the {stint.title} shows {name}, which is not of its station."
        needed += working.way_shown if way else working.demonstration
    long = sum(span.stop - span.start for span in stint.spans)
    if long < needed or len(stint.spans) > 1:
        yield f"The {stint.title} is shown in {long} minutes, and {needed:g} are needed in one go."


def _shown_there(written: Written, step: Step) -> list[str]:
    """The kinds of station shown at that of a step: its own, and those whose tools it uses and where students never stand."""
    stood = {each.station_kind for each in written.students if each.who.gate != "none"}
    used = dict.fromkeys(name.partition("/")[0] for name in _uses(written, step))
    return [step.station_kind, *(kind for kind in used if kind not in stood)]


def _sign_off(written: Written, stint: Stint) -> Iterator[str]:
    """As long as it takes, and straight on to the first piece, the same adult beside until the sign-off is over at the least."""
    needed, long = _each(written) * written.knowledge.working.sign_off, sum(span.stop - span.start for span in stint.spans)
    if long < needed or len(stint.spans) > 1:
        yield f"{written.who(stint)} signs off at the {stint.title} in {long} minutes, and it takes {needed:g}."
    goes_on = [
        each
        for each in written.class_plan.stints
        if (each.kind, each.seats, each.step, each.place, each.adult)
        == ("step", stint.seats, stint.step, stint.place, stint.adult)
        and written.start(each) == written.stop(stint)
        and each.spans[0].session == stint.spans[-1].session
        and each.attention >= 1.0 - ROUNDING
    ]
    if not goes_on:
        yield (
            f"{written.who(stint)} is signed off at the {stint.title} and does not go straight on to the first piece there, the "
            "same adult beside."
        )


def _before_use(written: Written, seat: str, stints: list[Stint]) -> Iterator[str]:
    """A seat has seen what it uses, and what a way of work is built on, and was signed off."""
    seen: dict[str, int] = {}
    signed: dict[str, int] = {}
    for stint in stints:
        if stint.kind == "demonstration":
            for name in stint.shows:
                seen[name] = min(seen.get(name, FOREVER), written.stop(stint))
        elif stint.kind == "sign-off" and (kind := written.kind(stint)):
            signed[kind] = min(signed.get(kind, FOREVER), written.stop(stint))
    done = {*written.workshop.instructed, *written.workshop.signed_off}
    for stint in stints:
        step = written.steps.get(stint.step)
        if step is None or step.who.gate == "none":
            continue
        start, kind = written.start(stint), step.station_kind
        if stint.kind == "demonstration":
            for each in dict.fromkeys(name.partition("/")[0] for name in stint.shows):
                if each not in (*stint.shows, *done) and seen.get(each, FOREVER) > start:
                    name = written.knowledge.stations[each].name
                    yield f"Seat {seat} is shown {', '.join(stint.shows)} before the {name}."
            continue
        for name in _uses(written, step):
            station = name.partition("/")[0]
            if name in done or station in written.workshop.signed_off:
                continue
            if seen.get(name, FOREVER) > start:
                what = _called(written, name, kind)
                yield f"Seat {seat} is at the {step.station_title} at step {stint.number} before {what} been shown."
        sign = step.who.gate == "signed-off" and kind not in written.workshop.signed_off and stint.kind == "step"
        if sign and signed.get(kind, FOREVER) > start:
            yield f"Seat {seat} is at the {step.station_title} at step {stint.number} before being signed off."


def _first_cut(written: Written, seat: str, stints: list[Stint]) -> Iterator[str]:
    """The very first work with an edge tool or a saw, at whichever bench, has an adult by who teaches, unless the class knows
    such tools."""
    cutting = {kind for kind, known in written.knowledge.stations.items() if known.watched in ("edge-tools", "hand-saws")}
    if not cutting.isdisjoint((*written.workshop.instructed, *written.workshop.signed_off)):
        return
    for stint in stints:
        step = written.steps.get(stint.step)
        if stint.kind != "step" or step is None or step.who.gate == "none" or cutting.isdisjoint(_benches(written, step)):
            continue
        adult = written.adults.get(stint.adult)
        if adult is None or not adult.teaches:
            yield (
                f"Seat {seat} cuts by hand for the first time at step {stint.number}, {written.at(written.start(stint))}, and "
                "no adult who teaches watches it."
            )
        return


def _uses(written: Written, step: Step) -> Iterator[str]:
    """What a step uses that students are shown: benches by their kinds, and the way of work where that is taught by itself."""
    yield from _benches(written, step)
    used = {task.operation for task in written.plan.tasks if task.id in step.tasks}
    for operation, known in written.knowledge.stations[step.station_kind].operations.items():
        for way in known.shown_as if operation in used else ():
            other, slash, _ = way.partition("/")
            yield from (other, way) if slash else (f"{step.station_kind}/{way}",)


def _benches(written: Written, step: Step) -> Sequence[str]:
    """The kind of station of a step, and of one without a motor those whose tools it uses."""
    return written.benches(step) if written.by_hand(step) else (step.station_kind,)


def _called(written: Written, name: str, kind: str) -> str:
    station, _, way = name.partition("/")
    if way:
        return f"{written.knowledge.stations[station].ways_shown[way]} has"
    return "it has" if station == kind else f"the {written.knowledge.stations[station].name} have"
