"""What a job file becomes."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.features import Feature
from sequencer.model.frame import FaceName
from sequencer.model.job import Allowance, Decision, Finish, Hardware, Joint, Seat
from sequencer.model.shapes import bounds_of
from sequencer.reading.job import job_of, read_job
from sequencer.reading.parts import letter
from sequencer.reading.tree import parse_tree

from .files import JOB, changed, job, job_errors

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def feature(text: str, part: str, name: str) -> Feature:
    return job(text).parts[part].features[name]


def joint(text: str, name: str) -> Joint:
    return job(text).joints[name]


def with_part(text: str, part: str) -> str:
    return changed(text, ("joints:", f"{part}\njoints:"))


def test_sizes_parts_and_stock() -> None:
    made = job(JOB)
    assert made.name == "Box"
    assert made.sizes == {"long": 320, "board": 15}
    side, lid = made.parts["side"], made.parts["lid"]
    assert (side.length, side.width, side.thickness) == (320, 90, 15)
    assert (lid.length, lid.width, lid.thickness) == (320, 190, 6)
    assert [part.letter for part in made.parts.values()] == ["A", "B", "C"]
    assert list(made.pieces()) == ["side.left", "side.right", "end.1", "end.2", "lid"]
    panel = made.stock["panel"]
    assert (panel.width, panel.lengths, panel.hardness, panel.solid) == (610, (1220,), "sheet", False)
    assert (made.file, made.units, made.moisture_change, made.aim) == ("job.yaml", "mm", 4, "most-by-students")


def test_a_feature_has_its_name_its_own_face_names_and_its_place() -> None:
    made = job(JOB)
    groove = made.parts["side"].features["floor-groove"]
    assert (groove.kind, groove.name, groove.opens()) == ("groove", "floor-groove", ("inside",))
    assert str(made.parts["side"].feature_places["floor-groove"]) == "job.yaml:14:7: parts.side.features.floor-groove"
    assert str(made.parts["side"].place) == "job.yaml:7:3: parts.side"
    assert str(made.joints["corner"].place) == "job.yaml:19:3: joints.corner"


def test_the_name_of_a_stock_is_its_thickness_unless_a_size_has_that_name() -> None:
    assert feature(JOB, "side", "floor-groove").figures(job(JOB).parts["side"].block)["feature.width"] == 6
    text = changed(JOB, ("board: 15}", "board: 15, panel: 7}"))
    assert feature(text, "side", "floor-groove").figures(job(text).parts["side"].block)["feature.width"] == 7


@pytest.mark.parametrize("word", ["on", "no", "3:30", "010", "1e3", "~", "2027-02-01", "0x1F", "null"])
def test_words_that_look_like_something_else_stay_words(word: str) -> None:
    text = changed(JOB, ("job: Box", f"job: {word}\nnote: {word}"), ("what: wood screw", f"what: {word}"))
    made = job(text)
    assert (made.name, made.note, made.hardware["screws"].what) == (word, word, word)


def test_names_that_look_like_something_else_stay_names() -> None:
    text = changed(JOB, ("sizes: {long: 320", "sizes: {on: 9, no: on + 1, long: 320"))
    assert job(text).sizes == {"on": 9, "no": 10, "long": 320, "board": 15}


def test_a_leading_zero_changes_nothing() -> None:
    assert job(changed(JOB, ("length: 160", "length: 0160"))).parts["end"].length == 160


@pytest.mark.parametrize(("word", "value"), [("yes", True), ("on", True), ("true", True), ("no", False), ("off", False)])
def test_yes_and_no_where_they_are_asked_for(word: str, value: bool) -> None:
    text = with_part(JOB, f"  back: {{count: 2, stock: plank, length: 9, handed: {word}}}")
    assert job(text).parts["back"].handed is value


def test_inches() -> None:
    text = """\
job: Shelf
units: in
sizes: {long: 12 1/2, board: 3/4}
stock: {plank: {material: pine, width: 3 1/2, thickness: board, lengths: [96]}}
parts:
  shelf:
    stock: plank
    length: long
    features:
      slope: {kind: bevel, edge: top, low: inside, angle: 45}
      rail: {kind: groove, face: inside, from: bottom, distance: 1/2, width: 6 mm, depth: board/3}
