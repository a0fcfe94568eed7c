"""Words the sheets of a course share: times of the day, seats, places, and what a class plan says of one lesson. Minutes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from hashlib import sha256

from sequencer.classroom.shown import kind_of
from sequencer.model.class_plan import NO_TIMETABLE, ClassPlan, Session, Span, Stint, seat_runs
from sequencer.model.plan import Plan, Step, Task
from sequencer.model.work import WORK_KINDS
from sequencer.paper import wording
from sequencer.paper.pages import Page

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MOST_IN_WORDS = 2
SLOT = 5
"""Times on paper are told in so many minutes: nobody runs a class by the single minute (common practice)."""
WHOLE = "the whole"
"""What titles call all parts together."""


@dataclass(frozen=True)
class Lessons:
    """A class plan and the plan it is made from."""

    classes: ClassPlan
    plan: Plan

    @cached_property
    def steps(self) -> dict[str, Step]:
        """The steps of the plan by id."""
        return {step.id: step for step in self.plan.steps}

    @cached_property
    def tasks(self) -> dict[str, Task]:
        """The tasks of the plan by id."""
        return {task.id: task for task in self.plan.tasks}

    @cached_property
    def mark(self) -> str:
        """Eight letters and figures that change when anything of the lessons or of the plan behind them does."""
        made = self.classes
        said = (made.plan, made.seats, made.lessons, made.staff_sessions, made.stints, made.staff_jobs, made.taken, made.idle)
        return sha256(repr((sorted(self.plan.fingerprints.items()), *said)).encode()).hexdigest()[:8]

    @cached_property
    def by_the_clock(self) -> bool:
        """Whether the timetable is stated: else times are minutes of working time."""
        return all(finding.code != NO_TIMETABLE for finding in self.classes.findings)

    @cached_property
    def _stints(self) -> dict[int, list[tuple[Stint, Span]]]:
        found: dict[int, list[tuple[Stint, Span]]] = {lesson.number: [] for lesson in self.classes.lessons}
        for stint in self.classes.stints:
            for span in stint.spans:
                found[span.session].append((stint, span))
        return found

    def stints(self, lesson: int) -> list[tuple[Stint, Span]]:
        """What is done in a lesson, and from when until when in it."""
        return self._stints[lesson]

    def at(self, session: Session, minute: float) -> str:
        """A minute of a session's time: `10:35`, without a timetable `min 10`."""
        if not self.by_the_clock:
            return f"min {minute:g}"
        hour, past = session.clock.split(":")
        real = int(hour) * 60 + int(past) + round(minute)
        return f"{real % 1440 // 60}:{real % 60:02}"

    def slot(self, session: Session, minute: float) -> str:
        """When something begins or ends in a lesson: work lies in whole slots of it, so that this is its time."""
        return self.at(session, minute)

    def slots(self, session: Session, span: Span) -> str:
        """From when until when: `10:35 to 10:45`."""
        first, last = self.slot(session, span.start), self.slot(session, span.stop)
        return first if first == last else f"{first} to {last.removeprefix('min ')}"

    def short_name(self, step: str) -> str:
        """A step in two or three words, with its parts by their letters: `Groove, A`; of several `Glue and cramp, box`."""
        known = self.steps[step]
        kinds = dict.fromkeys(self.tasks[name].kind for name in known.tasks)
        last = list(kinds)[-1] if kinds else ""
        name = WORK_KINDS[last].title if last in WORK_KINDS else wording.heading(last.replace("-", " "))
        if not name:
            return known.title
        doing, _, about = known.title.rpartition(": ")
        if last == "clean-inside":
            # In a flat frame these are edges, not faces.
            name = doing.partition(" and ")[0]
        if about == WHOLE:
            return name
        named = [work.letter for work in known.parts]
        on_parts = all(self.tasks[task].part for task in known.tasks) or about.endswith(f"({', '.join(named)})")
        letters = _letters(named)
        return f"{name}, {letters if on_parts and letters else about}"

    def during(self, session: Session, span: Span) -> str:
        """From when until when: `10:35 to 10:46`."""
        return f"{self.at(session, span.start)} to {self.at(session, span.stop).removeprefix('min ')}"

    def day(self, session: Session) -> str:
        """The day of a session: `Tuesday 2 February 2027`; empty where it is not known."""
        return f"{_DAYS[session.day.weekday()]} {wording.day_words(session.day)}" if session.day and self.by_the_clock else ""

    def short_day(self, session: Session) -> str:
        """The same in short: `Tue 2 Feb`."""
        if not session.day or not self.by_the_clock:
            return ""
        day, month, _ = wording.day_words(session.day).split(" ")
        return f"{_DAYS[session.day.weekday()][:3]} {day} {month[:3]}"

    def moment(self, text: str) -> str:
        """A moment of the class plan, `2027-02-04 09:40`, as `Thu 4 Feb 9:40`; empty where the timetable is not stated."""
        if not self.by_the_clock:
            return ""
        day, _, time = text.partition(" ")
        try:
            on = date.fromisoformat(day)
        except ValueError:
            return text
        return f"{self.short_day(Session(0, time, 0, on))} {time}"

    def place(self, step: str, place: str) -> str:
        """A place by the title of its station, with its number where alike machines are told apart."""
        known = self.steps[step]
        return f"{known.station_title}{place.removeprefix(known.station)}"

    def shown(self, stint: Stint, here: str = "") -> str:
        """Where a stint is, and of a demonstration what it shows there: `Hand saws, with the mitre box`; what is not of the place
        itself by its own name, `Hand planes, with the shooting board, at the hand saws`. `here`: the place that goes without
        saying, in words."""
        place, ways = self.place(stint.step, stint.place), self.ways(stint)
        what = ways.removeprefix(": ")
        if what == ways:
            return f"{place}{ways}"
        where = f"{',' if ', ' in what else ''} at the {wording.within_sentence(place)}"
        return wording.heading(what) if here == place else f"{wording.heading(what)}{where}"

    def ways(self, stint: Stint) -> str:
        """What a demonstration shows that is taught by itself, `, with the mitre box` or `: the mitre box`; else empty."""
        return stint.title.removeprefix(self.steps[stint.step].station_title) if stint.kind == "demonstration" else ""

    def subject(self, stint: Stint) -> str:
        """What a demonstration or sign-off is about, wherever it is: of tools of another bench their own, `Hand planes`."""
        return self.ways(stint).removeprefix(": ") if self.of_another_bench(stint) else stint.title

    def of_another_bench(self, stint: Stint) -> bool:
        """Whether a demonstration shows tools of another bench than it is given at."""
        return bool(stint.shows) and kind_of(stint.shows[0]) != self.steps[stint.step].station_kind

    def seats(self, codes: Iterable[str], joined: str = " to ") -> str:
        """Seats with runs drawn together, in the order of the class: `1 to 6, 9`."""
        return seat_runs(codes, self.classes.seats, joined)

    def seat_words(self, codes: Iterable[str]) -> str:
        """`seat 7` or `seats 1 to 6, 9`."""
        named = list(dict.fromkeys(codes))
        return f"seat{'s' if len(named) > 1 else ''} {self.seats(named)}"

    def numbered(self, entries: Sequence[object]) -> tuple[Page, ...]:
        """An entry a page, numbered, with the mark of the course."""
        return tuple(Page(number, len(entries), self.mark, (entry,)) for number, entry in enumerate(entries, 1))


def _letters(letters: Sequence[str]) -> str:
    """Letters of parts with a run of all of them drawn together: `A to D`; else `A, B`."""
    codes = [ord(letter) for letter in letters if len(letter) == 1]
    run = len(codes) == len(letters) > _MOST_IN_WORDS and codes == list(range(codes[0], codes[0] + len(codes)))
    return f"{letters[0]} to {letters[-1]}" if run else ", ".join(letters)
