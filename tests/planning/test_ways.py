"""Ways: what stands against each, word for word with figures and remedy, and which one is taken."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.knowledge.forms.operations import Choose, Limit
from sequencer.knowledge.forms.stations import Figure
from sequencer.model.job import Aim
from sequencer.model.workshop import Adult, Station, Who
from sequencer.planning.limits import Obstacle
from sequencer.planning.planner import task_names, ways_of
from sequencer.planning.ranking import Wish, ranked
from sequencer.planning.ways import Way
from tests.made import EXAMPLES, WORKSHOPS, job, knowledge, workshop
from tests.planning.bench import kind, limit, obstacles, operation, ways

HERE = Station("slotter-1", "slotter")


def test_nothing_against_it() -> None:
    (way,) = ways(kind(), HERE)
    assert way.possible
    assert (way.station, way.minutes, way.set_up) == ("slotter-1", 3.0, 5.0)


def test_not_meant_for_this() -> None:
    slotter = kind(operation(applies=(limit("feature.depth", at_most="10", says="drawn with a deep slot"),)))
    assert obstacles(slotter, HERE) == (
        Obstacle("purpose", "It is not meant for this: the piece is drawn with a deep slot.", "Use another way."),
    )


def test_no_such_station() -> None:
    assert obstacles(kind()) == (
        Obstacle("station", "This workshop has no station for slotting machine.", "Add one (kind slotter), or use another way."),
    )


def test_out_of_service() -> None:
    assert obstacles(kind(), replace(HERE, out_of_service="belt torn")) == (
        Obstacle("service", "slotter-1 is out of service: belt torn.", "Put slotter-1 back into service."),
    )


def test_the_second_station_of_a_kind_does_when_the_first_is_out_of_service() -> None:
    (way,) = ways(kind(), replace(HERE, out_of_service="belt torn"), Station("slotter-2", "slotter"))
    assert way.possible
    assert way.station == "slotter-2"


def test_a_guard_of_all_is_missing() -> None:
    slotter = kind(operation(guards=Choose(all_of=("riving-knife", "push-stick"))))
    title = knowledge().guards["riving-knife"].name.lower()
    assert obstacles(slotter, replace(HERE, guards=("push-stick",))) == (
        Obstacle("guard", f"The {title} is not fitted at slotter-1.", f"Fit the {title}, then name it in the workshop file."),
    )


def test_every_missing_guard_is_said() -> None:
    slotter = kind(operation(guards=Choose(all_of=("riving-knife", "push-stick"))))
    assert [each.kind for each in obstacles(slotter, HERE)] == ["guard", "guard"]


def test_one_guard_of_several_is_enough() -> None:
    slotter = kind(operation(guards=Choose(any_of=("riving-knife", "push-stick"))))
    assert obstacles(slotter, replace(HERE, guards=("push-stick",))) == ()
    one, other = (knowledge().guards[name].name.lower() for name in ("riving-knife", "push-stick"))
    assert obstacles(slotter, HERE) == (
        Obstacle(
            "guard",
            f"The {one} or {other} is not fitted at slotter-1.",
            f"Fit the {one} or {other}, then name it in the workshop file.",
        ),
    )


def test_extraction_counts_as_a_guard() -> None:
    slotter = kind(operation(guards=Choose(all_of=("dust-extraction",))))
    assert obstacles(slotter, replace(HERE, extraction=True)) == ()
    assert [each.kind for each in obstacles(slotter, HERE)] == ["guard"]


def test_holding_is_missing() -> None:
    slotter = kind(operation(holding=Choose(all_of=("stop-block",))))
    title = knowledge().holding["stop-block"].name.lower()
    assert obstacles(slotter, HERE) == (
        Obstacle(
            "holding", f"The {title} is not at hand at slotter-1.", f"Provide the {title}, then name it in the workshop file."
        ),
    )


def test_holding_that_is_counted_out_is_at_hand_anywhere() -> None:
    slotter = kind(operation(holding=Choose(any_of=("bench-vice", "bench-hook"))))
    assert obstacles(slotter, HERE, counted=True) == ()
    assert [each.kind for each in obstacles(slotter, HERE)] == ["holding"]


def test_a_limit_says_both_figures_and_how_much_is_missing() -> None:
    slotter = kind(operation(limits=(limit("blank.length", at_least="station.shortest"),)))
    assert obstacles(slotter, HERE) == (
        Obstacle(
            "limit",
            "The piece is too short to be held: length of the piece as it is worked is 250 mm, at least 300 mm is needed.",
            "It must be 50 mm longer.",
            50.0,
        ),
    )


@pytest.mark.parametrize(
    ("asked", "bound", "remedy"),
    [
        (limit("blank.length", at_most="200", says="too long"), "at most 200 mm", "It must be 50 mm shorter."),
        (limit("blank.width", at_least="80", says="too narrow"), "at least 80 mm", "It must be 20 mm wider."),
        (limit("blank.thickness", at_most="18", says="too thick"), "at most 18 mm", "It must be 2 mm thinner."),
        (limit("blank.width", more_than="60", says="too narrow"), "more than 60 mm", "It must be a little wider."),
        (limit("blank.length", less_than="250", says="too long"), "less than 250 mm", "It must be a little shorter."),
    ],
)
def test_a_limit_is_turned_round_into_its_remedy(asked: Limit, bound: str, remedy: str) -> None:
    (found,) = obstacles(kind(operation(limits=(asked,))), HERE)
    assert f", {bound} is needed." in found.what
    assert found.remedy == remedy


def test_a_school_s_own_figure_wins_over_the_default() -> None:
    slotter = kind(operation(limits=(limit("blank.length", at_least="station.shortest"),)))
    assert obstacles(slotter, replace(HERE, figures={"shortest": 250.0})) == ()


def test_a_figure_that_nobody_knows_allows_nothing() -> None:
    slotter = kind(
        operation(limits=(limit("feature.depth", at_most="station.deepest"),)),
        figures={"deepest": Figure(means="depth", source="the maker's plate")},
    )
    assert obstacles(slotter, HERE) == (
        Obstacle(
            "figure",
            "It is not known here: greatest depth or height of cut.",
            "State `deepest` for slotter-1 in the workshop file; until then staff must decide.",
        ),
    )


def test_no_adult_is_authorised() -> None:
    assert obstacles(kind(), HERE, adults=(Adult("Technician", ("saw-bench",)),)) == (
        Obstacle(
            "who",
            "No adult in the workshop file is authorised to supervise the slotting machine.",
            "Name an authorised adult, or use another way.",
        ),
    )


def test_at_a_bench_nobody_needs_to_be_authorised() -> None:
    assert obstacles(kind(power="hand"), HERE, adults=()) == ()


def test_everything_against_it_is_said_at_once() -> None:
    slotter = kind(
        operation(
            guards=Choose(all_of=("riving-knife",)),
            holding=Choose(all_of=("stop-block",)),
            limits=(limit("blank.length", at_least="station.shortest"),),
        )
    )
    found = obstacles(slotter, replace(HERE, out_of_service="belt torn"), adults=())
    assert [each.kind for each in found] == ["service", "guard", "holding", "limit", "who"]


STAFF, STUDENT = Who("staff", "beside", "signed-off"), Who("student", "watching", "instructed")


def _way(name: str, who: Who = STUDENT, each: float = 5.0, set_up: float = 0.0, **other: bool) -> Way:
    (way,) = ways(kind(), HERE)
    return replace(way, operation=name, who=who, minutes=each, set_up=set_up, **other)


def test_a_way_without_its_normal_guards_comes_last_however_quick() -> None:
    for aim in ("most-by-students", "least-time", "fewest-set-ups"):
        quick, slow = _way("quick", each=0.1, guards_off=True), _way("slow", who=STAFF, each=60.0, set_up=60.0)
        assert [way.operation for way in ranked((quick, slow), Wish(aim))] == ["slow", "quick"]


@pytest.mark.parametrize(
    ("aim", "best"), [("most-by-students", "by-hand"), ("least-time", "machine"), ("fewest-set-ups", "by-hand")]
)
def test_the_aim_decides_among_possible_ways(aim: Aim, best: str) -> None:
    hand, machine = _way("by-hand", each=10.0, set_up=0.0), _way("machine", who=STAFF, each=1.0, set_up=20.0, in_the_long=True)
    assert ranked((hand, machine), Wish(aim, pieces=48))[0].operation == best


def test_for_one_piece_the_set_up_counts_as_much_as_for_a_class() -> None:
    # By hand 10 min; at the machine 20 min once and 1 min each: 21 for one piece, 68 against 480 for 48.
    hand, machine = _way("by-hand", each=10.0), _way("machine", each=1.0, set_up=20.0)
    assert ranked((hand, machine), Wish("least-time", pieces=1))[0].operation == "by-hand"
    assert ranked((hand, machine), Wish("least-time", pieces=48))[0].operation == "machine"


def test_staff_work_in_the_long_students_piece_by_piece() -> None:
    pieces = (_way("a", in_the_long=True), _way("a", in_the_long=False))
    assert ranked(pieces, Wish("most-by-students"))[0].in_the_long is False
    assert ranked(tuple(replace(way, who=STAFF) for way in pieces), Wish("most-by-students"))[0].in_the_long is True


def test_blanks_are_cut_by_staff_where_they_can() -> None:
    both = (_way("by-hand"), _way("machine", who=STAFF))
    assert ranked(both, Wish("most-by-students", for_class=True))[0].operation == "machine"


def test_what_is_not_possible_is_not_ranked_and_ties_break_by_name() -> None:
    stopped = replace(_way("a"), obstacles=(Obstacle("station", "It is broken.", "Mend it."),))
    assert [way.operation for way in ranked((_way("c"), stopped, _way("b")), Wish("least-time"))] == ["b", "c"]


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("shop", WORKSHOPS)
def test_what_the_plan_takes_is_among_the_ways_shown_as_it_is_planned(name: str, shop: str) -> None:
    shown = ways_of(None, job(name), workshop(shop), knowledge())
    assert {work.id for work, _, _ in shown} >= set(task_names(job(name), knowledge()))
    for work, found, chosen in shown:
        assert chosen in found, work.id


def test_a_blank_is_cut_at_its_own_length_not_at_the_board_s() -> None:
    # A caddy side of 320 mm, 25 mm over length for squaring both ends by hand; the board is 3000 mm long.
    ((_, found, chosen),) = ways_of("side/rough-length", job("herb-caddy"), workshop(), knowledge())
    assert chosen is not None
    assert [setting.value for setting in chosen.settings] == [345.0]
    assert any("3000 mm" in each.what for way in found for each in way.obstacles)