hardware: {screws: {what: wood screw, count: 4, gauge: 8, length: 1 1/4}}
joints: {}
"""
    made = job(text)
    shelf = made.parts["shelf"]
    assert (shelf.length, shelf.width, shelf.thickness) == pytest.approx((317.5, 88.9, 19.05))
    figures = shelf.features["rail"].figures(shelf.block)
    assert (figures["feature.distance"], figures["feature.width"], figures["feature.depth"]) == pytest.approx((12.7, 6, 6.35))
    assert shelf.features["slope"].figures(shelf.block)["feature.angle"] == 45  # degrees are no inches
    assert made.sizes == pytest.approx({"long": 317.5, "board": 19.05})
    assert made.hardware["screws"] == Hardware("screws", "wood screw", 4, 8, 31.75)
    assert made.units == "in"


def test_round_and_square_stock() -> None:
    text = changed(
        JOB, ("parts:", "  rod: {material: beech, form: round, diameter: 16, lengths: 1000}\n"
                        "  stick: {material: beech, form: square, width: 20}\nparts:"),
        ("joints:", "  handle: {stock: rod, length: 200}\n  peg: {stock: rod, length: 50, diameter: 12}\n"
                    "  leg: {stock: stick, length: 300}\njoints:"),
    )  # fmt: skip
    parts = job(text).parts
    assert [(parts[name].width, parts[name].thickness, parts[name].section) for name in ("handle", "peg", "leg")] == [
        (16, 16, "round"), (12, 12, "round"), (20, 20, "rectangular"),
    ]  # fmt: skip


def test_joints_name_pieces_faces_and_features() -> None:
    corner = joint(JOB, "corner")
    assert (corner.enters_piece, corner.its, corner.seat) == (
        "end.1", Seat("end.1", "left"), Seat("side.left", feature="end-housing"),
    )  # fmt: skip
    assert corner.flush == (("bottom", "bottom"),)
    assert corner.fixed == ("glue",)
    assert joint(JOB, "lid-on").seat == Seat("end.1", "top")


def test_pairs_of_faces_may_be_written_three_ways() -> None:
    text = changed(JOB, ("flush: bottom", "flush: [bottom, {outside: front}], align: {top: top}, at: {top: -2*board}"))
    corner = joint(text, "corner")
    assert corner.flush == (("bottom", "bottom"), ("outside", "inside"))
    assert (corner.align, corner.at) == ((("top", "top"),), (("top", -30),))


def test_own_names_turn_with_the_drawing_on_the_right_hand_piece() -> None:
    text = changed(JOB, ("names: {front: inside}", "names: {front: inside, foot: left}"))
    faces: dict[str, FaceName] = {"side.left": "left", "side.right": "right"}
    for piece, face in faces.items():
        moved = changed(text, ("to: end.1/top", f"to: {piece}/foot"))
        assert joint(moved, "lid-on").seat == Seat(piece, face)


def test_a_part_based_on_another() -> None:
    text = with_part(
        JOB,
        "  back:\n    based_on: side\n    change: {length: 300, features: {floor-groove: {depth: 4}}}\n    without: end-housing\n"
        "    note: not like side",
    )
    back = job(text).parts["back"]
    assert (back.length, back.count, back.handed, back.note) == (300, 2, True, "not like side")
    assert list(back.features) == ["floor-groove"]
    figures = back.features["floor-groove"].figures(back.block)
    assert (figures["feature.depth"], figures["feature.width"], figures["feature.distance"]) == (4, 6, 8)
    assert job(text).parts["side"].features["floor-groove"].figures(back.block)["feature.depth"] == 6


def test_an_error_in_a_change_is_told_where_it_was_typed() -> None:
    text = with_part(JOB, "  back: {based_on: side, change: {features: {floor-groove: {depth: 99}}}}")
    (said,) = job_errors(text)
    assert said.startswith("job.yaml:18:61: parts.back.change.features.floor-groove.depth: The groove is 99 mm deep")


def test_a_change_of_kind_replaces_the_feature() -> None:
    rebate = "{kind: rebate, edge: inside/bottom, width: 6, depth: 5}"
    text = with_part(JOB, f"  back: {{based_on: side, change: {{features: {{floor-groove: {rebate}}}}}}}")
    assert job(text).parts["back"].features["floor-groove"].kind == "rebate"


def test_parts_based_on_parts_that_come_later() -> None:
    short, shorter = "short: {based_on: shorter, change: {length: 90}}", "shorter: {based_on: end, change: {length: 80}}"
    text = changed(JOB, ("parts:", f"parts:\n  {short}\n  {shorter}"))
    parts = job(text).parts
    assert [(part.name, part.letter, part.length) for part in parts.values()][:2] == [("short", "A", 90), ("shorter", "B", 80)]
    assert parts["short"].count == 2


CROSS = """\
job: Cross
stock: {strip: {material: pine, width: 40, thickness: 20}}
parts:
  foot: {stock: strip, length: 200}
  arm: {count: 2, stock: strip, length: 240}
