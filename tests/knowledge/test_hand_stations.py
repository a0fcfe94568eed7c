"""The hand and bench stations: a school with hand tools alone can make all that hands can make, held and watched."""

from __future__ import annotations

import re

import pytest

from sequencer.features.base import feature_kinds
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.knowledge.wording import PLACEHOLDER
from sequencer.model.work import WORK_KINDS
from sequencer.planning.blanks import Workpiece
from sequencer.planning.free_waste import free_waste
from tests.made import plan

LIES_FLAT = {"hand-drill-round-stock", "bore-dowel-holes-by-hand", "drill-dowel-holes-by-hand"}
"""Held some other way than on its edge by a cramp: in a V; in the vice, holes upwards, whatever lies below."""
EDGED = {"edge-tool-cut", "hand-saw-cut"}


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="module")
def by_hand(knowledge: Knowledge) -> list[tuple[StationKind, str, Operation]]:
    return [
        (station, name, operation)
        for station in knowledge.stations.values()
        if station.power in ("hand", "bench")
        for name, operation in station.operations.items()
    ]


def test_hands_make_every_feature_and_do_every_kind_of_work(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    made = {kind for _, _, operation in by_hand for kind in operation.makes}
    # A slot in the shape of a segment is made by a disc only; by hand the joint is dowelled or tongued instead.
    assert {*feature_kinds(), *WORK_KINDS} - made == {"biscuit-slots"}


def test_wood_is_held_wherever_an_edge_cuts_it(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    loose = [
        name
        for station, name, operation in by_hand
        if station.power == "hand" and not (operation.holding.all_of or operation.holding.any_of)
    ]
    assert loose == []


def test_holding_that_an_operation_asks_for_is_listed_at_its_station(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    for station, name, operation in by_hand:
        choices = [operation.holding, *([operation.holding_upright] if operation.holding_upright else [])]
        asked = {name for choice in choices for name in (*choice.all_of, *choice.any_of)}
        assert asked <= set(station.holding), name


def test_what_may_stand_on_an_edge_for_a_chisel_or_a_bit_is_gripped_in_the_vice(
    by_hand: list[tuple[StationKind, str, Operation]],
) -> None:
    """A board on its edge under a cramp falls over; common practice of the bench."""
    for station, name, operation in by_hand:
        if station.station not in ("chiselling", "hand-boring") or "bench-vice" in operation.holding.all_of:
            continue
        held = operation.holding_upright
        if held is None:
            # Work that lies flat whatever it is: ends, joints that are glued, round wood in its V.
            assert {"tongue", "trim"} & set(operation.makes) or name in LIES_FLAT, name
            continue
        assert "bench-vice" in held.all_of, name
        said = operation.instructions
        assert any("vice" in sentence for sentence in said.where["blank.upright"]), name
        assert not any("flat" in sentence for sentence in said.where["blank.upright"]), name
        assert {*said.where["blank.flat"], *said.where["blank.upright"]} <= {*said.card, *said.hold}, name


def test_an_adult_watches_edge_tools_and_saws_and_nobody_starts_untaught(
    by_hand: list[tuple[StationKind, str, Operation]],
) -> None:
    for station, name, operation in by_hand:
        who = {key: getattr(operation.who, key) or getattr(station.who, key) for key in ("operator", "supervision", "gate")}
        if who["operator"] != "student":
            continue
        assert who["gate"] == "instructed", name
        if EDGED & set(operation.hazards) and station.station != "marking-out":
            assert who["supervision"] in ("watching", "beside"), name


def test_grit_is_known_to_spoil_edge_tools(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    assert {name for _, name, operation in by_hand if operation.cut == "sand"} == {
        name for _, name, operation in by_hand if operation.spoils_edge_tools
    }


def test_rags_with_drying_oil_go_to_staff_who_put_them_under_water(knowledge: Knowledge) -> None:
    operations = knowledge.stations["finishing"].operations
    oily = [each for each in operations.values() if "oily-rags" in each.hazards]
    assert len(oily) >= 3
    for operation in oily:
        said = (*operation.instructions.card, *operation.instructions.cut, *operation.instructions.check)
        assert any(re.match(r"Hand every .*\b(rag|cloth)\b.* to your teacher", sentence) for sentence in said), operation.name
        # No student puts a rag away: the bin is for staff.
        assert not any("bin" in sentence.split() or "outside" in sentence for sentence in said), operation.name
    for name in ("wipe-oil", "hand-in-rags"):
        assert operations[name].holding.all_of == ("rag-bin",)
    assert operations["hand-in-rags"].stop.startswith("Wait until staff have put every rag under water")
    assert "water" in operations["hand-in-rags"].stop


@pytest.mark.parametrize("kind", ["rough-length", "first-end", "length", "separate", "mark-out"])
def test_round_stock_has_ways_of_its_own(by_hand: list[tuple[StationKind, str, Operation]], kind: str) -> None:
    for _, name, operation in by_hand:
        if kind not in operation.makes:
            continue
        told_apart = [limit for limit in operation.applies if limit.of == "part.round"]
        assert told_apart, name
        if told_apart[0].at_least:
            said = (*operation.instructions.set, *operation.instructions.hold, *operation.instructions.cut)
            assert not any("face" in sentence or "edge mark" in sentence for sentence in said), name
    round_ways = [
        operation
        for _, _, operation in by_hand
        if kind in operation.makes and any(limit.of == "part.round" and limit.at_least for limit in operation.applies)
    ]
    assert len(round_ways) == 1


def test_first_ends_print_no_length_to_check(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    for _, name, operation in by_hand:
        if "first-end" in operation.makes:
            for check in operation.checks:
                assert "length" not in check.what or (check.kinds and "first-end" not in check.kinds), name


def test_thin_sheet_is_shot_lying_flat_and_cut_by_knife_only_where_it_is_too_long_for_that(
    by_hand: list[tuple[StationKind, str, Operation]],
) -> None:
    ways = {name: operation for _, name, operation in by_hand if "thin-sheet" in name and "width" in operation.makes}
    shot, cut = ways.pop("saw-thin-sheet-by-hand"), ways.pop("trim-thin-sheet-by-hand")
    assert not ways
    assert "shooting-board" in shot.holding.all_of
    longest = next(limit.at_most for limit in shot.limits if limit.of == "blank.length" and limit.at_most)
    assert longest in [limit.more_than for limit in cut.applies if limit.of == "blank.length"]
    assert cut.who.supervision == "beside"


def test_thin_sheet_is_never_planed_on_its_edge(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    for station, name, operation in by_hand:
        flat = "shooting-board" in operation.holding.all_of
        if "width" in operation.makes and not flat and any("Plane" in sentence for sentence in operation.instructions.cut):
            least = [limit.at_least for limit in operation.limits if limit.of == "blank.thickness" and limit.at_least]
            figures = {f"station.{key}": figure.default for key, figure in station.figures.items()}
            assert len(least) == 1, name
            assert float(figures.get(least[0]) or least[0]) >= 5, name


def test_both_hands_on_a_chisel_need_a_vice_or_a_cramp(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    for _, name, operation in by_hand:
        said = (*operation.instructions.set, *operation.instructions.cut)
        if any(sentence.startswith(("Pare", "Chisel")) for sentence in said):
            firm = {"bench-vice", "bench-cramp"}
            assert firm & set(operation.holding.all_of) or set(operation.holding.any_of) <= firm, name


def test_hammer_blows_are_warned_of_only_where_something_is_driven(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    warned = {name for station, name, operation in by_hand if "hammer-blow" in {*operation.hazards, *station.hazards}}
    assert warned == {name for _, name, operation in by_hand if {"nail", "wedge", "dowel", "key"} & {*operation.makes}}


def test_eyes_are_covered_where_points_and_bits_are_driven(by_hand: list[tuple[StationKind, str, Operation]]) -> None:
    for station, name, operation in by_hand:
        if {"screw", "nail", "hardware"} & set(operation.makes) or station.station == "hand-boring":
            assert "eye-protection" in {*operation.wear, *station.wear}, name


def test_glue_is_not_spread_in_a_cold_room(knowledge: Knowledge) -> None:
    # NAVEDTRA 14119 gives 50 degrees Fahrenheit for PVA; GTZ woodwork lessons 10 degrees Celsius.
    gluing = knowledge.stations["gluing"]
    assert gluing.figures["coldest"].default == 10
    for operation in gluing.operations.values():
        assert any(limit.of == "room.temperature" and limit.at_least == "station.coldest" for limit in operation.limits)


def test_glue_sets_and_coats_dry_without_anyone(knowledge: Knowledge) -> None:
    waits = {"leave-glue-to-set": "gluing", "leave-to-dry": "finishing"}
    for name, station in waits.items():
        assert knowledge.stations[station].operations[name].who.operator == "nobody"


def test_boring_by_hand_sets_bit_and_depth_but_no_speed(knowledge: Knowledge) -> None:
    figures = {"feature.diameter": 20.0, "feature.depth": 15.0}
    given = SETTINGS["bore-by-hand"].work(Request(figures, {"bit": "auger"}, drill_bits=knowledge.drill_bits))
    assert [(each.name, each.text) for each in given] == [("bit", "20 mm auger bit"), ("depth", "15 mm")]


def test_screw_holes_by_hand_are_those_of_the_machine_without_its_speed(knowledge: Knowledge) -> None:
    request = Request({"feature.gauge": 8.0}, {}, hardness="softwood", screws=knowledge.screws, drill_bits=knowledge.drill_bits)
    by_machine = {each.name: each for each in SETTINGS["screw-holes"].work(request)}
    by_hand = {each.name: each for each in SETTINGS["screw-holes-by-hand"].work(request)}
    assert by_machine.pop("speed").unit == "rev/min"
    sizes = {name: (setting.text, setting.value) for name, setting in by_hand.items()}
    assert sizes == {name: (setting.text, setting.value) for name, setting in by_machine.items()}
    # gauge 8: 4.17 mm shank by the published formula, so a clearance hole above it and a pilot hole below
    assert by_hand["pilot"].value is not None
    assert by_hand["clearance"].value is not None
    assert by_hand["pilot"].value < 4.17 < by_hand["clearance"].value


@pytest.fixture(scope="module")
def by_students(knowledge: Knowledge) -> list[tuple[StationKind, str, Operation]]:
    return [
        (station, name, operation)
        for station in knowledge.stations.values()
        for name, operation in station.operations.items()
        if (operation.who.operator or station.who.operator) in ("student", "nobody")
    ]


def content_words(text: str) -> set[str]:
    """The words of a text that carry its sense, without endings of number."""
    small = {"the", "a", "an", "of", "on", "in", "to", "at", "and", "it", "is", "with", "your", "that", "both"}
    return {word.rstrip("s") for word in re.findall(r"[a-z0-9.-]+", PLACEHOLDER.sub("", text).lower().rstrip("."))} - small


def test_students_get_a_short_form_of_at_most_five_sentences(by_students: list[tuple[StationKind, str, Operation]]) -> None:
    for station, name, operation in by_students:
        said = operation.instructions
        # What is said of a part by itself is not said of one on a stick or in a strip, nor the other way round.
        elsewhere = [
            {each for figure in figures for each in said.where.get(figure, ())}
            for figures in (
                ["part.off-stick", "part.off-strip", "part.in-strip"],
                ["part.on-stick", "part.stick-several", "part.in-strip", "part.own-ends"],
                ["part.on-stick", "part.stick-several", "part.off-stick", "part.off-strip"],
            )
        ]
        # Off a stick a part is only sawn as what is cut apart.
        off = {each for figure in ("part.sawn-off", "part.next-end") for each in said.where.get(figure, ())}
        # What is said of pairs is not said of plain ends, nor the other way round.
        ends = [set(said.where.get(figure, ())) for figure in ("part.pair-ends", "part.plain-ends")]
        # What is rolled up in tape has no cramps on.
        pressed = [set(said.where.get(figure, ())) for figure in ("joint.cramps", "joint.rolled-up")]
        # What a partner holds does not fall.
        waste = [set(said.where.get(figure, ())) for figure in ("waste.wide", "waste.narrow")]
        most = max(
            len({*said.card, *first} - other - either - by - hangs - (off if kind != "separate" or number else set()))
            for kind, first in (*said.first_for.items(), ("", ()))
            for number, other in enumerate(elsewhere)
            for either in ends
            for by in pressed
            for hangs in waste
        )
        waiting = (operation.who.operator or station.who.operator) == "nobody"
        assert (1 if waiting else 2) <= len((*said.card, *said.card_after)), name
        assert most <= (2 if waiting else 5), name


def test_the_short_form_says_nothing_that_the_card_says_elsewhere(
    knowledge: Knowledge, by_students: list[tuple[StationKind, str, Operation]]
) -> None:
    for station, name, operation in by_students:
        held = [knowledge.holding[each].line for each in (*operation.holding.all_of, *operation.holding.any_of)]
        # The guard line leaves out the extraction, so that a card may say it.
        guards = {*operation.guards.all_of, *operation.guards.any_of} - {"dust-extraction"}
        guarded = [knowledge.guards[each].line for each in sorted(guards)]
        warned = [knowledge.hazards[each].student for each in (*operation.hazards, *station.hazards)]
        worn = [knowledge.wear[each].line for each in (*operation.wear, *station.wear)]
        elsewhere = [*held, *guarded, *warned, *worn, station.hands, operation.stop]
        elsewhere += [sentence for sentences in operation.instructions.first_for.values() for sentence in sentences]
        for sentence in operation.instructions.card:
            for line in elsewhere:
                assert content_words(sentence) - content_words(line), f"{name}: '{sentence}' is said by '{line}'"


def test_every_saw_but_no_knife_is_warned_of_as_a_saw(knowledge: Knowledge) -> None:
    for name, operation in knowledge.stations["hand-sawing"].operations.items():
        sawn = any("saw" in tool for tool in operation.tools)
        assert ("hand-saw-cut" in operation.hazards) == sawn, name
        assert sawn or "edge-tool-cut" in operation.hazards, name


def test_a_trimming_knife_runs_along_a_cramped_straight_edge_that_staff_have_seen(knowledge: Knowledge) -> None:
    operation = knowledge.stations["hand-sawing"].operations["trim-thin-sheet-by-hand"]
    card = " ".join(operation.instructions.card)
    for said in ("cutting board", "steel straight edge at both ends, waste outside", "free hand away", "trimming knife"):
        assert said in card
    assert "bench-cramp" in operation.holding.all_of
    assert "before the first cut" in operation.stop


# A cut needs its line first, and a hold before the saw; the second end is measured from the first, which is sawn by then.
def test_each_end_is_marked_held_and_sawn_before_the_next_is_measured() -> None:
    held = {"saw-thin-sheet-end": "Cramp it flat", "saw-round-stock": "Press the rod into the V", "saw-end-on-bench-hook": ""}
    seen = set()
    for step in plan("herb-caddy").steps:
        operation = next((task.operation for task in plan("herb-caddy").tasks if task.id in step.tasks), "")
        if operation not in held or "cut to length" not in step.title:
            continue
        for said, full in ((step.instructions, False), (step.method, True)):
            line = [n for n, each in enumerate(said) if each.startswith(("Square a knife line", "Draw the line round there"))]
            sawn = [n for n, each in enumerate(said) if "saw" in each.lower().replace("the saw is", "") and "Keep" not in each]
            (again,) = [n for n, each in enumerate(said) if each == "Saw it there, held in the same way."]
            measured = next(n for n, each in enumerate(said) if each.startswith("Measure"))
            hold = held[operation] if not full or operation != "saw-thin-sheet-end" else "Cramp a batten along the line"
            if hold or full:
                holds = next(n for n, each in enumerate(said) if each.startswith(hold or "Press the piece against the stop"))
                assert line[0] < holds < sawn[0] < measured, said
            assert line[0] < min(sawn) < measured < line[1] < again, said
        seen.add(operation)
    assert seen == {*held}


@pytest.mark.parametrize("kind", ["rough-length", "first-end", "length", "separate"])
def test_a_rod_is_measured_and_lined_round_before_it_is_sawn_and_turned_in_a_hold_that_lets_it(
    knowledge: Knowledge, kind: str
) -> None:
    said = knowledge.stations["hand-sawing"].operations["saw-round-stock"].instructions
    for whole in ((*said.first_for[kind], *said.card), (*said.first_for[kind], *said.set, *said.hold, *said.cut)):
        (line,) = [n for n, each in enumerate(whole) if each.startswith("Draw the line")]
        sawn = min(n for n, each in enumerate(whole) if each.startswith("Saw"))
        held = next(n for n, each in enumerate(whole) if each.startswith("Press the rod into the V"))
        assert 0 < line < held < sawn
    assert said.cut.index("Turn the rod a little, your hold eased.") > said.cut.index("Lift the saw out of the cut.")


# Fingers beside or under the blade are cut: a strip narrower than a hand's width falls. Common practice, no source.
@pytest.mark.parametrize(
    ("kind", "length", "width", "held"),
    [
        ("first-end", 325, 175, False),
        ("length", 325, 175, False),
        ("length", 450, 175, True),
        ("width", 325, 175, False),
        ("width", 325, 270, True),
        ("width", 325, 269, False),
    ],
)
def test_a_partner_holds_only_what_is_wide_enough_to_be_held_clear(kind: str, length: float, width: float, held: bool) -> None:
    piece = Workpiece(length, width, 6, waste=length - 300)
    figures = free_waste(kind, {"part.length": 300.0, "part.width": 170.0}, piece, 25.0, 100.0)
    assert (figures["waste.wide"], figures["waste.narrow"]) == (float(held), float(not held))


# A sheet of which a narrow rest hangs free is as good as a narrow strip.
def test_of_a_blank_the_narrower_side_of_each_cut_counts() -> None:
    for long, wide, held in ((1220, 610, True), (390, 610, False), (1220, 250, False)):
        piece = Workpiece(long, wide, 6, waste=long - 300, sawn_length=300, sawn_width=170)
        assert free_waste("rough-length", {}, piece, 25.0, 100.0)["waste.wide"] == float(held), (long, wide)


def test_no_card_has_a_partner_hold_a_narrow_strip_of_the_thin_sheet_of_the_caddy() -> None:
    steps = [step for step in plan("herb-caddy").steps if "floor (D)" in step.title]
    sawn = [step for step in steps if step.title.startswith(("Bring to width", "Square the first end"))]
    assert len(sawn) == 2
    for step in sawn:
        assert "Let narrow waste fall: nobody holds it." in step.instructions
        assert "Keep all hands from under and behind the cut." in step.method
        assert not [each for each in (*step.instructions, *step.method) if "partner" in each]


def test_what_to_do_if_it_went_wrong_says_more_than_stop(knowledge: Knowledge) -> None:
    for station in knowledge.stations.values():
        for name, operation in station.operations.items():
            assert len(operation.if_wrong.split(". ")[0].split()) > 2, name


def test_nobody_is_told_to_feel_for_splinters_or_wet_finish(knowledge: Knowledge) -> None:
    for station in knowledge.stations.values():
        for name, operation in station.operations.items():
            said = " ".join((*operation.instructions.check, *(f"{check.how} {check.limit}" for check in operation.checks)))
            assert "fingertip" not in said, name
            assert "clean finger" not in said, name
            assert "Rub a finger" not in said, name


def test_a_cramp_has_one_name_among_the_tools(knowledge: Knowledge) -> None:
    tools = {tool for station in knowledge.stations.values() for each in station.operations.values() for tool in each.tools}
    assert {tool for tool in tools if "cramp" in tool} == {"bench cramp", "sash cramp", "band cramp"}
