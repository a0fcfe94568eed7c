"""Stock, parts and their features, from their forms to the model."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from graphlib import CycleError, TopologicalSorter

from sequencer.features import Feature, feature_kinds
from sequencer.model.frame import FACES, Axis, Block, FaceName, axis_of, sign_of
from sequencer.model.job import Allowance, Part, Stock
from sequencer.model.shapes import bounds_of
from sequencer.reading.job_file import PartForm, StockForm
from sequencer.reading.kinds import adapter, kind_schema
from sequencer.reading.reader import Reader
from sequencer.reading.report import Report
from sequencer.reading.tree import Data, Steps
from sequencer.reading.words import in_short, meant

GRAIN: Mapping[str, Axis] = {"length": "x", "width": "y", "thickness": "z"}

FLAWS = ("outside-part", "nothing-left", "stops-meet", "row-too-long", "tenon-too-long", "tenon-outside-section")
"""Design checks of features that are slips of the file: told with its place before any design is looked at."""


def make_stock(name: str, form: StockForm, report: Report) -> Stock | None:
    """The stock of a form; `None`, with the errors noted, if a size it needs is missing."""
    steps: Steps = ("stock", name)
    thickness = form.diameter or form.thickness or (form.width if form.form == "square" else None)
    if thickness is None and form.form != "bought":
        key = "diameter" if form.form == "round" else "thickness"
        article = "a round stick" if form.form == "round" else f"a {form.form}"
        report.error("missing-key", steps, f"'{key}' is missing.", remedy=f"Add '{key}:', {article} has one.")
        return None
    if form.diameter is not None and form.form != "round":
        report.error("wrong-key", (*steps, "diameter"), f"A {form.form} has no diameter.", remedy="Write thickness and width.")
    if form.sheet is not None and form.form != "sheet":
        what = f"'sheet' is for sheets; this is a {form.form}."
        report.error("wrong-key", (*steps, "sheet"), what, remedy="Write 'form: sheet'.")
    square = thickness if form.form in ("round", "square") else None
    short, long = sorted(form.sheet) if form.sheet else (form.width or square or 0.0, None)
    return Stock(
        name=name,
        material=form.material,
        form=form.form,
        width=short,
        thickness=thickness or 0.0,
        lengths=form.lengths or ((long,) if long else ()),
        surface=form.surface,
        hardness=form.hardness or ("sheet" if form.form == "sheet" else "unknown"),
        botanical=form.botanical,
        sawn_as=form.sawn_as,
    )


def letter(number: int) -> str:
    """A, B … Z, AA, AB … for 0, 1 …"""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def make_parts(report: Report, reader: Reader, stock: Mapping[str, Stock]) -> dict[str, Part]:
    """Every part that can be read, with its features. The errors of the others are noted."""
    raw = report.tree.at(("parts",))
    parts: dict[str, Part] = {}
    for number, (name, data) in enumerate(raw.items() if isinstance(raw, dict) else ()):
        steps: Steps = ("parts", name)
        own = reader.with_faces(_own_names(data, steps, report))
        _known_stock(data, steps, report)
        form = report.form(PartForm, data, steps, own)
        part = form and _make_part(name, letter(number), form, report, own, stock)
        if part:
            parts[name] = part
        elif isinstance(data, dict):
            _read_features(data, steps, None, True, "x", report, own)
    return parts


def _known_stock(data: Data, steps: Steps, report: Report) -> None:
    """Notes a stock that is not in the file, also of a part that cannot be read."""
    named = data.get("stock") if isinstance(data, dict) else None
    known = report.tree.at(("stock",))
    if isinstance(named, str) and named and isinstance(known, dict) and named not in known:
        report.error("unknown-name", (*steps, "stock"), f"There is no stock '{named}'.", remedy=meant(named, known))


def _own_names(data: Data, steps: Steps, report: Report) -> dict[str, FaceName | None]:
    """The part's own names for faces; `None` for what is no face, which is told by the form."""
    names = data.get("names") if isinstance(data, dict) else None
    own: dict[str, FaceName | None] = {}
    for name, face in (names or {}).items() if isinstance(names, dict) else ():
        if name in FACES and name != face:
            report.error("name-taken", (*steps, "names", name), f"'{name}' already is a face.", remedy="Use another word.")
        else:
            own[name] = next((each for each in FACES if each == face), None)
    return own


