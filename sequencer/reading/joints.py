"""Joints, crossings and overall measures: which pieces, which faces and features of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sequencer.features import Feature
from sequencer.model.frame import FACES, FaceName, mirrored
from sequencer.model.job import Joint, Overall, Part, Piece, Seat
from sequencer.reading.job_file import CrossingForm, JointForm, OverallForm
from sequencer.reading.kinds import adapter, kind_schema
from sequencer.reading.parts import FLAWS, with_feature
from sequencer.reading.reader import Reader
from sequencer.reading.report import Report
from sequencer.reading.tree import Data, Steps
from sequencer.reading.words import in_short, meant, nearest

SAME = 0.01
"""Sizes closer than this are the same, mm."""


@dataclass
class Pieces:
    """The pieces of the job, to be looked up by what the file calls them.

    written
        Every part of the file with the names of its features, also those that could not be read; about these nothing is
        said a second time.
    """

    parts: dict[str, Part]
    written: Mapping[str, frozenset[str]]
    report: Report

    def names(self) -> list[str]:
        """Every piece there is."""
        return [piece.name for part in self.parts.values() for piece in part.pieces]

    def find(self, text: str, steps: Steps) -> Piece | None:
        """The piece of that name; `None`, with the error noted, if there is none."""
        name = text.partition(".")[0]
        if name in self.parts:
            pieces = self.parts[name].pieces
            found = next((piece for piece in pieces if piece.name == text), None)
            if found is None:
                known = [piece.name for piece in pieces]
                if len(known) == 1:
                    what, remedy = f"There is no piece '{text}': there is one '{name}' only.", f"Write '{name}'."
                elif text == name:
                    what = f"There are {len(known)} pieces of '{name}', and it is not said which is meant."
                    remedy = f"Write {in_short(known, 'or')}."
                else:
                    what, remedy = f"There is no piece '{text}'.", f"The pieces are {in_short(known)}."
                self.report.error("unknown-piece", steps, what, remedy=remedy)
            return found
        if name not in self.written:
            self.report.error("unknown-piece", steps, f"There is no piece '{text}'.", remedy=meant(text, self.names()))
        return None

    def face(self, text: str, piece: Piece, steps: Steps) -> FaceName | None:
        """A face of the piece, by its name or the part's own; `None`, with the error noted, if it has none of that name.

        The part's own names go with the drawing: on a right-hand piece they are turned left to right with it.
        """
        part = self.parts[piece.part]
        if text in part.names:
            return mirrored(part.names[text]) if piece.hand == "right" else part.names[text]
        found: FaceName | None = next((face for face in FACES if face == text), None)
        if found is None:
            known = (*FACES, *part.names)
            remedy = f"Did you mean '{near}'?" if (near := nearest(text, known)) else f"The faces are {in_short(known)}."
            self.report.error("unknown-face", steps, f"'{text}' is no face of '{piece.part}'.", remedy=remedy)
        return found

    def seat(self, text: str, piece: Piece, steps: Steps) -> Seat | None:
        """A face or a feature of the piece; `None`, with the error noted, if it has none of that name."""
        part = self.parts[piece.part]
        if text in part.features:
            return Seat(piece.name, feature=text) if self._on_hand(part.features[text], piece, steps) else None
        if text in FACES or text in part.names:
            face = self.face(text, piece, steps)
            return Seat(piece.name, face) if face else None
        if text not in self.written[piece.part]:
            known = (*part.features, *FACES, *part.names)
            self.report.error(
                "unknown-name", steps, f"'{piece.part}' has no face and no feature '{text}'.", remedy=meant(text, known)
            )
        return None

    def spot(self, text: str, steps: Steps) -> tuple[Piece, str] | None:
        """A piece and what of it is named, from `piece/name`; `None`, with the error noted, if it is written otherwise."""
        name, slash, rest = text.partition("/")
        if not slash or not name or not rest or "/" in rest:
            what = f"'{text}' must be a piece and a face or feature of it."
            self.report.error("spot", steps, what, remedy="Write it as piece/face or piece/feature.")
            return None
        piece = self.find(name.strip(), steps)
        return (piece, rest.strip()) if piece else None

    def _on_hand(self, feature: Feature, piece: Piece, steps: Steps) -> bool:
        if feature.only and piece.hand and feature.only != piece.hand:
            self.report.error(
                "only",
                steps,
                f"'{feature.name}' is on the {feature.only} piece only, not on '{piece.name}'.",
                remedy="Name the other piece, or leave out 'only'.",
            )
            return False
        return True


def make_joint(name: str, written: Data, form: JointForm | None, pieces: Pieces) -> Joint | None:
    """The joint of a form; `None`, with the errors noted, if it names what is not there. Without a form the pieces, faces
    and features it names are looked up all the same."""
    report = pieces.report
    steps: Steps = ("joints", name)
    text = {key: value for key, value in written.items() if isinstance(value, str)} if isinstance(written, dict) else {}
    entering = pieces.find(text["part"], (*steps, "part")) if text.get("part") else None
    its = pieces.seat(text["its"], entering, (*steps, "its")) if entering and text.get("its") else None
    other, seat = _other(text, pieces, steps) if isinstance(written, dict) else (None, None)
    if entering and other and entering.name == other.name:
        report.error("joint-itself", steps, f"'{entering.name}' is joined to itself.", remedy="Name the other piece.")
    if form is None or entering is None or other is None:
        return None
    at = tuple((face, distance) for key, distance in form.at.items() if (face := pieces.face(key, other, (*steps, "at", key))))
    flush = _pairs(form.flush, entering, other, pieces, (*steps, "flush"))
    align = _pairs(form.align, entering, other, pieces, (*steps, "align"))
    if its is None or seat is None:
        return None
    return Joint(
        name=name,
        enters_piece=entering.name,
        its=its,
        seat=seat,
        fixed=form.fixed,
        fit=form.fit,
        play=form.play,
        flush=flush,
        align=align,
        at=at,
        enters=form.enters,
        after=form.after,
        assembly=form.assembly,
        hardware=form.hardware,
        place=report.tree.place(steps),
    )


def _other(text: Mapping[str, str], pieces: Pieces, steps: Steps) -> tuple[Piece | None, Seat | None]:
    """The other piece and where on it the joint is, from `into` or `to`."""
    report, into, to = pieces.report, text.get("into", ""), text.get("to", "")
    if bool(into) == bool(to):
        what = "'into' and 'to' are both written." if into else "It is not said where the piece goes."
        remedy = "Write 'into: piece/feature' where it goes into a feature, or 'to: piece/face' against a face."
        report.error("seat", steps, what, remedy=remedy)
        return None, None
    at = (*steps, "into" if into else "to")
    spot = pieces.spot(into or to, at)
    if spot is None:
        return None, None
    other, named = spot
    seat = pieces.seat(named, other, at)
    if seat and into and seat.face:
        remedy = f"Write 'to: {into}', or name a feature it goes into."
        report.error("seat", at, f"'{named}' is a face.", remedy=remedy)
    if seat and to and seat.feature:
        report.error("seat", at, f"'{named}' is a feature.", remedy=f"Write 'into: {to}', or name a face.")
    return other, seat


def _pairs(
    pairs: tuple[tuple[str, str], ...], entering: Piece, other: Piece, pieces: Pieces, steps: Steps
) -> tuple[tuple[FaceName, FaceName], ...]:
    found: list[tuple[FaceName, FaceName]] = []
    for mine, theirs in pairs:
        first, second = pieces.face(mine, entering, steps), pieces.face(theirs, other, steps)
        if first and second:
            found.append((first, second))
    return tuple(found)


def make_crossing(name: str, form: CrossingForm, pieces: Pieces, reader: Reader) -> Joint | None:
    """The joint of a crossing, with a halving added to both parts. `None`, with the errors noted, if it cannot be.

    Where pieces of the same parts cross alike more than once, the halving that is there already is used.
    """
    report = pieces.report
    steps: Steps = ("crossings", name)
    under, over = pieces.find(form.under, (*steps, "under")), pieces.find(form.over, (*steps, "over"))
    if under is None or over is None:
        return None
    if under.name == over.name:
        report.error("joint-itself", steps, f"'{under.name}' crosses itself.", remedy="Name the other piece.")
        return None
    first, second = pieces.parts[under.part], pieces.parts[over.part]
    flat = form.lap == "flat"
    common, other = ("thickness", "width") if flat else ("width", "thickness")
    size, size_over = getattr(first, common), getattr(second, common)
    if abs(size - size_over) > SAME:
        report.error(
            "crossing",
            steps,
            f"The {common} of '{under.part}' is {size:g} mm and that of '{over.part}' {size_over:g} mm.",
            f"The two halvings of a crossing with lap {form.lap} add up to one common {common}.",
            "Make them alike, or draw the halvings as features and the joint yourself.",
        )
        return None
    face_under, face_over = ("inside", "outside") if flat else ("top", "bottom")
    depth = size * form.share
    names = []
    # Two pieces of one part have both halvings on that part.
    name_over = f"{name}-over" if under.part == over.part else name
    for called, piece, part, face, crossed, distance, deep in (
        (name, under, first, face_under, second, form.at.under, depth),
        (name_over, over, second, face_over, first, form.at.over, size - depth),
    ):
        width = getattr(crossed, other)
        raw = {
            "name": called, "face": face, "from": "left", "width": width, "depth": deep,
            "distance": (part.length - width) / 2 if distance is None else distance,
        }  # fmt: skip
        halving = report.typed(adapter("halving"), raw, steps, reader, lambda: kind_schema("halving"))
        if halving is None:
            return None
        names.append(_add(halving, pieces, piece, steps))
    if "" in names:
        return None
    return Joint(
        name=name,
        enters_piece=over.name,
        its=Seat(over.name, feature=names[1]),
        seat=Seat(under.name, feature=names[0]),
        fixed=form.fixed,
        fit=form.fit,
        play=form.play,
        after=form.after,
        assembly=form.assembly,
        crossing=True,
        place=report.tree.place(steps),
    )


def _add(halving: Feature, pieces: Pieces, piece: Piece, steps: Steps) -> str:
    """The name of this halving on the piece's part, where it is put if it is not there yet; empty after an error."""
    part, report = pieces.parts[piece.part], pieces.report
    for known in part.features.values():
        if known.kind == halving.kind and replace(known, name=halving.name) == halving:
            return known.name
    if halving.name in (*pieces.written[part.name], *part.features):
        what = f"'{part.name}' already has a feature '{halving.name}'."
        report.error("name-taken", steps, what, remedy="Give the crossing another name.")
        return ""
    for found in halving.check(part.block, part.grain):
        if found.code in FLAWS:
            report.error(found.code, steps, f"On '{part.name}': {found.what}", found.why, found.remedy)
            return ""
    pieces.parts[part.name] = with_feature(part, halving, steps, report)
    return halving.name


def make_overall(name: str, form: OverallForm, pieces: Pieces) -> Overall | None:
    """The overall measure of a form; `None`, with the errors noted, if it names what is not there."""
    steps: Steps = ("overall", name)
    seats = []
    for key, text in (("from", form.from_), ("to", form.to)):
        spot = pieces.spot(text, (*steps, key))
        face = pieces.face(spot[1], spot[0], (*steps, key)) if spot else None
        if spot and face:
            seats.append(Seat(spot[0].name, face))
    if len(seats) < 2:
        return None
    return Overall(name, seats[0], seats[1], form.is_, pieces.report.tree.place(steps))
