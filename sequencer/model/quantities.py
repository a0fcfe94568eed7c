"""The registry of figures that limits, instructions and settings in the knowledge may name.

A name is `owner.figure`. What a feature or a piece of work gives is worked out by the feature kinds and the planning;
what a station gives comes from the workshop file or the shipped default of its kind. A figure that is not known is
absent, and an absent figure never allows anything: staff must decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Unit = Literal["mm", "deg", "rev/min", "min", "dB(A)", "degC", "count", "mm2", "m/s"]

Figures = Mapping[str, float]
"""Known figures by full name."""


@dataclass(frozen=True)
class Quantity:
    """What one name stands for."""

    name: str
    unit: Unit
    meaning: str


_ALL = (
    # the finished part
    Quantity("part.length", "mm", "finished length of the part"),
    Quantity("part.width", "mm", "finished width of the part"),
    Quantity("part.thickness", "mm", "finished thickness of the part"),
    Quantity("part.round", "count", "1 if the part is round in section and may roll, else 0"),
    Quantity("part.sheet", "count", "1 if the part is cut from sheet material, else 0"),
    Quantity("part.laser", "count", "1 if its material is marked for the laser cutter at its thickness, else 0"),
    Quantity("part.others", "count", "further pieces alike in one thing; 0 if there is one piece only"),
    Quantity("part.pairs", "count", "pairs of a left and a right piece"),
    Quantity("part.pair-ends", "count", "1 if first ends make the pieces of a pair left and right, else 0"),
    Quantity("part.plain-ends", "count", "1 if it is no such pair, else 0"),
    Quantity("part.numbered", "count", "pieces of one hand that a number tells apart; 0 if there is one only"),
    Quantity("part.on-stick", "count", "1 if it is cut while it is part of a longer stick, else 0"),
    Quantity("part.off-stick", "count", "1 if it is no part of a longer stick when it is cut, else 0"),
    Quantity("part.stick-several", "count", "1 if several parts lie on that stick, else 0"),
    Quantity("part.sawn-off", "count", "1 if it is sawn off that stick now, else 0"),
    Quantity("part.next-end", "count", "1 if the stick then gets a new end for its next part, else 0"),
    Quantity("part.in-strip", "count", "1 if it is marked out in a strip of several parts that stays whole, else 0"),
    Quantity("part.off-strip", "count", "1 if it is not, else 0"),
    Quantity("part.own-ends", "count", "1 if it is marked out beside others in one long piece, else 0"),
    Quantity("part.small", "count", "1 if the finished part is shorter than the station holds, else 0"),
    Quantity("part.held", "count", "1 if it is not, else 0"),
    Quantity("part.gauged", "count", "1 if the part's width is within the reach of a marking gauge, else 0"),
    Quantity("part.past-gauge", "count", "1 if the part is wider than a marking gauge reaches, else 0"),
    Quantity("part.packing-width", "mm", "width of the strip that fills a rebate which a mitred piece lies on; 0 without one"),
    Quantity("part.packing-depth", "mm", "thickness of that strip: as deep as the rebate"),
    # the piece as it lies on the station when the work is done
    Quantity("blank.length", "mm", "length of the piece as it is worked"),
    Quantity("blank.width", "mm", "width of the piece as it is worked"),
    Quantity("blank.sawn-width", "mm", "width of the blank that is sawn off a sheet; else the width of the piece"),
    Quantity("blank.sawn-length", "mm", "length of the blank that is sawn off a board or sheet; else the length of the piece"),
    Quantity(
        "blank.rest", "mm", "length that is left of a board when a blank is sawn off it; all of it where nothing is sawn off"
    ),
    Quantity("blank.thickness", "mm", "thickness of the piece as it is worked"),
    Quantity("blank.standing", "mm", "height of the piece when the cut is made from above"),
    Quantity("blank.upright", "mm", "how much higher the piece stands then than it is thick; 0 where it lies flat"),
    Quantity("blank.flat", "count", "1 if the piece lies flat for a cut from above, 0 where it stands on an edge or end"),
    Quantity("blank.thin-sheet", "count", "1 if it is sheet so thin and so wide that it flutters under a hand saw, else 0"),
    Quantity("blank.cut", "mm", "length left between two parts on a long piece for the saw; 0 where it gives one"),
    Quantity("blank.waste", "mm", "length of the piece that stays behind after a cut to length"),
    Quantity("waste.wide", "count", "1 if all that hangs free at a hand saw's cuts is wide enough for a partner to hold, else 0"),
    Quantity("waste.narrow", "count", "1 if some of it is too narrow for hands, and falls, else 0"),
    Quantity("waste.partner", "mm", "the least that a partner holds up beside a cut"),
    Quantity("blank.held", "mm", "length left to hold beside a cut to length"),
    # the shape that an earlier cut has left where the piece is held
    Quantity("shape.depth", "mm", "how much an earlier shape has taken off the face that is held, at its deepest"),
    Quantity("shape.length", "mm", "length over which an earlier shape grows deeper in the face that is held"),
    Quantity("shape.across", "mm", "width over which an earlier shape is the same in the face that is held"),
    # the feature or other piece of work
    Quantity("feature.width", "mm", "width of the cut across its run"),
    Quantity("feature.depth", "mm", "depth of the cut from the face it enters"),
    Quantity("feature.length", "mm", "length of the cut along its run"),
    Quantity("feature.distance", "mm", "from the face it is measured from to the near side of the cut"),
    Quantity("feature.thickness", "mm", "thickness of a tenon or tongue; of the part that a spline slot is sawn in"),
    Quantity(
        "feature.cheek",
        "mm",
        "from the face a tenon's or tongue's thickness is gauged from to its near cheek; 0 if it is bare-faced there",
    ),
    Quantity("feature.shoulder", "mm", "depth of a tongue's shoulder in the face that is worked first"),
    Quantity("feature.shoulder-behind", "mm", "depth of a tongue's shoulder in the opposite face; 0 if it is bare-faced there"),
    Quantity("feature.edge", "mm", "from the edge a tenon's width is marked from to its near side; 0 if it is level there"),
    Quantity("feature.narrower", "mm", "how much narrower a tenon is than its part; 0 if it is as wide"),
    Quantity("feature.thinner", "mm", "how much thinner a tenon is than its part; 0 if it is as thick"),
    Quantity("feature.diameter", "mm", "diameter of a hole or round"),
    Quantity("feature.neck", "mm", "smallest diameter of a round or turned stick"),
    Quantity("feature.head-diameter", "mm", "diameter of a countersink or counterbore at the face; 0 if there is none"),
    Quantity("feature.head-depth", "mm", "depth of a countersink or counterbore; 0 if there is none"),
    Quantity("feature.radius", "mm", "smallest radius of a curve; 0 for square corners"),
    Quantity("feature.haunch", "mm", "how far the haunch of a tenon stands out, or its recess goes in; 0 if there is none"),
    Quantity("feature.flare", "mm", "how much wider a mortise for wedges is at each end on its far side; 0 if it is straight"),
    Quantity(
        "feature.angle",
        "deg",
        "angle of a mitre, bevel, chamfer or taper from square; of a fielded edge from its face; of a turned profile at its "
        "steepest, from its middle line",
    ),
    Quantity("feature.slope", "count", "of a dovetail: it slopes 1 in so many"),
    Quantity("feature.sloping", "count", "sides of a dovetail housing or of its end that slope: 1 or 2"),
    Quantity("feature.remaining", "mm", "wood left under or beside the cut at its thinnest"),
    Quantity("feature.count", "count", "how many alike cuts the feature has on one part"),
    Quantity("feature.shortest-edge", "mm", "length of the shortest of the edges that are taken off alike"),
    Quantity("feature.stopped", "count", "ends at which the cut stops inside the part: 0, 1 or 2"),
    Quantity("feature.through", "count", "1 if the cut goes right through the part, else 0"),
    Quantity("feature.open", "count", "edges of the part that an opening breaks; 0 if it is closed all round"),
    Quantity("feature.countersunk", "count", "1 if a hole is countersunk, else 0"),
    Quantity("feature.counterbored", "count", "1 if a hole is counterbored, else 0"),
    Quantity("feature.along-grain", "count", "1 if the cut is longest along the grain, else 0"),
    Quantity("feature.end-grain", "count", "1 if any of the cut lies across the grain, else 0"),
    Quantity("feature.joined", "count", "1 if a joint of the drawing is made at it, else 0"),
    Quantity("feature.alone", "count", "1 if none is, so that there is no other part to try in it, else 0"),
    Quantity("feature.gauge", "count", "gauge number of a wood screw"),
    Quantity("feature.edge-distance", "mm", "from the centre of a hole to the nearest edge"),
    # joining and finishing
    Quantity("joint.count", "count", "joints closed in one glue-up"),
    Quantity("joint.partner", "count", "1 where a glue-up takes more cramps or joints than one student closes alone, else 0"),
    Quantity("joint.dowelled", "count", "dowels that the joints of the group take"),
    Quantity("joint.wedged", "count", "joints of the group that wedges are driven into"),
    Quantity(
        "joint.cramps",
        "count",
        "cramps for one glue-up. Two or more for a joint longer than 100 mm, one for a shorter one, for each lap and for each "
        "corner of a mitred frame. Each corner of a mitred box takes as many as a joint so high. None for a rod",
    ),
    Quantity("joint.placed", "count", "joints of a group that no seat holds in place: a size says where the piece goes"),
    Quantity("joint.laid-in", "count", "joints of a group whose pieces only lie in a rebate, loose; 0 if it makes any other"),
    Quantity("joint.lies-in", "count", "pieces that lie loose in a rebate, where what is nailed or screwed with them keeps them"),
    Quantity("joint.alike", "count", "sub-assemblies that are made alike in one go"),
    Quantity("joint.mitred", "count", "mitres of one glue-up, which cramps alone would push along each other"),
    Quantity("joint.mitred-frame", "count", "of these, mitres across the width, as of a frame that lies flat"),
    Quantity("joint.mitred-box", "count", "of these, mitres through the thickness, as of a box whose sides stand on edge"),
    Quantity("joint.mitred-odd", "count", "of these, mitres at another angle than 45 degrees: no square block fits their corner"),
    Quantity("joint.mitred-ring", "count", "1 if all that is glued are mitres and every piece stands between two, else 0"),
    Quantity("joint.rolled-up", "count", "of a dry trial or a wait: 1 if what it is of is rolled up in tape, else 0"),
    Quantity("joint.mitre-side", "mm", "length of the shortest piece that is mitred, along its long side"),
    Quantity("joint.mitre-high", "mm", "how high a mitred corner is: the width of a box's side, the thickness of a frame"),
    Quantity("joint.mitre-thick", "mm", "how thick mitred pieces are at a corner: a box's side, or the width of a frame's"),
    Quantity("joint.corner-block", "mm", "how far a corner block reaches along each of the two pieces that meet in it"),
    Quantity("cleaned.length", "mm", "longest size of the smallest thing that is cleaned by itself, a part or what is joined"),
    Quantity("cleaned.longest", "mm", "longest size of the largest of these"),
    Quantity("cleaned.small", "count", "1 if the smallest of these is shorter than the station grips, else 0"),
    Quantity("cleaned.large", "count", "1 if the largest of these is not, else 0"),
    Quantity("cleaned.joined", "count", "joints between what is cleaned; 0 if every part is loose"),
    Quantity("cleaned.loose", "count", "1 if every part that is cleaned is loose, else 0"),
    Quantity("cleaned.glued", "count", "of the joints between what is cleaned, those that are glued by then"),
    Quantity("cleaned.unglued", "count", "1 if none of them is, else 0"),
    Quantity("joint.metal", "count", "joints of the whole that screws, nails or pins hold"),
    Quantity("joint.glued", "count", "joints of the group that glue holds"),
    Quantity("joint.captured", "count", "pieces that go in as the group closes: panels, bottoms, loose bars"),
    Quantity("joint.moving", "count", "joints of the group that slide or turn"),
    Quantity("joint.held", "mm", "thickness that the nails or screws of the group hold, if it is one"),
    Quantity("joint.fastener", "mm", "length of the nails or screws of the group, if it is one: as drawn, else worked out"),
    Quantity("joint.nailed", "count", "joints of the group that nails or pins hold"),
    Quantity("joint.nailed-mitres", "count", "of these, those of two sloping ends, where every nail stands near an end"),
    Quantity("joint.rebated", "count", "of these, those in a rebate with another piece behind, or that hold a bought-in sheet"),
    Quantity("joint.loose", "count", "dowels, biscuits, wedges or splines of one size in the group"),
    Quantity("joint.loose-length", "mm", "length of these"),
    Quantity("joint.loose-width", "mm", "diameter of a dowel, width of a biscuit, wedge or spline"),
    Quantity("joint.loose-thickness", "mm", "thickness of a wedge at its head, a biscuit or a spline; a dowel's diameter"),
    Quantity("joint.loose-offcut", "mm", "shortest offcut that wedges are sawn from, or strip that splines are"),
    Quantity("joint.loose-depth", "mm", "how deep a dowel or biscuit sits in the first part, a wedge or spline in the joint"),
    Quantity("joint.slot-cheek", "mm", "the least wood beside a slot across a corner that a chisel may clear: `slot-cheek`"),
    Quantity("joint.pilot-depth", "mm", "of pilot holes in the second piece: a share of what a screw has there"),
    Quantity("joint.pilot-least", "mm", "the least of these that will do"),
    Quantity("joint.reach", "mm", "longest distance a cramp has to span, over the work and the blocks under its jaws"),
    Quantity("joint.block", "mm", "thickness of the block under each jaw of a cramp"),
    Quantity(
        "joint.diagonal",
        "mm",
        "from outer corner to outer corner of the frame or box that a glue-up closes, if it has horns none",
    ),
    Quantity("joint.diagonal-inside", "mm", "from inner corner to inner corner, where horns stand out at the outer ones"),
    Quantity("joint.opposite", "count", "pairs of opposite pieces, alike in length, of the frame or box that a glue-up closes"),
    Quantity("joint.square-within", "mm", "how much its two diagonals may differ"),
    Quantity("joint.diagonal-legs", "mm", "from outer corner to outer corner over four legs that a glue-up brings together"),
    Quantity("joint.legs-within", "mm", "how much the two diagonals over the legs may differ"),
    Quantity("joint.across", "mm", "over two pieces that stand out freely from the one rail between them, outside"),
    Quantity("finish.coats", "count", "coats of finish put on"),
    Quantity("finish.paper", "count", "last paper before the first coat, a P grade, the finest that a finish asks for"),
    Quantity("finish.dry-time", "min", "time a coat dries before the next"),
    # the station
    Quantity("station.shortest", "mm", "shortest piece that may be worked there"),
    Quantity("station.gripped", "mm", "shortest piece that a hand holds still there, its fingers clear of the abrasive"),
    Quantity("station.narrowest", "mm", "narrowest piece that may be worked there"),
    Quantity("station.pad", "mm", "length and width of a held sander's pad"),
    Quantity("station.thinnest", "mm", "thinnest piece that may be worked there"),
    Quantity("station.longest", "mm", "longest piece there is room for"),
    Quantity("station.widest", "mm", "widest piece that goes in"),
    Quantity("station.thickest", "mm", "thickest piece that goes in"),
    Quantity("station.kerf", "mm", "width of wood the blade takes away"),
    Quantity("station.plate", "mm", "thickness of the blade's body"),
    Quantity("station.knife", "mm", "thickness of the riving knife"),
    Quantity(
        "station.sole", "mm", "from the edge of a held tool's sole that stands against a batten to the near side of its blade"
    ),
    Quantity("station.batten-width", "mm", "width of the batten that a held tool's base stands against"),
    Quantity("station.base-rim", "mm", "wood that the base of a plunged cutter must be pressed to on either side of a slot"),
    Quantity("station.fence-reach", "mm", "farthest a held cutter can be set from the face that its fence rests on"),
    Quantity("station.blade-radius", "mm", "radius of the circular blade"),
    Quantity("station.deepest", "mm", "greatest depth or height of cut"),
    Quantity("station.least-remnant", "mm", "shortest piece that may stay held behind a cut"),
    Quantity("station.board-rest", "mm", "shortest rest of a board that a hand may steady beside the blade"),
    Quantity("station.smallest-radius", "mm", "tightest inside curve the blade can follow"),
    Quantity("station.blade-width", "mm", "width of a band-saw blade, from the points of its teeth to its back"),
    Quantity("station.spindle-speed", "rev/min", "speed the blade or disc turns at"),
    Quantity("station.marked-speed", "rev/min", "highest speed marked on the blade, cutter or disc that is fitted"),
    Quantity("station.largest-diameter", "mm", "largest bit the station may drive"),
    Quantity("station.swing", "mm", "largest diameter that turns clear of the bed of the lathe"),
    Quantity("station.slenderness", "count", "how many times as long as thick a piece may be turned without a steady"),
    Quantity("station.centre-bite", "mm", "solid wood a centre needs round the axis at each end, across"),
    Quantity("station.centre-depth", "mm", "how deep that wood must be"),
    Quantity("station.off-balance", "count", "how far the weight may lie off the axis, as a share of the width of the stick"),
    Quantity("station.cutter-width", "mm", "narrowest cutter or blade fitted"),
    Quantity("station.cutter-diameter", "mm", "diameter of the cutter fitted"),
    Quantity("station.dovetail-cutter", "mm", "diameter of the dovetail cutter at its widest"),
    Quantity("station.panel-cutter", "mm", "diameter of the cutter that fields panels, at its widest"),
    Quantity("station.base-width", "mm", "width of the base plate of a router held in the hand, through its cutter"),
    Quantity("station.vice-opening", "mm", "widest piece the drill vice takes between its jaws"),
    Quantity("station.run-out", "mm", "length at each end that planing may leave not to size"),
    Quantity("station.throat", "mm", "from the middle of the spindle or blade to the frame behind it"),
    Quantity("station.open-time", "min", "time from first glue to closed joint"),
    Quantity("station.cramp-time", "min", "time the cramps stay on"),
    Quantity("station.mitre-pins", "count", "pins at each corner of a mitred frame, half of them from each of its pieces"),
    Quantity("station.mitre-pin-in", "mm", "from the corner of a mitred frame to the pin, along the outer edge"),
    Quantity("station.mitre-pin-edge", "mm", "from the front or back of a mitred frame to the pin"),
    Quantity("station.nail-in", "mm", "from the ends of a joint to its first and last nail"),
    Quantity("station.cure-time", "min", "time before the joint may be worked or loaded"),
    Quantity("station.coldest", "degC", "lowest room temperature the glue or finish may be used at"),
    Quantity("bench.vice", "count", "1 if a bench vice is at hand there, else 0"),
    Quantity("bench.no-vice", "count", "1 if none is, else 0"),
    Quantity("bench.cramps", "count", "1 if bench cramps are at hand there, else 0"),
    Quantity("bench.no-cramps", "count", "1 if none are, else 0"),
    Quantity("room.temperature", "degC", "temperature of the room"),
    Quantity("class.students", "count", "students in the class"),
)

QUANTITIES: dict[str, Quantity] = {quantity.name: quantity for quantity in _ALL}
"""Every name there is, with unit and meaning."""