def _make_part(name: str, mark: str, form: PartForm, report: Report, reader: Reader, stock: Mapping[str, Stock]) -> Part | None:
    steps: Steps = ("parts", name)
    block = _block(form, steps, report, stock)
    raw = report.tree.at(steps)
    if block is None or not isinstance(raw, dict):
        return None
    if form.handed and form.count % 2:
        report.error(
            "odd-pairs",
            (*steps, "count"),
            f"The part is handed and its count is {form.count}.",
            "Half of a handed part are left ones, half right ones.",
            "Write an even count.",
        )
    if axis_of(form.marks.face_side) == axis_of(form.marks.face_edge):
        report.error(
            "marks",
            (*steps, "marks"),
            "The face side and the face edge are parallel.",
            "The face edge is made square to the face side.",
            "Name two faces that meet.",
        )
    for feature in form.features:
        if feature in FACES or feature in form.names:
            report.error("name-taken", (*steps, "features", feature), f"'{feature}' is a face.", remedy="Use another name.")
    features = _read_features(raw, steps, block, form.handed, GRAIN[form.grain], report, reader)
    round_stock = form.stock in stock and stock[form.stock].form == "round"
    return Part(
        name=name,
        letter=mark,
        count=form.count,
        stock=form.stock,
        length=block.length,
        width=block.width,
        thickness=block.thickness,
        features=features,
        handed=form.handed,
        grain=GRAIN[form.grain],
        section=form.section or ("round" if round_stock else "rectangular"),
        names=dict(form.names),
        face_side=form.marks.face_side,
        face_edge=form.marks.face_edge,
        allowances=tuple(Allowance(face, each.amount, each.until) for face, each in form.allowance.items()),
        together=form.together.with_ if form.together else (),
        together_until=form.together.until if form.together else "",
        note=form.note,
        place=report.tree.place(steps),
        feature_places={feature: report.tree.place((*steps, "features", feature)) for feature in features},
    )


def _block(form: PartForm, steps: Steps, report: Report, stock: Mapping[str, Stock]) -> Block | None:
    """The part's size, completed from its stock."""
    if form.stock not in stock:
        return None
    bought = stock[form.stock]
    thickness = form.thickness or form.diameter or bought.thickness
    width = form.width or form.diameter or (0.0 if bought.form == "sheet" else bought.width)
    for key, size in (("width", width), ("thickness", thickness)):
        if not size:
            sheet = bought.form == "sheet" and key == "width"
            why = "A sheet's width is not that of the part." if sheet else f"The stock '{bought.name}' states none."
            report.error("missing-key", steps, f"'{key}' is missing.", why, f"Add '{key}:', the finished {key}.")
    return Block(form.length, width, thickness) if width and thickness else None


def _read_features(
    raw: Mapping[str, Data], steps: Steps, block: Block | None, handed: bool, grain: Axis, report: Report, reader: Reader
) -> dict[str, Feature]:
    """The features that can be read, in the order of the file. Without a block only their keys and values are looked at."""
    written = raw.get("features")
    if not isinstance(written, dict):
        return {}
    read: dict[str, Feature] = {}
    for name in _in_order(written, steps, report):
        at = (*steps, "features", name)
        feature = _read_feature(name, written, at, block, read, report, reader)
        if feature is None:
            continue
        read[name] = feature.on(block) if block else feature
        if feature.only and not handed:
            report.error("only", (*at, "only"), "'only' names a hand, and the part is not handed.", remedy="Add 'handed: true'.")
        if block:
            for found in feature.check(block, grain):
                if found.code in FLAWS:
                    key = "depth" if found.code == "nothing-left" and report.tree.at((*at, "depth")) else None
                    report.error(found.code, (*at, key) if key else at, found.what, found.why, found.remedy)
    return {name: read[name] for name in written if name in read}


def _in_order(written: Mapping[str, Data], steps: Steps, report: Report) -> Iterator[str]:
    """Feature names so that each comes after the one it is measured in; what measures itself is told and left out."""
    needs = {
        name: [inside] if isinstance(value, dict) and isinstance(inside := value.get("in"), str) and inside in written else []
        for name, value in written.items()
    }
    try:
        yield from TopologicalSorter(needs).static_order()
    except CycleError as error:
        loop = error.args[1][::-1]
        report.error("loop", (*steps, "features", loop[0], "in"), f"Features are measured in each other: {' -> '.join(loop)}.")


