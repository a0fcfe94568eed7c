"""The machine stations: what must be fitted, who may use them, and which cuts are refused. Walks every operation."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS, STAFF_DECIDE, Request
from sequencer.model.quantities import QUANTITIES

KNOWLEDGE = load_knowledge()
POWERED = {name: station for name, station in KNOWLEDGE.stations.items() if station.power in ("machine", "powered-hand")}
OPERATIONS = [
    pytest.param(station, operation, id=f"{kind}-{name}")
    for kind, station in POWERED.items()
    for name, operation in station.operations.items()
]


def names(operation: Operation) -> set[str]:
    return {*operation.guards.all_of, *operation.guards.any_of, *operation.holding.all_of, *operation.holding.any_of}


@pytest.mark.parametrize(("station", "operation"), OPERATIONS)
def test_every_machine_cut_needs_a_guard_or_holding(station: StationKind, operation: Operation) -> None:
    assert names(operation), "a missing guard would change nothing"
    if station.power == "machine":
        assert operation.guards.all_of
    assert {*operation.guards.all_of, *operation.guards.any_of, *operation.guards_off} <= set(station.guards)
    assert "eye-protection" in {*station.wear, *operation.wear}


@pytest.mark.parametrize(("station", "operation"), OPERATIONS)
def test_every_machine_asks_how_short_the_piece_is_and_says_what_to_do_if_it_went_wrong(
    station: StationKind, operation: Operation
) -> None:
    assert any(limit.of == "blank.length" and "station.shortest" in limit.at_least for limit in operation.limits)
    for part in ("set", "hold", "guard", "cut", "check"):
        assert getattr(operation.instructions, part), part
    assert operation.checks
    assert operation.minutes.each > 0


STAFF_MACHINES = [
    *("saw-bench", "surface-planer", "thicknesser", "router-table", "mitre-saw", "band-saw", "pull-over-saw"),
    "portable-circular-saw",
    *("spindle-moulder", "hand-held-router"),
]


@pytest.mark.parametrize("kind", STAFF_MACHINES)
def test_dangerous_machines_are_for_staff_and_stay_supervised_if_a_school_loosens_that(kind: str) -> None:
    who = KNOWLEDGE.stations[kind].who
    assert (who.operator, who.supervision, who.gate) == ("staff", "beside", "signed-off")
    assert all(operation.who.operator in (None, "staff") for operation in KNOWLEDGE.stations[kind].operations.values())


@pytest.mark.parametrize(
    "kind",
    [
        "pillar-drill",
        "disc-sander",
        "scroll-saw",
        "cordless-drill",
        "hollow-chisel-mortiser",
        "belt-sander",
        "bobbin-sander",
        "hand-held-sanders",
        "lathe",
        "mains-drill",
        "laser-cutter",
    ],
)
def test_students_at_machines_are_signed_off_and_watched(kind: str) -> None:
    who = KNOWLEDGE.stations[kind].who
    assert who.operator == "student"
    assert who.gate == "signed-off"
    assert who.supervision in ("watching", "beside")
    assert KNOWLEDGE.stations[kind].hands


@pytest.mark.parametrize("name", ["groove-on-saw", "rebate-on-saw"])
def test_a_cut_without_the_crown_guard_has_its_substitutes(name: str) -> None:
    operation = KNOWLEDGE.stations["saw-bench"].operations[name]
    # EN 1870-1 as quoted: the tool is covered from above while grooving; WAC 296-307-18512: guards back at once.
    assert operation.guards_off == ("crown-guard",)
    assert {"tunnel-guard", "pressure-pads", "riving-knife"} <= set(operation.guards.all_of)
    assert operation.who.operator == "staff"
    assert operation.in_the_long == "always"
    assert any(limit.of == "feature.stopped" and limit.at_most == "0" for limit in operation.applies)
    assert "unguarded-cut" in operation.hazards


def test_no_other_operation_takes_a_guard_off() -> None:
    off = {
        name for station in KNOWLEDGE.stations.values() for name, operation in station.operations.items() if operation.guards_off
    }
    assert off == {"groove-on-saw", "rebate-on-saw"}


def test_ripping_needs_knife_hood_and_push_stick() -> None:
    operation = KNOWLEDGE.stations["saw-bench"].operations["rip-on-saw"]
    # 29 CFR 1910.213(c) as restated: hood and spreader; HSE WIS16 as quoted: push stick.
    assert {"crown-guard", "riving-knife", "push-stick"} <= set(operation.guards.all_of)


def test_sanding_is_on_the_downward_side_and_spoils_edge_tools() -> None:
    # OSHA woodworking eTool, sanders.
    for operation in KNOWLEDGE.stations["disc-sander"].operations.values():
        assert "downward" in operation.feed
        assert operation.spoils_edge_tools


@pytest.mark.parametrize("kind", ["router-table", "spindle-moulder"])
def test_router_and_moulder_feed_from_right_to_left(kind: str) -> None:
    for operation in KNOWLEDGE.stations[kind].operations.values():
        assert operation.feed.startswith("From right to left")
        assert "fence behind the cutter" in operation.feed


def test_a_spindle_moulder_never_cuts_without_fence_cover_block_and_something_over_the_cutter() -> None:
    # HSE WIS18 rev 2: false fence, pressure pads, chip-limited tooling; stopped work only with backstops and jigs.
    for name, operation in KNOWLEDGE.stations["spindle-moulder"].operations.items():
        asked = {"false-fence", "cutter-cover", "limited-cutter-block", "push-block", "dust-extraction"}
        assert set(operation.guards.all_of) == asked, name
        assert set(operation.guards.any_of) == {"power-feed", "pressure-pads"}, name
        assert not operation.guards_off, name
        stops = {(limit.of, limit.at_most) for limit in operation.applies} & {
            ("feature.stopped", "0"),
            ("feature.end-grain", "0"),
        }
        assert stops, name


def test_a_held_router_is_never_freehand_and_its_work_is_cramped() -> None:
    # Victorian list of restricted plant: a plunge router without guide or template.
    for name, operation in KNOWLEDGE.stations["hand-held-router"].operations.items():
        guides = {"edge-guide", "guide-bearing", "guide-bush", "square-batten"} & {
            *operation.guards.all_of,
            *operation.holding.all_of,
        }
        assert len(guides) == 1, name
        assert ("guide-bush" in guides) == (operation.jig == "recess-template"), name
        assert "bench-cramp" in operation.holding.all_of, name
        assert {"plunge-return", "trip-switch", "dust-extraction"} <= set(operation.guards.all_of), name
        assert operation.feed.startswith("From left to right"), name
        assert "Hold the router with both hands." in operation.instructions.cut, name
        assert "Unplug the router." in operation.instructions.set, name


def test_a_blind_hole_leaves_the_point_and_a_through_hole_has_a_backing_board() -> None:
    drill = KNOWLEDGE.stations["pillar-drill"].operations
    assert drill["drill-blind-hole"].leaves == ("drill point",)
    assert "backing-board" in drill["drill-through-hole"].holding.all_of
    assert all("chuck-guard" in operation.guards.all_of for operation in drill.values())


@pytest.mark.parametrize(
    ("kind", "figure", "value"),
    [
        ("saw-bench", "shortest", 300),  # HSE WIS16 as quoted: push stick below 300 mm
        ("saw-bench", "narrowest", 50),  # published saw manual text: push block below 50 mm
        ("surface-planer", "shortest", 300),  # HSE surface planer page
        ("surface-planer", "narrowest", 25),  # University of Tennessee shop rules
    ],
)
def test_published_smallest_sizes(kind: str, figure: str, value: float) -> None:
    assert KNOWLEDGE.stations[kind].figures[figure].default == value


def test_saw_noise_is_the_published_upper_figure() -> None:
    noise = KNOWLEDGE.stations["saw-bench"].noise
    assert noise is not None
    assert noise.default == 102  # HSE woodworking noise page: circular saw 97 to 102 dB(A)


def known_for(operation: Operation, station: StationKind) -> dict[str, float]:
    """Every quantity there is but those of stations this one does not declare."""
    declared = {f"station.{name}" for name in station.figures}
    return {name: 12.0 for name in QUANTITIES if not name.startswith("station.") or name in declared} | {
        "feature.gauge": 8.0, "feature.diameter": 4.5, "station.kerf": 3.0, "station.sole": 5.0,
        "station.cutter-diameter": 125.0, "finish.paper": 180.0,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("station", "operation"),
    [
        pytest.param(station, operation, id=f"{kind}-{name}")
        for kind, station in KNOWLEDGE.stations.items()
        for name, operation in station.operations.items()
    ],
)
def test_settings_come_out_for_every_operation_once_its_figures_are_known(station: StationKind, operation: Operation) -> None:
    request = Request(
        known_for(operation, station), operation.use, (500.0, 1500.0, 7500.0), "softwood", None,
        KNOWLEDGE.screws, KNOWLEDGE.drill_bits, KNOWLEDGE.cutter_speeds, KNOWLEDGE.abrasives,
    )  # fmt: skip
    for setting in SETTINGS[operation.settings].work(request):
        assert setting.text != STAFF_DECIDE, setting.name


@pytest.mark.parametrize("station", KNOWLEDGE.stations.values(), ids=KNOWLEDGE.stations.keys())
def test_what_a_hazard_forbids_leaves_what_the_operation_needs(station: StationKind) -> None:
    """The stricter meaning wins: a thing that is forbidden and asked for is not worn, and never eye protection."""
    for name, operation in station.operations.items():
        forbidden = {each for hazard in operation.hazards for each in KNOWLEDGE.hazards[hazard].forbids}
        asked = {*station.wear, *operation.wear}
        assert forbidden <= {"gloves", "loose-clothing", "jewellery"}, name
        assert not asked & forbidden, name


def knowledge_sources(knowledge: Knowledge) -> list[str]:
    found: list[str] = []
    for station in knowledge.stations.values():
        found += station.sources
        found += [figure.source for figure in station.figures.values()]
        for operation in station.operations.values():
            found += [*operation.sources, operation.minutes.source, *(limit.source for limit in operation.limits)]
    return found


def test_nothing_is_without_a_source() -> None:
    assert all(source.strip() for source in knowledge_sources(KNOWLEDGE))


def test_the_riving_knife_fits_the_blade_at_every_cut_of_the_saw_bench() -> None:
    # EN 1870-1:2007+A1:2009 as quoted: plate + 0.2 mm at least, less than the kerf.
    for name, operation in KNOWLEDGE.stations["saw-bench"].operations.items():
        asked = {(limit.at_least or limit.less_than) for limit in operation.limits if limit.of == "station.knife"}
        assert asked == {"station.plate + 0.2", "station.kerf"}, name


def test_at_the_pillar_drill_nothing_is_held_by_a_fence_alone_and_no_bit_is_changed() -> None:
    # Common practice: a drill vice for what fits between its jaws, a clamp for what does not and for a rod in its V-block.
    for name, operation in KNOWLEDGE.stations["pillar-drill"].operations.items():
        clamped = name.endswith("-on-wide-board") or "v-block" in operation.holding.all_of
        firm = {"machine-clamp"} if clamped else {"drill-vice"}
        assert set(operation.holding.all_of) & {"machine-clamp", "drill-vice"} == firm, name
        assert not operation.holding.any_of, name
        said = " ".join((*operation.instructions.card, *operation.instructions.cut))
        assert "change" not in said.lower(), name


def test_a_rebate_cutter_reaches_from_the_false_fence_past_the_rebate() -> None:
    # Common practice: the rebate's width shows, 4 mm stay inside the fence, no cutter under 12 mm.
    operation = KNOWLEDGE.stations["router-table"].operations["rout-rebate"]
    for width, cutter in ((6.0, 12), (8.0, 12), (10.0, 14)):
        figures = {"feature.width": width, "feature.depth": 6.0}
        request = Request(figures, operation.use, cutter_speeds=KNOWLEDGE.cutter_speeds)
        found = {setting.name: setting.value for setting in SETTINGS[operation.settings].work(request)}
        assert (found["cutter"], found["fence"]) == (cutter, width)


def test_no_end_is_shaped_along_the_router_table_s_fence() -> None:
    for name in ("rout-chamfer", "rout-round-over"):
        applies = KNOWLEDGE.stations["router-table"].operations[name].applies
        assert any(limit.of == "feature.end-grain" and limit.at_most == "0" for limit in applies), name
    for name in ("rout-groove", "rout-rebate"):
        applies = KNOWLEDGE.stations["router-table"].operations[name].applies
        assert any(limit.of == "feature.along-grain" and limit.at_least == "1" for limit in applies), name


def test_every_bit_of_a_cordless_drill_is_changed_with_the_battery_out() -> None:
    for name, operation in KNOWLEDGE.stations["cordless-drill"].operations.items():
        for said in (operation.instructions.card, operation.instructions.cut):
            for before, sentence in zip(("", *said), said, strict=False):
                if sentence.startswith("Change to"):
                    assert before == "Take the battery out before you change the bit.", name


def test_a_cordless_drill_is_told_one_speed() -> None:
    """The gear and a speed in rev/min are two answers to one question."""
    for name, operation in KNOWLEDGE.stations["cordless-drill"].operations.items():
        slow = any("slow gear" in line for line in operation.instructions.set)
        assert slow is not ("speed" in SETTINGS[operation.settings].gives), name
        assert slow or any("{setting.speed}" in line for line in operation.instructions.set), name


@pytest.mark.parametrize("station", ["router-table", "spindle-moulder", "surface-planer"])
def test_a_push_block_that_is_asked_for_is_used(station: str) -> None:
    for name, operation in KNOWLEDGE.stations[station].operations.items():
        if "push-block" in operation.guards.all_of:
            said = (*operation.instructions.hold, *operation.instructions.guard, *operation.instructions.cut)
            assert any("push block" in line for line in said), name


def test_staff_restore_the_power_only_after_the_guards_are_on_and_checked() -> None:
    """The hand that checks a guard comes near the cutter, so it comes there before the power does."""
    last = KNOWLEDGE.staff_steps["set-up"].last
    said = ("Put on every guard", "Check every guard", "Restore the power", "Try the setting", "Measure", "Isolate the machine")
    assert [line.startswith(start) for line, start in zip(last, said, strict=True)] == [True] * 6


def test_students_are_called_back_only_where_they_work_next() -> None:
    last_for = KNOWLEDGE.staff_steps["set-up"].last_for
    assert [who for who, said in last_for.items() if any("Call back" in line for line in said)] == ["student"]
    assert last_for["staff"][0] == "Keep students out until the machine is isolated again."


def test_nothing_is_cut_while_a_machine_is_set() -> None:
    """Staff set a machine isolated and its guards come on after that: no sentence of a set-up may ask for a cut."""
    for station, kind in KNOWLEDGE.stations.items():
        if kind.power != "machine" or kind.set_up_by != "staff":
            continue
        for name, operation in kind.operations.items():
            for line in operation.instructions.set:
                assert not re.search(
                    r"^(Cut (?!the false fence)|Try|Test|Switch|Feed)|test piece|test square|waste wood", line
                ), (
                    station,
                    name,
                    line,
                )


def test_the_clamp_of_a_mitre_saw_has_its_side_of_the_blade() -> None:
    for name, operation in KNOWLEDGE.stations["mitre-saw"].operations.items():
        said = operation.instructions
        card = " ".join((*said.card, *(each for sentences in said.first_for.values() for each in sentences)))
        whole = " ".join(said.hold)
        side = "between stop and blade" if "stop-block" in operation.holding.all_of else "the part you keep"
        if "clearance-block" in operation.holding.all_of:
            side = "the long piece"  # the short one lies free
        assert side in card, name
        assert side in whole, name


def test_a_combined_bit_is_called_so_where_it_countersinks() -> None:
    for name, operation in KNOWLEDGE.stations["pillar-drill"].operations.items():
        if operation.use.get("bit") == "drill-countersink" and "screw-holes" in operation.makes:
            assert "combined drill and countersink bit" in " ".join(operation.instructions.card), name
            assert any("flush" in each for each in operation.instructions.check), name


def test_a_pull_over_saw_only_crosscuts_and_cannot_run_at_anyone() -> None:
    station = KNOWLEDGE.stations["pull-over-saw"]
    assert {kind for operation in station.operations.values() for kind in operation.makes} == {
        "rough-length", "first-end", "length", "separate",
    }  # fmt: skip
    for name, operation in station.operations.items():
        assert {"stroke-stop", "head-return", "blade-enclosure", "self-closing-guard"} <= set(operation.guards.all_of), name
        assert "machine-clamp" in operation.holding.all_of, name
        # HSE crosscut page: the saw is guided back; common practice: a negative hook keeps the blade from climbing.
        assert "Guide the saw back behind the fence." in operation.instructions.card, name
        assert "Guide the saw back behind the fence." in operation.instructions.cut, name
        assert "Fit a crosscut blade with negative hook." in operation.instructions.set, name


RUNS = re.compile(r"Switch on(?! the dust)|Start|Feed|Guide|Push|Pull|Saw|Try the cut|Clear the middle|Cut a (slot|mortise)")
STANDS = re.compile(r"stands? still|ha(s|ve) stopped")
ISOLATED = re.compile(r"Isolate|Unplug|Take the battery out")
BESIDE = r"(?<!without a )\b(fence|guide|stop|packing|batten|spindle|pin)\b"
SHIFTS = re.compile(rf"(Move|Set|Put|Use|Raise|Shift|Place|Cramp)\b.*{BESIDE}|Raise the cutter|Take .*packing")


@pytest.mark.parametrize(("station", "operation"), OPERATIONS)
def test_nothing_is_moved_beside_a_cutter_that_turns(station: StationKind, operation: Operation) -> None:
    """A fence, a stop, packing or a batten moves before the machine runs, or after it stands still and is isolated."""
    said = operation.instructions
    turns = still = False
    for sentence in (*said.set, *said.hold, *said.guard, *said.cut):
        if RUNS.match(sentence):
            turns, still = True, False
        elif STANDS.search(sentence):
            still = True
        elif ISOLATED.match(sentence):
            turns = turns and not still
        elif SHIFTS.match(sentence):
            assert not turns, sentence
    cards = [
        said.card[number - 1] for number, sentence in enumerate(said.card) if SHIFTS.match(sentence) and sentence[:4] == "Move"
    ]
    assert all(ISOLATED.match(before) for before in cards), "a card moves a fence or batten beside what may turn"


BAND_SAW = KNOWLEDGE.stations["band-saw"].operations
STOPPED_CUTS = [name for name, operation in BAND_SAW.items() if "stop-block" in operation.holding.all_of]


@pytest.mark.parametrize("name", STOPPED_CUTS)
def test_wood_leaves_a_stopped_band_saw_cut_only_when_the_blade_stands_still(name: str) -> None:
    """A cut to a stop block ends inside the wood: drawn back over a running blade, the wood pulls the blade off its wheels."""
    said = BAND_SAW[name].instructions
    ends = [at for at, sentence in enumerate(said.cut) if re.match("Saw .* stop[.]", sentence)]
    assert ends
    for at in ends:
        assert said.cut[at + 1 : at + 3] == ("Switch off before you draw the wood back.", "Wait until the blade stands still.")
    on_card = [at for at, sentence in enumerate(said.card) if re.match("Saw .* stop[.]", sentence)]
    assert [said.card[at + 1] for at in on_card] == ["Switch off before you draw the wood back."] * len(on_card)


def test_all_of_the_stopped_cuts_of_the_band_saw_are_seen() -> None:
    assert {"saw-cheeks-on-band-saw", "saw-end-halving-on-band-saw", "saw-bridle-on-band-saw"} <= set(STOPPED_CUTS)


@pytest.mark.parametrize("name", list(KNOWLEDGE.stations["lathe"].operations))
def test_nothing_is_measured_on_turning_wood(name: str) -> None:
    said = KNOWLEDGE.stations["lathe"].operations[name].instructions
    tried = [at for at, sentence in enumerate(said.cut) if "callipers" in sentence]
    assert tried
    assert said.cut[tried[0]] == "Stop the lathe before you try the callipers."
    assert said.cut[tried[0] + 1] == "Wait until the wood stands still."
    assert all(sentence.startswith("Stop the lathe") for sentence in said.card if "callipers" in sentence)
    assert any("callipers" in sentence for sentence in said.card)


@pytest.mark.parametrize(("station", "operation"), OPERATIONS)
def test_a_mask_is_worn_where_a_machine_sands(station: StationKind, operation: Operation) -> None:
    sands = any(re.search(r"\bsand\b|\babrasive\b", each) for each in (*operation.instructions.cut, *operation.tools))
    if sands and station.power == "machine":
        assert "dust-mask" in operation.wear


@pytest.mark.parametrize("kind", ["pillar-drill", "hollow-chisel-mortiser"])
def test_every_cut_from_above_asks_how_high_the_piece_stands(kind: str) -> None:
    for name, operation in KNOWLEDGE.stations[kind].operations.items():
        assert any(limit.of == "blank.standing" and limit.at_most == "station.thickest" for limit in operation.limits), name


def test_upright_wood_in_the_drill_vice_stands_against_a_block_and_wide_boards_lie_flat() -> None:
    for name, operation in KNOWLEDGE.stations["pillar-drill"].operations.items():
        if "drill-vice" in operation.holding.all_of:
            (sentence,) = operation.instructions.where["blank.upright"]
            assert sentence in operation.instructions.hold, name
        else:
            assert any(limit.of == "blank.standing" and limit.at_most == "blank.thickness" for limit in operation.applies), name


def test_two_cutters_of_one_housing_are_two_full_set_ups() -> None:
    """Fence, pads, cage and test piece for each cutter, the machine isolated in between, and no cut before its guards are on."""
    said = KNOWLEDGE.stations["router-table"].operations["rout-dovetail-housing"].instructions
    assert not any(RUNS.match(sentence) for sentence in said.set)
    change = next(at for at, sentence in enumerate(said.cut) if sentence.startswith("Fit the second cutter"))
    assert said.cut[change - 1] == "Isolate the machine."
    again = said.cut[change:]
    for one in ("Set the fence", "Set the pressure pads", "Close the cage", "Restore the power", "Try the cut on a test piece"):
        (at,) = (number for number, sentence in enumerate(again) if sentence.startswith(one))
        assert at < again.index("Feed from right to left, right through.")
    both = [*said.cut[:change]], [*again]
    assert all(any("{setting.shift}" in sentence for sentence in cuts) for cuts in both)
    assert any("{setting.clearing}" in sentence for sentence in both[0])


def test_the_walk_sees_a_fence_moved_with_the_cutter_running() -> None:
    operation = KNOWLEDGE.stations["spindle-moulder"].operations["mould-rebate"]
    cut = tuple(sentence for sentence in operation.instructions.cut if not sentence.startswith("Isolate"))
    careless = replace(operation, instructions=replace(operation.instructions, cut=cut))
    with pytest.raises(AssertionError, match="Move the fence"):
        test_nothing_is_moved_beside_a_cutter_that_turns(KNOWLEDGE.stations["spindle-moulder"], careless)


def test_the_router_is_unplugged_before_fingers_chisel_beside_it() -> None:
    found = 0
    for name, operation in KNOWLEDGE.stations["hand-held-router"].operations.items():
        said = operation.instructions.cut
        for before, sentence in pairwise(said):
            if sentence.startswith("Chisel"):
                found += 1
                assert before == "Unplug the router.", name
    assert found >= 2


def test_every_sheet_under_a_held_circular_saw_is_cramped_and_the_blade_runs_free() -> None:
    for name, operation in KNOWLEDGE.stations["portable-circular-saw"].operations.items():
        said = operation.instructions.hold
        assert "Check that the blade runs between the boards." in said, name
        assert any(re.match(r"Cramp the batten and the (sheet|board) at both ends", each) for each in said), name


def test_thin_wood_under_a_student_s_jigsaw_is_carried_on_both_sides() -> None:
    operation = KNOWLEDGE.stations["jigsaw"].operations["saw-thin-curve-by-jigsaw"]
    assert {"bench-cramp", "sheet-support"} <= set(operation.holding.all_of)


def test_wood_for_the_spindle_moulder_is_looked_over_for_what_the_cutter_could_catch() -> None:
    assert "Check the wood for knots, splits and nails." in KNOWLEDGE.stations["spindle-moulder"].before_starting


BY_HAND = "Keep both hands on the wood."
ROOM = 20.0
"""Wood between two hands at least, mm: less cannot be held. Common practice."""


def test_the_smallest_piece_held_by_hand_keeps_both_hands_as_far_away_as_the_card_says() -> None:
    found = set()
    for name, station in POWERED.items():
        clear = re.search(r"at least (\d+) mm from the", station.hands)
        if not station.hands.startswith(BY_HAND) or clear is None:
            continue
        found.add(name)
        shortest = station.figures["shortest"].default
        assert shortest is not None
        assert shortest >= 2 * float(clear[1]) + ROOM, name
        for figure, word in (("shortest", "long"), ("narrowest", "wide"), ("thinnest", "thick")):
            assert f"{station.figures[figure].default:g} mm {word}" in station.smallest, name
        assert station.who.supervision == "beside", name
        assert any(limit.of == "blank.thickness" and limit.at_least == "station.thinnest" for limit in station.limits), name
    assert found == {"disc-sander", "belt-sander", "bobbin-sander"}


@pytest.mark.parametrize("name", ["cut-short-piece-on-mitre-saw", "cut-short-parts-off-on-mitre-saw"])
def test_a_short_piece_at_the_mitre_saw_is_not_too_short_and_has_a_closed_fence_behind_it(name: str) -> None:
    operation = KNOWLEDGE.stations["mitre-saw"].operations[name]
    assert [limit.at_least for limit in operation.limits if limit.of == "part.length"] == ["40"]
    assert "false-fence" in operation.guards.all_of
    assert "Check that the false fence closes the gap at the blade." in operation.instructions.guard


def test_every_operation_of_a_machine_asks_for_the_least_sizes_the_proof_holds_a_piece_to() -> None:
    silent = [
        (kind.station, name, figure)
        for kind in KNOWLEDGE.stations.values()
        if kind.power == "machine"
        for name, operation in kind.operations.items()
        for figure in ("shortest", "narrowest", "thinnest")
        if figure in kind.figures and not any(f"station.{figure}" in limit.at_least for limit in operation.limits)
    ]
    assert silent == []
    lacking = [kind.station for kind in KNOWLEDGE.stations.values() if not {"shortest", "narrowest"} <= set(kind.figures)]
    assert [name for name in lacking if KNOWLEDGE.stations[name].power == "machine"] == []


def test_what_the_scroll_saw_cut_is_filed_in_a_vice_away_from_the_machine() -> None:
    for operation in KNOWLEDGE.stations["scroll-saw"].operations.values():
        away = ["Switch off before you lift the wood.", "Leave the machine.", "Grip the wood in the vice.", "File to the line."]
        assert list(operation.instructions.card[-4:]) == away
        assert list(operation.instructions.cut[-4:]) == away
