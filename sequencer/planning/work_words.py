"""The words a work is told in: its parts by their letters, faces by the part's own names, its title by the words of the trade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sequencer.features.base import Feature
from sequencer.model.frame import AXES, FaceName, axis_of, face_at, opposite
from sequencer.model.job import Job, Part
from sequencer.model.marks import Plunges, Shoulders
from sequencer.planning.glue_words import glued_words
from sequencer.planning.laying_out import gauged
from sequencer.planning.loose import SLOTS, dowelled_words, gauged_words
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, finish_index, words


def face_words(work: Work, job: Job) -> dict[str, str]:
    """Names for printed sentences: the part's letter, the feature's name, the faces by the part's own names."""
    if not work.part:
        letters = ", ".join(job.parts[name].letter for name, _ in work.parts)
        joints = [job.joints[name] for name in work.joints]
        return {
            "part": letters,
            "name": words(work.feature),
            **dict.fromkeys(("face", "behind", "from", "from-face", "edge", "side"), ""),
            **dict.fromkeys(("over", "rail"), ""),
            "glued": glued_words(job, joints),
            **dowelled_words(job, joints),
            **(gauged_words(job, joints) if work.kind == SLOTS.name else {}),
        }
    part = job.parts[work.part]
    called = {face: words(name) for name, face in part.names.items()}
    feature = work.drawn
    face = feature.opens()[0] if feature is not None and feature.opens() else part.face_side
    start = _measured_from(feature, part) if feature is not None else part.face_edge
    return {
        "part": part.letter,
        "name": words(work.feature),
        "face": called.get(face, face),
        "behind": called.get(opposite(face), opposite(face)),
        "from": called.get(start, start),
        "from-face": _with_its_kind(called.get(start, start), start),
        "beside": _beside(work, part, job) if work.kind == "trim" else "",
        **_tenon_words(feature, part, called),
    }


def _beside(work: Work, part: Part, job: Job) -> str:
    """The letter of the part that an end is trimmed flush with; in general words where it is joined to several."""
    until = next(each.until for each in part.allowances if f"{each.face}-allowance" == work.feature)
    meant = {until, *job.assemblies.get(until, ())}
    joints = [joint for joint in job.joints.values() if {joint.name, joint.assembly} & meant]
    pairs = [{job.part_of(piece).name for piece in (joint.enters_piece, joint.seat.piece)} for joint in joints]
    met = set().union(*(pair - {part.name} for pair in pairs if part.name in pair))
    return job.parts[met.pop()].letter if len(met) == 1 else "the next piece"


def _with_its_kind(called: str, face: FaceName) -> str:
    """A face by its name with what kind of face it is: `outer edge`, also where the part calls it `outer` only."""
    kinds = {"x": "end", "y": "edge", "z": "face"}
    return called if called.split()[-1] in kinds.values() else f"{called} {kinds[axis_of(face)]}"


def face_of(part: Part, face: FaceName) -> str:
    """A face by the part's own name for it, with what kind of face it is: `under face`, `top edge`."""
    return _with_its_kind(next((words(name) for name, own in part.names.items() if own == face), face), face)


def _tenon_words(feature: Feature | None, part: Part, called: Mapping[FaceName, str]) -> dict[str, str]:
    """The `edge` a tenon's width is marked from and the `side` its thickness is gauged from; of all else the face edge and the
    face side."""
    marks = gauged(feature.marks(part.block), part) if feature is not None else None
    keeps = marks.keeps if isinstance(marks, Shoulders) else ()
    start = {axis_of(lines.face): lines.face for lines in keeps}
    found = {}
    for word, true, name in (("edge", part.face_edge, "face edge"), ("side", part.face_side, "face side")):
        face = start.get(axis_of(true), true)
        found[word] = name if face == true else f"{called.get(face, face)} {'edge' if axis_of(face) == 'y' else 'face'}"
    return found


def _measured_from(feature: Feature, part: Part) -> FaceName:
    """The face that “from” means: of slots the one their line is measured from, else the first of all."""
    marks, measured = feature.marks(part.block), feature.measured_from()
    if isinstance(marks, Plunges):
        (across,) = {*AXES} - {axis_of(marks.face), marks.along}
        return next((face for face in measured if axis_of(face) == across), face_at(across, False))
    return measured[0] if measured else part.face_edge


def called_by_way(work: Work, way: Way | None, shop: Shop) -> Work:
    """The work by the words of the trade: a hole is drilled by a drill and bored by a brace; what is rolled up is taped, not
    cramped; a finish has its own name."""
    title = work.title
    if way is not None and shop.knowledge.stations[way.kind].operations[way.operation].rolled_up:
        title = title.replace("Glue and cramp", "Glue and tape", 1)
    if way is not None and way.title.startswith("Drill"):
        title = title.replace("Bore ", "Drill ", 1)
    if work.kind == "coat":
        what = shop.job.finish[finish_index(work)].what
        title = title.replace(words(what), shop.knowledge.finishes[what].name, 1)
    return replace(work, title=title)