def _read_feature(
    name: str,
    written: Mapping[str, Data],
    at: Steps,
    block: Block | None,
    read: Mapping[str, Feature],
    report: Report,
    reader: Reader,
) -> Feature | None:
    data = written[name]
    if not isinstance(data, dict):
        report.error("wrong-type", at, f"'{name}' must be a set of keys with values.", remedy="Write {kind: …} with its sizes.")
        return None
    kinds = feature_kinds()
    kind = data.get("kind")
    if kind is None:
        report.error("missing-key", at, "'kind' is missing.", remedy=f"Add 'kind:', one of {in_short(kinds, 'or')}.")
        return None
    if not isinstance(kind, str) or kind not in kinds:
        what = f"'{kind}' is no kind of feature." if isinstance(kind, str) else "'kind' must be text."
        report.error("unknown-kind", (*at, "kind"), what, remedy=meant(kind if isinstance(kind, str) else "", kinds))
        return None
    if "name" in data:
        report.error("unknown-key", (*at, "name"), "'name' is no key here.", remedy=f"Its name is the key '{name}'.")
    own = {key: value for key, value in data.items() if key not in ("kind", "name")}
    values: dict[str, object] = dict(own)
    if "in" in data:
        inside = data["in"]
        if not isinstance(inside, str) or inside not in written:
            others = [other for other in written if other != name]
            what = f"There is no feature '{inside}' on this part."
            report.error("unknown-name", (*at, "in"), what, remedy=meant(str(inside), others))
            return None
        if inside not in read or block is None:
            return None
        measured = _from_lines(name, kind, own, at, block, read[inside], report, reader)
        if measured is None:
            return None
        values = measured
    return report.typed(adapter(kind), {**values, "name": name}, at, reader, lambda: kind_schema(kind))


def _from_lines(
    name: str, kind: str, values: Mapping[str, Data], at: Steps, block: Block, inside: Feature, report: Report, reader: Reader
) -> dict[str, object] | None:
    """The same with distances from faces where they were written from lines of the feature it is in.

    Distances from a line count towards the line's face. Whether a kind is measured to its near side (a channel) or its
    centre (a hole) shows when it is read once at the face itself. `None`, with the errors noted, if it cannot be read.
    """
    lines = inside.lines(block)

    def from_face(line: str, steps: Steps, at_face: Mapping[str, object]) -> float | None:
        face, away = lines[line]
        probe = report.typed(adapter(kind), {**at_face, "name": name}, at, reader, lambda: kind_schema(kind))
        typed = report.tree.at(steps)
        if probe is None:
            return None
        try:
            distance = away - reader.length(typed if isinstance(typed, str) else "0")
        except ValueError as error:
            if str(error):
                report.error("length", steps, str(error))
            return None
        if shapes := probe.removes(block):
            ends = bounds_of(shapes).span(axis_of(face))
            distance -= sum(sign_of(face) * (block.level(face) - end) for end in ends)
        if distance < 0:
            what = f"It reaches beyond the {face} face, {away:g} mm from the {line} of '{inside.name}'."
            report.error("outside-part", steps, what, remedy="Correct its distance or its size.")
            return None
        return distance

    result: dict[str, object] = dict(values)
    start = values.get("from")
    if isinstance(start, str) and start in lines:
        result |= {"from": lines[start][0], "distance": "0"}
        result["distance"] = from_face(start, (*at, "distance"), result)
    spots = values.get("at")
    moved: list[dict[str, object]] = []
    for position, spot in enumerate(spots if isinstance(spots, list) else [spots]):
        if not isinstance(spot, dict):
            return result
        around: Steps = (*at, "at", position) if isinstance(spots, list) else (*at, "at")
        at_face = {lines[key][0] if key in lines else key: "0" if key in lines else value for key, value in spot.items()}
        moved.append(
            {
                lines[key][0] if key in lines else key: (
                    from_face(key, (*around, key), result | {"at": at_face}) if key in lines else value
                )
                for key, value in spot.items()
            }
        )
    result["at"] = moved if isinstance(spots, list) else moved[0]
    return None if result.get("distance", 0) is None or any(None in spot.values() for spot in moved) else result


def with_feature(part: Part, feature: Feature, place_of: Steps, report: Report) -> Part:
    """The part with one more feature, which stands elsewhere in the file."""
    return replace(
        part,
        features={**part.features, feature.name: feature},
        feature_places={**part.feature_places, feature.name: report.tree.place(place_of)},
    )