crossings:
  middle: {under: foot, over: arm.1, fixed: dry}
"""


def test_a_flat_crossing_halves_both_parts_in_their_broad_faces() -> None:
    made = job(CROSS)
    under, over = made.parts["foot"].features["middle"], made.parts["arm"].features["middle"]
    assert (under.kind, under.opens(), over.opens()) == ("halving", ("inside",), ("outside",))
    figures = under.figures(made.parts["foot"].block)
    assert (figures["feature.distance"], figures["feature.width"], figures["feature.depth"]) == (80, 40, 10)
    assert over.figures(made.parts["arm"].block)["feature.distance"] == 100
    crossing = made.joints["middle"]
    assert (crossing.enters_piece, crossing.its, crossing.seat) == (
        "arm.1", Seat("arm.1", feature="middle"), Seat("foot", feature="middle"),
    )  # fmt: skip
    assert (crossing.crossing, crossing.fit, crossing.fixed) == (True, "lapped", ("dry",))


def test_a_crossing_on_edge_with_a_share() -> None:
    made = job(changed(CROSS, ("fixed: dry", "fixed: dry, lap: edge, share: 0.25, at: {under: 30, over: 50}")))
    under, over = made.parts["foot"].features["middle"], made.parts["arm"].features["middle"]
    assert (under.opens(), over.opens()) == (("top",), ("bottom",))
    first, second = under.figures(made.parts["foot"].block), over.figures(made.parts["arm"].block)
    assert (first["feature.depth"], second["feature.depth"]) == (10, 30)  # a quarter and the rest of 40
    assert (first["feature.distance"], second["feature.distance"], first["feature.width"]) == (30, 50, 20)


def test_crossings_alike_share_the_halving_of_a_part() -> None:
    """Both arms cross the foot; the arms have one halving, the foot two."""
    made = job(CROSS + "  second: {under: foot, over: arm.2, at: {under: 10}, fixed: dry}\n")
    assert (list(made.parts["foot"].features), list(made.parts["arm"].features)) == (["middle", "second"], ["middle"])
    assert made.joints["second"].its == Seat("arm.2", feature="middle")
    assert made.joints["second"].seat == Seat("foot", feature="second")


def test_two_pieces_of_one_part_cross() -> None:
    made = job(CROSS + "  pair: {under: arm.1, over: arm.2, at: {under: 10, over: 10}, fixed: dry}\n")
    assert list(made.parts["arm"].features) == ["middle", "pair", "pair-over"]
    assert made.joints["pair"].its == Seat("arm.2", feature="pair-over")


def test_joints_stand_in_the_order_of_the_file() -> None:
    last = "joints: {last: {part: arm.2, its: outside, to: foot/inside, fixed: glue, after: middle}}"
    assert list(job(changed(CROSS, ("crossings:", f"{last}\ncrossings:"))).joints) == ["last", "middle"]


TENON = """\
job: Key
stock: {strip: {material: beech, width: 60, thickness: 30}}
parts:
  rail:
    stock: strip
    length: 400
    features:
      key-mortise: {kind: mortise, in: key-tenon, face: inside, at: {shoulder: 20}, length: 12, width: 8}
      key-tenon: {kind: tenon, end: right, length: 60, thickness: 10}
      peg: {kind: hole, in: key-tenon, face: inside, at: [{shoulder: 10}], diameter: 6}
      slot: {kind: groove, in: key-tenon, face: bottom, from: shoulder, distance: 5, width: 4, depth: 3}
