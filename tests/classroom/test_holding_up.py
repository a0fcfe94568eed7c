"""What is said of several things that hold a class up together."""

from __future__ import annotations

from sequencer.classroom.course import Found
from sequencer.classroom.duties import ClassWork, Duty
from sequencer.classroom.holding_up import TOGETHER, bottlenecks
from sequencer.classroom.sessions import Sessions
from sequencer.classroom.things import Thing
from sequencer.scheduling.bound import Bound
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.problem import Activity, After, Keep, Need, Placed, Problem, Schedule
from tests.classroom.classes import the_class

LESSONS = ((0, 40), (1440, 1480), (2880, 2920))
THINGS = (
    Thing("seat", "1", 1),
    Thing("adult", "Teacher", 4),
    Thing("adult", "Technician", 4),
    Thing("station", "drill 1", 1),
    Thing("station", "drill 2", 1),
    Thing("counted", "sash-cramp", 6),
    Thing("benches", "adults", 8),
)


def first_of(*bounds: Bound) -> tuple[str, int, str]:
    """The name, lessons and words of what holds a class up most."""
    drilling = Activity("drill", 10, (Need((0,)), Need((1, 2)), Need((3, 4))))
    gluing = Activity("glue", 10, (Need((0,)),), (Keep(5, 6, 60),), (After(0),))
    problem = Problem((drilling, gluing), tuple(thing.count for thing in THINGS), (Calendar(LESSONS),))
    duties = tuple(Duty("step", (0,), each) for each in the_class().plan.steps[:2])
    work = ClassWork(problem, duties, THINGS, Sessions(LESSONS, (), None, 1, stated=False), 4, frozenset())
    schedule = Schedule((Placed(0, 0, 10, (0, 1, 3)), Placed(0, 10, 20, (0,))))
    first = next(bottlenecks(Found(work, schedule, bounds, 3, 1, 0.0)))
    return first.name, first.least, first.says


def test_all_that_a_proof_rests_on_is_named_once() -> None:
    alone, longest = Bound(50, (1, 2), 50.0), Bound(45, ())
    together = Bound(81, (1, 2, 3, 4, 5, 6), together=((3, 4), (6,), (1, 2), (3,), (5,)))
    says = "Drill, the adults and sash cramp together: not in fewer than 3 lessons; to have more of one alone may not help."
    assert first_of(longest, alone, together) == (TOGETHER, 3, says)


def test_one_thing_alone_keeps_its_name_and_its_load() -> None:
    alone, longest = Bound(50, (1, 2), 50.0), Bound(45, ())
    name, least, says = first_of(longest, alone, Bound(81, (1, 2), together=((1, 2),)))
    assert (name, least) == ("the adults", 3)
    assert says.startswith("The adults: not in fewer than 3 lessons, with 50 minutes of work for each adult")


def test_what_is_only_kept_is_told_too() -> None:
    name, least, says = first_of(Bound(45, ()), Bound(81, (5,), together=((5,),)))
    assert (name, least) == ("sash-cramp", 3)
    assert says == "Sash cramp: not in fewer than 3 lessons."


def test_the_way_of_one_student_keeps_its_load() -> None:
    seat, longest = Bound(45, (0,), 30.0), Bound(45, ())
    says = "One student's own work: not in fewer than 3 lessons, with 30 minutes of work; the rest goes by in waits."
    assert first_of(longest, seat, Bound(81, ())) == ("one student's own work", 3, says)
