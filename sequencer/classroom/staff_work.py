"""What staff do as activities: machines set, steps done for the whole class, guards put back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import ceil

from sequencer.classroom.duties import LESSONS, STAFF, STAFF_SEAT, Duty
from sequencer.classroom.gathered import Gathered
from sequencer.model.plan import Step
from sequencer.scheduling.problem import Activity, After, Keep, Need


class StaffWork:
    """The steps of staff."""

    def __init__(self, gathered: Gathered) -> None:
        self.gathered = gathered

    def set_up(self, step: Step) -> None:
        """Staff set every machine that the step behind needs: in their own time, or while the class is there if an adult is left
        to watch it."""
        gathered, things = self.gathered, self.gathered.things
        work = step.id.removesuffix("/set-up")
        own = next(each for each in gathered.plan.steps if each.id == work)
        there = things.adults_for(step.station_kind, in_lessons=True)
        free = own.who.operator == "student" and bool(there) and things.settings is not None
        adults = there if free else things.adults_for(step.station_kind, in_lessons=False)
        units = gathered.machines(own)
        for unit in units if own.who.operator == "student" else units[:1]:
            after = tuple(After(number) for number in gathered.on.get(unit, ()))
            left = (Need((things.settings,)),) if free and things.settings else ()
            held = things.held(adults, gathered.whole) if free else (Need(adults, gathered.whole),)
            activity = Activity(
                f"{step.id} {unit}",
                max(1, ceil(step.minutes)),
                (*held, Need((unit,)), *left),
                (),
                after,
                (STAFF, LESSONS) if free else (STAFF,),
                group=STAFF_SEAT,
            )
            number = gathered.add(Duty("set-up", (), step, attention=gathered.whole), activity)
            gathered.set_for.setdefault(work, []).append(number)
            gathered.on[unit] = [number]

    def work(self, step: Step, before: Mapping[str, int]) -> None:
        """Staff do a step for the whole class in one go."""
        gathered, things = self.gathered, self.gathered.things
        minutes = max(1, ceil(step.minutes * len(gathered.seats) + step.set_up_minutes))
        unit, machine = things.stations[step.station][0], things.is_machine(step.station_kind)
        after = [*gathered.over(before, gathered.seats), *gathered.set_before(step)]
        if not gathered.set_for.get(step.id) and machine:
            after += [After(number) for number in gathered.on.get(unit, ())]
        needs = (Need(things.adults_for(step.station_kind, in_lessons=False), gathered.whole), Need((unit,)))
        keeps = tuple(self._for_all(keep) for keep in gathered.keeps(step, 1))
        activity = Activity(step.id, minutes, needs, keeps, tuple(after), (STAFF,), gathered.least_part, STAFF_SEAT)
        number = gathered.add(Duty("work", (), step, attention=gathered.whole), activity)
        gathered.ended[step.id, STAFF_SEAT] = number
        if machine:
            gathered.on[unit] = [number]

    def _for_all(self, keep: Keep) -> Keep:
        """The same for everybody's things at once; all there are, where that is fewer: staff then work in turns."""
        gathered = self.gathered
        return replace(keep, amount=min(keep.amount * len(gathered.seats), gathered.things.all[keep.thing].count))

    def guards_back(self, step: Step) -> None:
        """Staff put the guards back when everyone is done without them."""
        gathered, things = self.gathered, self.gathered.things
        work = step.id.removesuffix("/guards-back")
        unit = things.stations[step.station][0]
        seats = [seat for seat in (*gathered.seats, STAFF_SEAT) if (work, seat) in gathered.ended]
        after = tuple(After(gathered.ended[work, seat]) for seat in seats)
        needs = (Need(things.adults_for(step.station_kind, in_lessons=False), gathered.whole), Need((unit,)))
        activity = Activity(step.id, max(1, ceil(step.minutes)), needs, (), after, (STAFF,), group=STAFF_SEAT)
        gathered.on[unit] = [gathered.add(Duty("guards-back", (), step, attention=gathered.whole), activity)]