"""


@pytest.mark.parametrize(
    ("name", "nearest"),
    [
        ("key-mortise", 60 - 20),  # its near side 20 from the shoulder, the tenon 60 long
        ("slot", 60 - 5),
        ("peg", 60 - 10 + 3),  # its centre 10 from the shoulder, its rim 3 nearer
    ],
)
def test_features_measured_from_the_lines_of_another(name: str, nearest: float) -> None:
    """From the shoulder towards the end: the side nearest the shoulder is as far from the end as worked out by hand."""
    rail = job(TENON).parts["rail"]
    low, _ = bounds_of(rail.features[name].removes(rail.block)).span("x")
    assert 400 - low == pytest.approx(nearest)
    assert list(rail.features) == ["key-mortise", "key-tenon", "peg", "slot"]


def test_a_feature_that_leaves_the_one_it_is_measured_in() -> None:
    (said,) = job_errors(changed(TENON, ("shoulder: 20", "shoulder: 50")))
    assert said == (
        "job.yaml:8:70: parts.rail.features.key-mortise.at.shoulder: "
        "It reaches beyond the right face, 60 mm from the shoulder of 'key-tenon'. Correct its distance or its size."
    )


def test_what_a_part_carries_for_later() -> None:
    more = (
        "grain: width, allowance: {top: {amount: 5, until: corner}}, together: {with: [side, lid], until: lid-on}, "
        "marks: {face_side: outside, face_edge: top}, note: on"
    )
    text = changed(JOB, ("length: 160}", f"length: 160, {more}}}"))
    end = job(text).parts["end"]
    assert end.allowances == (Allowance("top", 5, "corner"),)
    assert (end.together, end.together_until, end.grain) == (("side", "lid"), "lid-on", "y")
    assert (end.face_side, end.face_edge, end.note) == ("outside", "top", "on")


def test_finish_choices_decisions_assemblies_and_overall() -> None:
    text = changed(JOB, ("hardware:\n", """\
glue: pva
finish: [{what: wax, before_glue: yes, parts: lid}, {what: oil, coats: 2}]
choices: {long: {from: 300, to: 340, note: measure}, board: {options: [12, 15]}}
assemblies: {box: [corner]}
decisions: [{about: side/floor-groove, way: plough-groove, by: Head of technology, why: it is quiet, minutes: 12.5}]
overall: {width: {from: side.left/outside, to: side.right/outside, is: long/2}}
hardware:
"""), ("fixed: screws", "fixed: [screws, glue], assembly: top, after: corner"))  # fmt: skip
    made = job(text)
    assert made.finish == (Finish("wax", 1, ("lid",), True), Finish("oil", 2))
    assert [(each.name, each.least, each.most, each.options) for each in made.choices] == [
        ("long", 300, 340, ()), ("board", None, None, (12, 15)),
    ]  # fmt: skip
    assert made.assemblies == {"box": ("corner",), "top": ("lid-on",)}
    assert (made.joints["corner"].assembly, made.joints["lid-on"].fixed) == ("box", ("screws", "glue"))
    (decision,) = made.decisions
    assert decision == Decision("side/floor-groove", "Head of technology", "it is quiet", "plough-groove", minutes=12.5,
                                place=decision.place)  # fmt: skip
    (overall,) = made.overall
    assert (overall.start, overall.stop, overall.measures) == (Seat("side.left", "outside"), Seat("side.right", "outside"), 160)


def test_a_size_nothing_uses_is_noted() -> None:
    _, notes = job_of(parse_tree(changed(JOB, ("board: 15}", "board: 15, lung: 3}")), "job.yaml"))
    assert [str(note) for note in notes] == ["job.yaml:2:31: sizes.lung: Nothing uses the size 'lung'. Use it or leave it out."]
    assert [note.level for note in notes] == ["note"]


@pytest.mark.parametrize(("number", "text"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (701, "ZZ"), (702, "AAA")])
def test_letters(number: int, text: str) -> None:
    assert letter(number) == text


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*/job.yaml")), ids=lambda path: path.parent.name)
def test_every_example_is_read_without_notes(path: Path) -> None:
    made, notes = read_job(path)
    assert notes == ()
    assert made.parts


def test_a_bare_text_is_a_task_for_those_who_have_made_all_of_it_and_a_list_says_more() -> None:
    (bare,) = job(changed(JOB, ("job: Box", "job: Box\nextension: Draw it."))).extension
    assert (bare.task, bare.after, bare.stations, bare.minutes) == ("Draw it.", "made", (), None)
    lists = "[Show it., {task: Draw it., after: side/floor-groove, stations: abrasive, lay_out: [card, a rule], minutes: 20}]"
    shown, drawn = job(changed(JOB, ("job: Box", f"job: Box\nextension: {lists}"))).extension
    assert shown.after == "made"
    assert (drawn.after, drawn.stations, drawn.lay_out) == ("side/floor-groove", ("abrasive",), ("card", "a rule"))
    assert drawn.minutes == 20
    (seated,) = job(changed(JOB, ("job: Box", "job: Box\nextension: {task: Draw it.}"))).extension
    assert (seated.after, seated.stations) == ("", ())


def test_a_decision_is_about_hardware_by_its_own_name() -> None:
    text = (EXAMPLES / "picture-frame" / "job.yaml").read_text(encoding="utf-8")
    decided = "decisions:\n  - {about: hanger, before: backing-in, by: Head, why: tried}\n"
    assert job(text + decided).decisions[-1].about == "hanger"
