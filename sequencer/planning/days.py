"""What one person meets in a day at the stations of a plan, held against what the region allows over a day. All of a person's
work counts as done on one day, and every minute of a step as a minute at the tool: the cautious side."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import ceil, floor

from sequencer.findings import Finding
from sequencer.knowledge.exposure import Part
from sequencer.knowledge.forms.regions import DatedLimit, Region
from sequencer.knowledge.regions import held_to
from sequencer.model.plan import Step
from sequencer.planning.shop import Shop

Share = Callable[[Sequence[Part]], float]
"""What some of it makes of a day's worth, per cent; it grows with the minutes in proportion."""


@dataclass(frozen=True)
class Person:
    """Whose work it is, and for each station the minutes of it and the steps it is in."""

    who: str
    minutes: Mapping[str, float] = field(default_factory=dict)
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True)
class Asked:
    """A figure that a day may come to: what it is called, the figure, its unit, whose it is, how much of it is used up."""

    name: str
    value: float
    unit: str
    whose: str
    share: Share

    def words(self) -> str:
        """As a sentence names it."""
        return f"{self.name}, {self.value:g} {self.unit} ({self.whose})"


def persons(steps: Sequence[Step], shop: Shop, counts: Callable[[Step], bool]) -> Iterator[Person]:
    """One student with a student's work, and the staff as one person with theirs for the class; of the steps that count."""
    for who, card, times in (("One student", "student", 1), ("Staff, one person for the class", "staff", shop.workshop.students)):
        theirs = tuple(each for each in steps if each.kind == "work" and each.card == card and each.station and counts(each))
        minutes: dict[str, float] = {}
        for step in theirs:
            minutes[step.station] = minutes.get(step.station, 0.0) + step.minutes * times
        if minutes:
            yield Person(who, minutes, theirs)


def asked(
    abouts: Iterable[str], shop: Shop, region: Region, day: date | None, share: Callable[[DatedLimit, float], Share]
) -> tuple[Asked, ...]:
    """Every figure of some measures that counts in the region, the school's own too. `share` says of a record and its value
    how much of it is used up."""
    found = []
    for about in abouts:
        held = held_to(about, region, shop.knowledge, day)
        if held is None:
            continue
        for each in held.judged:
            found.append(Asked(held.measure.name, each.value, each.unit, each.region, share(each, each.value)))
        if about in shop.workshop.limits:
            own = shop.workshop.limits[about]
            soonest = min(held.judged, key=lambda each: each.exchange or 0.0)  # the school's own figure has no rule of its own
            found.append(Asked(held.measure.name, own, held.limit.unit, "the school's own", share(soonest, own)))
    return tuple(found)


def passed(parts: Sequence[Part], figures: Sequence[Asked]) -> list[Asked]:
    """Of each measure the figure that is passed furthest."""
    found: dict[str, tuple[float, Asked]] = {}
    for each in figures:
        share = each.share(parts)
        if share > 100.0 and (each.name not in found or share > found[each.name][0]):
            found[each.name] = (share, each)
    return [each for _, each in found.values()]


def passed_words(parts: Sequence[Part], over: Sequence[Asked], remedy: str) -> tuple[str, str]:
    """What is passed, and how to stay under it: over how many days the work is spread. `remedy`: what comes first.
    Where not a minute a day is left there is nothing to spread."""
    most = max(each.share(parts) for each in over)
    time = sum(minutes for _, minutes in parts)
    left = floor(time * 100 / most)
    if left < 1:
        stay = "To stay under all of them, not even a minute a day: this work cannot be done so."
    else:
        stay = (
            f"To stay under all of them, at most {left} {'minute' if left == 1 else 'minutes'} of this work a day, over "
            f"{ceil(most / 100)} days or more."
        )
    return " ".join(f"It passes {each.words()}." for each in over), f"{stay} {remedy}"


def finding(code: str, subject: str, who: str, over: Sequence[Asked], why: str) -> Finding:
    """The warning that a day's work passes some figures."""
    return Finding(
        "warning",
        code,
        subject,
        f"{who}: if all this work falls on one day, it passes {'. It passes '.join(each.name for each in over)}.",
        why,
        "Spread it over days and people; the minutes a day stand under Noise, vibration and dust of a day.",
    )
