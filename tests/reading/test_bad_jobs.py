"""One thing wrong with a job at a time: where it is said to be, what is wrong, what to do. The words are pinned."""

# ruff: noqa: E501 - a message stands on one line, as it is printed

from __future__ import annotations

from typing import Any

import pytest

from .files import JOB, changed, job_errors


def case(name: str, changes: list[tuple[str, str]], *expected: str) -> Any:
    return pytest.param(changes, [f"job.yaml:{text}" for text in expected], id=name)


CASES = [
    case(
        "unknown-key-near-one-there-is",
        [("job: Box", "job: Box\nfinnish: {what: oil}")],
        "2:1: finnish: 'finnish' is no key here. Did you mean 'finish'?",
    ),
    case(
        "waiting-work-after-nothing-there-is",
        [("job: Box", "job: Box\nextension:\n  - Draw it.\n  - {task: Measure it., after: sid}")],
        "4:25: extension.2.after: There is no part, joint or assembly 'sid'. Did you mean 'side'?",
    ),
    case(
        "waiting-work-with-another-key",
        [("job: Box", "job: Box\nextension: {task: Draw it., station: abrasive}")],
        "2:29: extension.station: 'station' is no key here. Did you mean 'stations'?",
    ),
    case("missing-title", [("job: Box\n", "")], "1:1: job: 'job' is missing. Add 'job:', its title."),
    case(
        "missing-key-of-a-feature",
        [(", depth: 6}", "}")],
        "14:7: parts.side.features.floor-groove.depth: 'depth' is missing. Add 'depth:', a length: a number, a fraction such as 3 1/2, a name from sizes, or a sum of them.",
    ),
    case(
        "unknown-key-of-a-feature",
        [("depth: 6}", "depht: 6}")],
        "14:90: parts.side.features.floor-groove.depht: 'depht' is no key here. Did you mean 'depth'?",
    ),
    case(
        "name-as-a-key-of-a-feature",
        [("depth: 6}", "depth: 6, name: x}")],
        "14:100: parts.side.features.floor-groove.name: 'name' is no key here. Its name is the key 'floor-groove'.",
    ),
    case(
        "unknown-kind",
        [("kind: groove", "kind: grove")],
        "14:22: parts.side.features.floor-groove.kind: 'grove' is no kind of feature. Did you mean 'groove'?",
    ),
    case(
        "feature-is-text",
        [("{kind: groove, face: front, from: bottom, distance: 8, width: panel, depth: 6}", "groove")],
        "14:7: parts.side.features.floor-groove: 'floor-groove' must be a set of keys with values. Write {kind: …} with its sizes.",
    ),
    case(
        "unknown-face",
        [("face: front", "face: frnt")],
        "14:36: parts.side.features.floor-groove.face: 'frnt' is no face of this part. Did you mean 'front'?",
    ),
    case(
        "parallel-faces",
        [("from: bottom", "from: outside")],
        "14:7: parts.side.features.floor-groove: The groove is in the inside face and measured from the outside face; those do not meet. Measure it from a face that meets the one it is cut in.",
    ),
    case(
        "wrong-type",
        [("width: panel, depth", "width: [1], depth")],
        "14:76: parts.side.features.floor-groove.width: 'width' must be a number; this is a list.",
    ),
    case(
        "unknown-size",
        [("length: long\n    names", "length: lang\n    names")],
        "11:5: parts.side.length: 'lang' is no known size. Did you mean 'long'?",
    ),
    case(
        "negative-length",
        [("length: 160", "length: -160")],
        "16:33: parts.end.length: 'length' must be more than 0; this is '-160'.",
    ),
    case("zero-length", [("length: 160", "length: 0")], "16:33: parts.end.length: 'length' must be more than 0; this is '0'."),
    case(
        "negative-by-sum",
        [("length: 160", "length: board - 160")],
        "16:33: parts.end.length: 'length' must be more than 0; this is 'board - 160', which comes to -145.",
    ),
    case(
        "negative-size",
        [("board: 15", "board: -15")],
        "2:20: sizes.board: 'board' is under zero: -15. Write a size of zero or more.",
    ),
    case(
        "loop",
        [("{long: 320, board: 15}", "{long: 320, board: b, b: c + 1, c: 2*board}")],
        "2:20: sizes.board: 'board' is worked out from itself: board -> b -> c -> board.",
    ),
    case("division-by-zero", [("long: 320", "long: 320/(board - 15)")], "2:9: sizes.long: '320/(board - 15)' divides by zero."),
    case(
        "call",
        [("long: 320", "long: \"__import__('os')\"")],
        "2:9: sizes.long: '__import__('os')' cannot be worked out: '__import__(' looks like a call; only min(...) and max(...) can be used.",
    ),
    case("reach", [("long: 320", "long: board.real")], "2:9: sizes.long: 'board.real' is no known size. Did you mean 'board'?"),
    case(
        "subscript",
        [("long: 320", "long: 'board[0]'")],
        "2:9: sizes.long: 'board[0]' cannot be worked out: '[' has no meaning in a sum.",
    ),
    case(
        "power",
        [("long: 320", "long: 9**9")],
        "2:9: sizes.long: '9**9' cannot be worked out: '**' has no meaning in a sum. Write a*a instead.",
    ),
    case(
        "decimal-comma",
        [("distance: 8", "distance: 7,5")],
        "14:75: parts.side.features.floor-groove.5: '5' is no key here. If it belongs to a decimal, write it with a point: 7.5, not 7,5.",
    ),
    case(
        "decimal-comma-in-a-size",
        [("long: 320, board: 15}", "long: '7,5', board: 15}")],
        "2:9: sizes.long: '7,5' cannot be worked out: a comma stands where none can be. Write decimals with a point: 7.5, not 7,5.",
    ),
    case(
        "dashed-fraction",
        [("long: 320", "long: 3-1/2")],
        "2:9: sizes.long: '3-1/2' cannot be worked out: '3-1/2' can mean two things. Write 3 1/2, or 3 - 1/2 for the difference.",
    ),
    case("size-is-a-list", [("long: 320", "long: [320]")], "2:9: sizes.long: 'long' must be text; this is a list."),
    case(
        "size-empty",
        [("long: 320", "long: ")],
        "2:9: sizes.long: Nothing is written for 'long'. Write a value or leave the key out.",
    ),
    case("reserved-size", [("long: 320", "min: 3, long: 320")], "2:9: sizes.min: 'min' has a meaning in sums. Use another name."),
    case(
        "bad-name",
        [("  lid:", "  Big Lid:"), ("part: lid", "part: Big Lid")],
        "17:3: parts.Big Lid: 'Big Lid' cannot be a name: names are lower-case letters and digits, with hyphens between words. Write 'big-lid'.",
    ),
    case(
        "count-zero", [("count: 2, stock", "count: 0, stock")], "16:9: parts.end.count: The count must be at least 1; this is 0."
    ),
    case(
        "count-ten-thousand",
        [("count: 2, stock", "count: 10000, stock")],
        "16:9: parts.end.count: The count is 10000; more than 200 alike parts in one thing are not planned. The count is for one finished thing, not for the class: how many are made follows from the workshop file.",
    ),
    case(
        "count-no-number",
        [("count: 2, stock", "count: two, stock")],
        "16:9: parts.end.count: 'count' must be a whole number; this is 'two'.",
    ),
    case(
        "count-with-decimals",
        [("count: 2, stock", "count: 2.5, stock")],
        "16:9: parts.end.count: 'count' must be a whole number; this is '2.5'.",
    ),
    case(
        "odd-pairs",
        [("count: 2\n    handed", "count: 3\n    handed"), ("side.left", "side.left.1")],
        "8:5: parts.side.count: The part is handed and its count is 3. Half of a handed part are left ones, half right ones. Write an even count.",
        "19:36: joints.corner.into: There is no piece 'side.left.1'. The pieces are side.left and side.right.",
    ),
    case(
        "handed", [("handed: true", "handed: perhaps")], "9:5: parts.side.handed: 'handed' must be yes or no; this is 'perhaps'."
    ),
    case(
        "far-too-long",
        [("length: 160", "length: 160000")],
        "16:33: parts.end.length: '160000' comes to 160 metres; the most is 100 metres.",
    ),
    case(
        "infinite",
        [("job: Box", "job: Box\nmoisture_change: inf")],
        "2:1: moisture_change: 'moisture_change' must be a number; this is 'inf'.",
    ),
    case(
        "not-a-number",
        [("job: Box", "job: Box\nmoisture_change: nan")],
        "2:1: moisture_change: 'moisture_change' must be a number; this is 'nan'.",
    ),
    case(
        "too-much",
        [("job: Box", "job: Box\nmoisture_change: 90")],
        "2:1: moisture_change: 'moisture_change' must be at most 30; this is '90'.",
    ),
    case(
        "unknown-stock",
        [("{count: 2, stock: plank", "{count: 2, stock: plonk")],
        "16:19: parts.end.stock: There is no stock 'plonk'. Did you mean 'plank'?",
    ),
    case(
        "sheet-part-without-width",
        [("length: long, width: 190", "length: long")],
        "17:3: parts.lid: 'width' is missing. A sheet's width is not that of the part. Add 'width:', the finished width.",
    ),
    case(
        "sheet-with-one-side", [("sheet: [1220, 610]", "sheet: [1220]")], "5:57: stock.panel.sheet.2: 'sheet' has too few values."
    ),
    case(
        "stock-without-thickness",
        [(", thickness: board, lengths", ", lengths")],
        "4:3: stock.plank: 'thickness' is missing. Add 'thickness:', a board has one.",
    ),
    case(
        "outside-its-part",
        [("distance: 8", "distance: 90")],
        "14:7: parts.side.features.floor-groove: The groove lies outside the part: it runs from 90 to 96 along the width, and the part has 0 to 90. Correct its distance or its size.",
    ),
    case(
        "reaches-over-the-edge",
        [("distance: 8", "distance: 87")],
        "14:7: parts.side.features.floor-groove: The groove reaches 3 mm beyond the top face of the part. Correct its distance or its size.",
    ),
    case(
        "depth-is-the-thickness",
        [("depth: 6", "depth: 15")],
        "14:90: parts.side.features.floor-groove.depth: The groove is 15 mm deep and the thickness is 15 mm there: nothing is left under it. Make it shallower; 5 mm is usual here.",
    ),
    case(
        "depth-over-the-thickness",
        [("depth: 6", "depth: board + 1")],
        "14:90: parts.side.features.floor-groove.depth: The groove is 16 mm deep and the thickness is 15 mm there: nothing is left under it. Make it shallower; 5 mm is usual here.",
    ),
    case(
        "unknown-hand",
        [("depth: 6", "depth: 6, only: middle")],
        "14:100: parts.side.features.floor-groove.only: 'only' cannot be 'middle'. There are left and right.",
    ),
    case(
        "only-on-a-part-not-handed",
        [("    handed: true\n", ""), ("depth: 6", "depth: 6, only: left"), ("side.left", "side.1")],
        "13:100: parts.side.features.floor-groove.only: 'only' names a hand, and the part is not handed. Add 'handed: true'.",
    ),
    case(
        "name-of-a-face", [("floor-groove:", "front:")], "14:7: parts.side.features.front: 'front' is a face. Use another name."
    ),
    case(
        "face-s-own-name-taken",
        [("names: {front: inside}", "names: {front: inside, top: left}")],
        "12:28: parts.side.names.top: 'top' already is a face. Use another word.",
    ),
    case(
        "unknown-face-in-names",
        [("names: {front: inside}", "names: {front: insid}")],
        "12:13: parts.side.names.front: 'front' cannot be 'insid'. Did you mean 'inside'?",
    ),
    case(
        "marks",
        [("names: {front: inside}", "names: {front: inside}\n    marks: {face_edge: outside}")],
        "13:5: parts.side.marks: The face side and the face edge are parallel. The face edge is made square to the face side. Name two faces that meet.",
    ),
    case(
        "allowance-until",
        [("length: 160}", "length: 160, allowance: {top: {amount: 5, until: cornr}}}")],
        "16:75: parts.end.allowance.top.until: There is no joint or assembly 'cornr'. Did you mean 'corner'?",
    ),
    case(
        "together",
        [("length: 160}", "length: 160, together: {with: sid}}")],
        "16:57: parts.end.together.with: There is no other part 'sid'. Did you mean 'side'?",
    ),
    case(
        "in-unknown",
        [("depth: 5}", "depth: 5, in: flor-groove}")],
        "15:100: parts.side.features.end-housing.in: There is no feature 'flor-groove' on this part. Did you mean 'floor-groove'?",
    ),
    case(
        "in-itself",
        [("depth: 5}", "depth: 5, in: end-housing}")],
        "15:100: parts.side.features.end-housing.in: Features are measured in each other: end-housing -> end-housing.",
    ),
    case(
        "unknown-part-in-a-joint",
        [("part: end.1", "part: ende.1")],
        "19:12: joints.corner.part: There is no piece 'ende.1'. Did you mean 'end.1'?",
    ),
    case(
        "piece-without-number",
        [("part: end.1", "part: end")],
        "19:12: joints.corner.part: There are 2 pieces of 'end', and it is not said which is meant. Write end.1 or end.2.",
    ),
    case(
        "number-too-large",
        [("part: end.1", "part: end.3")],
        "19:12: joints.corner.part: There is no piece 'end.3'. The pieces are end.1 and end.2.",
    ),
    case(
        "number-where-there-is-one",
        [("part: lid,", "part: lid.1,")],
        "20:12: joints.lid-on.part: There is no piece 'lid.1': there is one 'lid' only. Write 'lid'.",
    ),
    case(
        "hand-not-said",
        [("into: side.left", "into: side")],
        "19:36: joints.corner.into: There are 2 pieces of 'side', and it is not said which is meant. Write side.left or side.right.",
    ),
    case(
        "unknown-feature-in-a-joint",
        [("end-housing, flush", "end-housin, flush")],
        "19:36: joints.corner.into: 'side' has no face and no feature 'end-housin'. Did you mean 'end-housing'?",
    ),
    case(
        "into-a-face",
        [("side.left/end-housing", "side.left/front")],
        "19:36: joints.corner.into: 'front' is a face. Write 'to: side.left/front', or name a feature it goes into.",
    ),
    case(
        "to-a-feature",
        [("to: end.1/top", "to: side.left/end-housing")],
        "20:37: joints.lid-on.to: 'end-housing' is a feature. Write 'into: side.left/end-housing', or name a face.",
    ),
    case(
        "no-slash",
        [("to: end.1/top", "to: end.1")],
        "20:37: joints.lid-on.to: 'end.1' must be a piece and a face or feature of it. Write it as piece/face or piece/feature.",
    ),
    case(
        "both",
        [("to: end.1/top", "to: end.1/top, into: end.1/top")],
        "20:3: joints.lid-on: 'into' and 'to' are both written. Write 'into: piece/feature' where it goes into a feature, or 'to: piece/face' against a face.",
    ),
    case(
        "neither",
        [("to: end.1/top, ", "")],
        "20:3: joints.lid-on: It is not said where the piece goes. Write 'into: piece/feature' where it goes into a feature, or 'to: piece/face' against a face.",
    ),
    case(
        "to-itself", [("to: end.1/top", "to: lid/top")], "20:3: joints.lid-on: 'lid' is joined to itself. Name the other piece."
    ),
    case(
        "unknown-its",
        [("its: left", "its: lefft")],
        "19:25: joints.corner.its: 'end' has no face and no feature 'lefft'. Did you mean 'left'?",
    ),
    case(
        "unknown-flush",
        [("flush: bottom", "flush: {bottom: buttom}")],
        "19:65: joints.corner.flush: 'buttom' is no face of 'side'. Did you mean 'bottom'?",
    ),
    case(
        "flush-no-faces",
        [("flush: bottom", "flush: [[bottom]]")],
        "19:65: joints.corner.flush: Write a face both pieces have, such as bottom, or {left: top}: its own face first, then the other's.",
    ),
    case(
        "unknown-at",
        [("flush: bottom", "at: {bak: 3}")],
        "19:70: joints.corner.at.bak: 'bak' is no face of 'side'. The faces are left, right, bottom, top, outside, inside and front.",
    ),
    case(
        "unknown-fixing",
        [("fixed: glue", "fixed: [glue, nail]")],
        "19:94: joints.corner.fixed.2: Entry 2 of 'fixed' cannot be 'nail'. Did you mean 'nails'?",
    ),
    case("no-fixing", [(", fixed: glue", "")], "19:3: joints.corner.fixed: 'fixed' is missing. Add 'fixed:', what holds it."),
    case("empty-fixing", [("fixed: glue", "fixed: []")], "19:80: joints.corner.fixed: 'fixed' must not be empty."),
    case(
        "unknown-hardware",
        [("hardware: screws}", "hardware: screw}")],
        "20:67: joints.lid-on.hardware: There is no hardware 'screw'. Did you mean 'screws'?",
    ),
    case(
        "hardware-on-nothing",
        [("hardware:\n", "hardware:\n  plate: {what: hanging plate, fixed_to: lidd}\n")],
        "22:32: hardware.plate.fixed_to: There is no part or piece 'lidd'. Did you mean 'lid'?",
    ),
    case(
        "hardware-on-an-empty-list",
        [("hardware:\n", "hardware:\n  plate: {what: hanging plate, fixed_to: []}\n")],
        "22:32: hardware.plate.fixed_to: The plate has an empty list under `fixed_to`: it is fixed to nothing. Name the parts it is "
        "fixed to, or leave `fixed_to` out: then it goes on what is joined.",
    ),
    case(
        "hardware-on-no-face",
        [("hardware:\n", "hardware:\n  plate: {what: hanging plate, fixed_to: lid, on: upprr}\n")],
        "22:47: hardware.plate.on: 'upprr' is no face of 'lid'. The faces are left, right, bottom, top, outside and inside.",
    ),
    case(
        "hardware-on-a-face-of-nothing",
        [("hardware:\n", "hardware:\n  plate: {what: hanging plate, on: inside}\n")],
        "22:32: hardware.plate.on: 'inside' is a face, and nobody says of which part. Write the part or piece under fixed_to.",
    ),
    case(
        "after-unknown",
        [("fixed: glue}", "fixed: glue, after: lid-of}")],
        "19:93: joints.corner.after: There is no other joint 'lid-of'. Did you mean 'lid-on'?",
    ),
    case(
        "after-itself",
        [("fixed: glue}", "fixed: glue, after: corner}")],
        "19:93: joints.corner.after: There is no other joint 'corner'. There is lid-on.",
    ),
    case(
        "two-assemblies",
        [("fixed: glue}", "fixed: glue, assembly: box}"), ("hardware:\n", "assemblies: {frame: corner}\nhardware:\n")],
        "19:93: joints.corner.assembly: The joint 'corner' also belongs to 'frame'. Let it belong to one.",
    ),
    case(
        "assembly-of-unknown-joint",
        [("hardware:\n", "assemblies: {frame: [cornr]}\nhardware:\n")],
        "21:22: assemblies.frame.1: There is no joint 'cornr'. Did you mean 'corner'?",
    ),
    case(
        "overall",
        [("hardware:\n", "overall: {w: {from: side.left/outside, to: side.rihgt/outside, is: 190}}\nhardware:\n")],
        "21:40: overall.w.to: There is no piece 'side.rihgt'. The pieces are side.left and side.right.",
    ),
    case(
        "finish-part",
        [("hardware:\n", "finish: [{what: wax}, {what: oil, parts: [sides]}]\nhardware:\n")],
        "21:43: finish.2.parts.1: There is no part 'sides'. Did you mean 'side'?",
    ),
    case(
        "finish-coats",
        [("hardware:\n", "finish: {what: oil, coats: 0}\nhardware:\n")],
        "21:21: finish.coats: 'coats' must be at least 1; this is '0'.",
    ),
    case(
        "decision-without-by",
        [("hardware:\n", "decisions: [{about: side/floor-groove, way: plough, why: quiet}]\nhardware:\n")],
        "21:13: decisions.1.by: 'by' is missing. Add 'by:', the role of the person who decides, never a name.",
    ),
    case(
        "decision-of-nothing",
        [("hardware:\n", "decisions: [{about: side/floor-grove, by: Head, why: quiet}]\nhardware:\n")],
        "21:13: decisions.1: Nothing is decided. Add way, station, before or minutes.",
        "21:14: decisions.1.about: 'side' has no feature 'floor-grove'. Did you mean 'floor-groove'?",
    ),
    case(
        "decision-about-unknown",
        [("hardware:\n", "decisions: [{about: sde/floor-groove, way: x, by: Head, why: quiet}]\nhardware:\n")],
        "21:14: decisions.1.about: There is no part, joint, assembly or hardware 'sde'. Did you mean 'side'?",
    ),
    case(
        "choice-unknown",
        [("hardware:\n", "choices: {lung: {from: 3, to: 4}}\nhardware:\n")],
        "21:11: choices.lung: There is no size 'lung'. Did you mean 'long'?",
    ),
    case(
        "choice-range",
        [("hardware:\n", "choices: {long: {from: 300, to: 310}}\nhardware:\n")],
        "21:11: choices.long: 'long' is drawn 320 mm, which cannot be chosen. Draw it as one of the sizes that can be chosen.",
    ),
    case(
        "choice-order",
        [("hardware:\n", "choices: {long: {from: 330, to: 310}}\nhardware:\n")],
        "21:18: choices.long.from: 'from' is not less than 'to'. Exchange them.",
    ),
    case(
        "choice-unclear",
        [("hardware:\n", "choices: {long: {from: 330}}\nhardware:\n")],
        "21:11: choices.long: It is not clear what can be chosen. Write from and to, or options.",
    ),
    case(
        "based-on-unknown",
        [("joints:", "  back: {based_on: sid}\njoints:")],
        "18:10: parts.back.based_on: There is no part 'sid'. Did you mean 'side'?",
    ),
    case(
        "based-on-itself",
        [("joints:", "  back: {based_on: front}\n  front: {based_on: back}\njoints:")],
        "19:11: parts.front.based_on: The parts are based on each other: back -> front -> back.",
    ),
    case(
        "change-unknown-key",
        [("joints:", "  back: {based_on: end, change: {lenght: 3}}\njoints:")],
        "18:34: parts.back.change.lenght: 'lenght' is no key here. Did you mean 'length'?",
    ),
    case(
        "key-beside-change",
        [("joints:", "  back: {based_on: end, length: 3}\njoints:")],
        "18:25: parts.back.length: 'length' stands beside 'based_on'. Put it under 'change:'.",
    ),
    case(
        "without-unknown",
        [("joints:", "  back: {based_on: side, without: [floor-grove]}\njoints:")],
        "18:36: parts.back.without.1: The part 'side' has no feature 'floor-grove'. Did you mean 'floor-groove'?",
    ),
    case(
        "crossing-sizes",
        [("hardware:\n", "crossings: {x: {under: end.1, over: lid, fixed: glue}}\nhardware:\n")],
        "21:13: crossings.x: The thickness of 'end' is 15 mm and that of 'lid' 6 mm. The two halvings of a crossing with lap flat add up to one common thickness. Make them alike, or draw the halvings as features and the joint yourself.",
    ),
    case(
        "crossing-outside",
        [("hardware:\n", "crossings: {x: {under: end.1, over: end.2, at: {under: 150}, fixed: glue}}\nhardware:\n")],
        "21:13: crossings.x: On 'end': The halving reaches 80 mm beyond the right face of the part. Correct its distance or its size.",
    ),
    case(
        "crossing-itself",
        [("hardware:\n", "crossings: {x: {under: end.1, over: end.1, fixed: glue}}\nhardware:\n")],
        "21:13: crossings.x: 'end.1' crosses itself. Name the other piece.",
    ),
    case(
        "crossing-share",
        [("hardware:\n", "crossings: {x: {under: end.1, over: end.2, share: 1, fixed: glue}}\nhardware:\n")],
        "21:44: crossings.x.share: 'share' must be less than 1; this is '1'.",
    ),
    case(
        "crossing-name",
        [("hardware:\n", "crossings: {corner: {under: end.1, over: end.2, fixed: glue}}\nhardware:\n")],
        "19:3: joints.corner: A crossing is called 'corner' too. Use another name.",
    ),
    case(
        "crossing-feature-name",
        [("hardware:\n", "crossings: {end-housing: {under: side.left, over: side.right, fixed: glue}}\nhardware:\n")],
        "21:13: crossings.end-housing: 'side' already has a feature 'end-housing'. Give the crossing another name.",
    ),
    case(
        "two-at-once",
        [("length: 160", "length: -160"), ("face: front", "face: frnt")],
        "14:36: parts.side.features.floor-groove.face: 'frnt' is no face of this part. Did you mean 'front'?",
        "16:33: parts.end.length: 'length' must be more than 0; this is '-160'.",
    ),
    case(
        "one-error-of-a-base-told-once",
        [("face: front", "face: frnt"), ("joints:", "  back: {based_on: side}\njoints:")],
        "14:36: parts.side.features.floor-groove.face: 'frnt' is no face of this part. Did you mean 'front'?",
    ),
]


@pytest.mark.parametrize(("changes", "expected"), CASES)
def test_what_is_said(changes: list[tuple[str, str]], expected: list[str]) -> None:
    assert job_errors(changed(JOB, *changes)) == expected


def test_the_unchanged_job_is_good() -> None:
    assert job_errors(JOB) == []


def test_unknown_key_at_the_top_lists_the_keys() -> None:
    (said,) = job_errors(changed(JOB, ("job: Box", "job: Box\ncolour: red")))
    assert said.startswith(
        "job.yaml:2:1: colour: 'colour' is no key here. There are aim, assemblies, before_use, choices, crossings, "
    )


def test_missing_kind_lists_the_kinds() -> None:
    (said,) = job_errors(changed(JOB, ("{kind: groove, ", "{")))
    assert said.startswith("job.yaml:14:7: parts.side.features.floor-groove: 'kind' is missing. Add 'kind:', one of bevel, ")


def test_kind_must_be_text() -> None:
    (said,) = job_errors(changed(JOB, ("kind: groove", "kind: [groove]")))
    assert said.startswith("job.yaml:14:22: parts.side.features.floor-groove.kind: 'kind' must be text.")


@pytest.mark.parametrize(("text", "shown"), [("hello", "'hello'"), ("- hello", "a list")])
def test_a_file_that_is_no_mapping(text: str, shown: str) -> None:
    assert job_errors(text) == [f"job.yaml:1:1: The file must be a set of keys with values; this is {shown}."]


def test_all_errors_of_a_file_at_once_in_its_order() -> None:
    text = changed(
        JOB, ("long: 320", "long: 1/0"), ("form: sheet", "form: shet"), ("count: 2, stock", "count: 0, stock"),
        ("kind: housing", "kind: hosing"), ("fixed: screws", "fixed: crews"), ("gauge: 8", "gauge: eight"),
    )  # fmt: skip
    assert [said.split(" ")[0] for said in job_errors(text)] == [
        "job.yaml:2:9:", "job.yaml:5:30:", "job.yaml:15:21:", "job.yaml:16:9:", "job.yaml:20:52:", "job.yaml:22:40:",
    ]  # fmt: skip


def test_no_wording_of_a_library_reaches_the_person() -> None:
    """Every kind of value in every kind of place, and never a sentence that is not ours."""
    foreign = ("Input should", "valid ", "pydantic", "Extra inputs", "Field required", "type=", "None", "Traceback")
    places = ["job: Box", "count: 2\n", "handed: true", "stock: plank\n", "length: long\n", "names: {front: inside}", "face: front",
              "distance: 8", "lengths: [2400]", "sheet: [1220, 610]", "fixed: glue", "flush: bottom", "gauge: 8", "part: end.1"]  # fmt: skip
    for place in places:
        key = place.partition(":")[0]
        for value in (
            "",
            "[]",
            "{}",
            "x",
            "-1",
            "1e9",
            "nan",
            "[[1, 2], {a: b}]",
            "{a: {b: [c]}}",
            "'  '",
            "0x10",
            "true",
            "...",
        ):
            end = "\n" if place.endswith("\n") else ""
            for said in job_errors(changed(JOB, (place, f"{key}: {value}{end}"))):
                assert not any(word in said for word in foreign), said
                assert said.endswith((".", "?")), said
