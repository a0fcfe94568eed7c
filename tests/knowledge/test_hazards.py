"""Every file of hazards/, the list of what is worn and the drawn signs, read by the real loader."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from xml.etree import ElementTree

import pytest

from sequencer.data import data_folder
from sequencer.knowledge.forms.hazards import BEFORE_RULES, LEVELS, Hazard, HazardControl
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.wording import promise
from sequencer.model.workshop import Who
from sequencer.planning.who import default_who

KNOWLEDGE = load_knowledge()
HAZARDS = sorted(KNOWLEDGE.hazards)
SIGNS = data_folder("cards") / "signs"
GUARDS = data_folder("cards") / "guards"
TURNING = {
    "abrasive-contact",
    "band-blade-contact",
    "circular-blade-contact",
    "crosscut-blade-contact",
    "drill-contact",
    "entanglement",
    "fret-blade-contact",
    "freehand-curves",
    "kickback",
    "lathe-tool-contact",
    "mortise-chisel-contact",
    "planer-cutter-contact",
    "reaching-behind",
    "round-stock",
    "router-cutter-contact",
    "spindle-cutter-contact",
    "spinning-work",
    "unguarded-cut",
}
TOOLS = {tool for station in KNOWLEDGE.stations.values() for operation in station.operations.values() for tool in operation.tools}
CLAIMS = re.compile(r"\b((un)?safe\w*|complian\w*|complies|approved|certified)\b", re.IGNORECASE)
HEADINGS = ["What goes wrong", "Early signs", "What the plan can change", "Supervision"]


def controls(hazard: Hazard) -> Iterator[tuple[str, HazardControl]]:
    for level, items in hazard.controls.items():
        for item in items:
            yield level, item


def words(text: str) -> list[str]:
    return re.findall(r"[A-Za-z0-9][A-Za-z0-9'’-]*", text)


def own_sentences(hazard: Hazard) -> Iterator[str]:
    """Every text of ours; sources are left out, for titles of publications are not our words."""
    yield from (hazard.name, hazard.happens, hazard.student, hazard.first_aid, hazard.body)
    yield from hazard.whom
    yield from hazard.stop_when
    yield from (item.text for _, item in controls(hazard))


def reading_grade(text: str) -> float:
    """Automated readability index, Smith and Senter 1967: grade of a US school, from letters and words."""
    sentences = max(1, len(re.findall(r"[.!?;:]", text)))
    found = words(text)
    letters = sum(len(word) for word in found)
    return 4.71 * letters / len(found) + 0.5 * len(found) / sentences - 21.43


def test_the_folder_and_the_loader_agree() -> None:
    files = {path.stem for path in data_folder("hazards").glob("*.md")} - {"README"}
    assert files == set(HAZARDS)
    assert len(files) >= 48


@pytest.mark.parametrize("name", HAZARDS)
def test_note_for_adults_has_its_four_parts_and_length(name: str) -> None:
    body = KNOWLEDGE.hazards[name].body
    assert re.findall(r"^## (.+)$", body, re.MULTILINE) == HEADINGS
    assert 80 <= len(words(body)) <= 200


@pytest.mark.parametrize("name", HAZARDS)
def test_student_line_is_short_and_plain(name: str) -> None:
    line = KNOWLEDGE.hazards[name].student
    assert len(line.split()) <= 12
    assert line.endswith(".")
    assert max(len(word) for word in words(line)) <= 10
    assert reading_grade(line) <= 6.0


@pytest.mark.parametrize("name", HAZARDS)
def test_levels_run_from_the_strongest(name: str) -> None:
    levels = list(KNOWLEDGE.hazards[name].controls)
    assert levels == sorted(levels, key=LEVELS.index)
    assert all(KNOWLEDGE.hazards[name].controls[level] for level in levels)


@pytest.mark.parametrize("name", HAZARDS)
def test_a_control_above_rules_and_equipment_exists(name: str) -> None:
    hazard = KNOWLEDGE.hazards[name]
    assert set(hazard.controls) & set(BEFORE_RULES)
    if hazard.blade:
        assert [item for level, item in controls(hazard) if level in BEFORE_RULES and (item.guard or item.holding)]


@pytest.mark.parametrize("name", [name for name in HAZARDS if KNOWLEDGE.hazards[name].blade and name in TURNING])
def test_a_turning_blade_has_a_named_guard(name: str) -> None:
    assert [item for level, item in controls(KNOWLEDGE.hazards[name]) if level in BEFORE_RULES and item.guard]


@pytest.mark.parametrize(
    ("station", "operation"),
    [(station, operation) for station in KNOWLEDGE.stations.values() for operation in station.operations.values()],
    ids=[name for station in KNOWLEDGE.stations.values() for name in station.operations],
)
def test_no_operation_rests_on_rules_and_equipment_alone_against_a_blade(station: StationKind, operation: Operation) -> None:
    """Whatever of its guards and ways of holding a workshop has, one of them stands before a hand."""
    always = {*operation.guards.all_of, *operation.holding.all_of, *operation.tools}
    for name in {*station.hazards, *operation.hazards}:
        hazard = KNOWLEDGE.hazards[name]
        carries = {
            thing
            for level, item in controls(hazard)
            if level in BEFORE_RULES
            for thing in (item.guard, item.holding, item.tool)
            if thing
        }
        choices = [{*asked.any_of} for asked in (operation.guards, operation.holding) if asked.any_of]
        assert not hazard.blade or always & carries or any(choice <= carries for choice in choices), name


@pytest.mark.parametrize("name", HAZARDS)
def test_each_control_is_carried_out_by_one_thing_that_is_listed(name: str) -> None:
    for level, item in controls(KNOWLEDGE.hazards[name]):
        assert sum(map(bool, (item.guard, item.holding, item.tool, item.wear))) <= 1
        assert not item.guard or item.guard in KNOWLEDGE.guards
        assert not item.holding or item.holding in KNOWLEDGE.holding
        assert not item.wear or item.wear in KNOWLEDGE.wear
        assert not (item.guard or item.holding or item.tool) or level in BEFORE_RULES
        assert not item.tool or item.tool in TOOLS
        assert not item.wear or level in {"administrative", "ppe"}


@pytest.mark.parametrize("name", HAZARDS)
def test_nothing_forbidden_is_asked_for(name: str) -> None:
    hazard = KNOWLEDGE.hazards[name]
    assert not set(hazard.forbids) & {item.wear for _, item in controls(hazard)}
    for thing in hazard.forbids:
        assert KNOWLEDGE.wear[thing].forbidden_line
        assert KNOWLEDGE.wear[thing].forbidden_drawing


def test_turning_parts_forbid_gloves_loose_clothing_and_jewellery() -> None:
    for name in TURNING:
        assert {"gloves", "loose-clothing", "jewellery"} <= set(KNOWLEDGE.hazards[name].forbids), name


def test_gloves_are_asked_for_only_where_nothing_turns() -> None:
    asking = {name for name in HAZARDS if any(item.wear == "gloves" for _, item in controls(KNOWLEDGE.hazards[name]))}
    products = {name for name in HAZARDS if KNOWLEDGE.hazards[name].ghs}
    assert asking <= products | {"finish-vapour", "glue-contact", "manual-handling", "nut-oil", "oily-rags"}
    assert {"epoxy-glue", "polyurethane-glue", "solvent-finish"} <= asking


def test_a_step_never_ends_up_with_gloves_at_a_turning_part() -> None:
    """Whatever hazards an operation gathers, where any of them turns, one of them takes gloves away."""
    for station in KNOWLEDGE.stations.values():
        for label, operation in station.operations.items():
            here = {*station.hazards, *operation.hazards}
            forbidden = {thing for name in here for thing in KNOWLEDGE.hazards[name].forbids}
            if station.power in {"machine", "powered-hand"}:
                assert "gloves" in forbidden, f"{station.station}/{label}"
                assert "gloves" not in {*station.wear, *operation.wear}, f"{station.station}/{label}"


@pytest.mark.parametrize("name", HAZARDS)
def test_first_aid_points_to_the_school(name: str) -> None:
    text = KNOWLEDGE.hazards[name].first_aid
    assert re.search(r"school's (first-aid|fire) procedure", text)
    assert re.search(r"first aider|staff", text)


@pytest.mark.parametrize("name", HAZARDS)
def test_text_makes_no_claims(name: str) -> None:
    hazard = KNOWLEDGE.hazards[name]
    for text in own_sentences(hazard):
        assert not CLAIMS.search(text), text
        assert not promise(text), text
        assert text == text.strip() or text is hazard.body


@pytest.mark.parametrize("name", HAZARDS)
def test_a_figure_in_the_text_has_a_source(name: str) -> None:
    """Measures (10 mm, 85 dB) stand in sources, where their origin is; the text itself names none."""
    measure = re.compile(r"\d+\s*(mm|cm|m|s|dB|%)\b")
    for text in own_sentences(KNOWLEDGE.hazards[name]):
        assert not measure.search(text), text


@pytest.mark.parametrize("name", HAZARDS)
def test_sources_are_citations_or_marked(name: str) -> None:
    marked = re.compile(r"^(common practice|from memory)\b")
    cited = re.compile(r"\d|page|sheet|list|case|cases|standard")
    for source in KNOWLEDGE.hazards[name].sources:
        assert marked.match(source) or cited.search(source), source
        assert "from memory" not in source or source.startswith("from memory"), source


def test_wear_lines_are_one_short_imperative() -> None:
    for item in KNOWLEDGE.wear.values():
        for line in filter(None, (item.line, item.forbidden_line)):
            assert len(line.split()) <= 12
            assert line.split()[0] in KNOWLEDGE.verbs
            assert line.count(".") == 1
        for text in (item.name, item.line, item.forbidden_line):
            assert not CLAIMS.search(text)


def test_wear_codes_are_those_of_the_standard() -> None:
    """ISO 7010 numbers, as listed in public copies (M026 from memory); none where no sign has the meaning."""
    codes = {name: (item.code, item.forbidden_code) for name, item in KNOWLEDGE.wear.items()}
    assert codes == {
        "eye-protection": ("M004", ""),
        "ear-protection": ("M003", ""),
        "goggles": ("M004", ""),
        "face-shield": ("M013", ""),
        "respirator": ("M017", ""),
        "dust-mask": ("M016", ""),
        "apron": ("M026", ""),
        "gloves": ("M009", "P028"),
        "tied-hair": ("", ""),
        "loose-clothing": ("", ""),
        "closed-shoes": ("", ""),
        "jewellery": ("", ""),
    }


def test_every_sign_of_the_list_is_named_by_a_hazard() -> None:
    assert {sign for hazard in KNOWLEDGE.hazards.values() for sign in hazard.signs} == set(KNOWLEDGE.signs)


def test_sign_codes_are_those_of_the_standard() -> None:
    """ISO 7010, as listed in public copies, but for W004 and M026, which are from memory; where it is about what is worn, the
    code that `lists/wear.yaml` has for it."""
    worn = {item.drawing: item.code for item in KNOWLEDGE.wear.values()}
    worn |= {item.forbidden_drawing: item.forbidden_code for item in KNOWLEDGE.wear.values() if item.forbidden_drawing}
    others = {
        "general-warning": "W001",
        "laser-beam": "W004",
        "electricity": "W012",
        "hot-surface": "W017",
        "battery-charging": "W026",
        "check-guard": "M027",
        "stop-hand": "",
    }
    assert {name: item.code for name, item in KNOWLEDGE.signs.items()} == worn | others
    assert {name for name, item in KNOWLEDGE.signs.items() if item.with_words} == {"general-warning", "stop-hand"}


def test_every_sign_that_the_sheets_draw_is_there() -> None:
    drawn = {path.stem for path in SIGNS.glob("*.svg")}
    named = {item.drawing for item in KNOWLEDGE.wear.values()}
    named |= {item.forbidden_drawing for item in KNOWLEDGE.wear.values() if item.forbidden_drawing}
    named |= {"general-warning", "general-mandatory", "check-guard", "stop-hand", "tick-box"}
    assert named == drawn


def test_every_guard_is_drawn() -> None:
    assert {item.drawing for item in KNOWLEDGE.guards.values()} == {path.stem for path in GUARDS.glob("*.svg")}


def test_guard_codes_are_those_of_the_standard() -> None:
    """ISO 7010: P003 as listed in public copies, M031 from memory; no sign has just the meaning of another guard."""
    assert {name: item.code for name, item in KNOWLEDGE.guards.items() if item.code} == {
        "crown-guard": "M031",
        "no-ignition": "P003",
    }
    assert not [name for name, item in KNOWLEDGE.holding.items() if item.code]


@pytest.mark.parametrize("path", sorted((*SIGNS.glob("*.svg"), *GUARDS.glob("*.svg"))), ids=lambda path: path.stem)
def test_sign_is_small_plain_and_black_and_white(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.encode()) < 2048
    root = ElementTree.fromstring(text)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("viewBox") == "0 0 100 100"
    title = root.find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text
    for element in root.iter():
        assert element.tag.rpartition("}")[2] in {"svg", "title", "g", "path", "circle", "ellipse", "rect"}
        assert not {"id", "class", "style", "href", "filter", "opacity"} & set(element.attrib)
        for key in ("fill", "stroke"):
            assert element.get(key) in {None, "black", "white", "none"}
        assert not [key for key in element.attrib if key.startswith("on")]


def test_signs_have_the_shape_of_their_class() -> None:
    """Mandatory: filled disc; prohibition: ring and bar (ISO 3864 shapes without colour); warning: triangle."""

    def text(name: str) -> str:
        return (SIGNS / f"{name}.svg").read_text(encoding="utf-8")

    asked = [item.drawing for item in KNOWLEDGE.wear.values() if item.drawing != item.forbidden_drawing]
    for name in [*asked, "general-mandatory", "check-guard"]:
        assert '<circle cx="50" cy="50" r="49" fill="black"/>' in text(name), name
    for name in [item.forbidden_drawing for item in KNOWLEDGE.wear.values() if item.forbidden_drawing]:
        assert '<path d="M18 18 82 82" stroke="black"' in text(name), name
        assert 'fill="none" stroke="black" stroke-width="9"' in text(name), name
    assert 'd="M50 8 95 88H5Z"' in text("general-warning")


def test_the_readme_explains_every_key() -> None:
    text = (data_folder("hazards") / "README.md").read_text(encoding="utf-8")
    for item in fields(Hazard):
        if item.name != "body":
            assert f"| `{item.name}` |" in text
    for item in fields(HazardControl):
        assert item.name in text
    for level in LEVELS:
        assert f"`{level}`" in text
    assert not CLAIMS.search(text)


@pytest.mark.parametrize(
    ("name", "brings"),
    [
        ("polyurethane", "polyurethane-glue"),
        ("urea-formaldehyde", "urea-formaldehyde-glue"),
        ("epoxy", "epoxy-glue"),
        ("hide-glue", "hot-hide-glue"),
        ("danish-oil", "oil-finish"),
        ("linseed-oil", "oil-finish"),
        ("tung-oil", "nut-oil"),
        ("oil-varnish", "solvent-finish"),
        ("water-based-varnish", "water-based-finish"),
        ("water-based-paint", "water-based-finish"),
        ("shellac", "shellac-finish"),
        ("wax", "wax-finish"),
    ],
)
def test_a_glue_or_finish_brings_the_hazard_of_its_family(name: str, brings: str) -> None:
    assert brings in {**KNOWLEDGE.glues, **KNOWLEDGE.finishes}[name].hazards


STAFF_ONLY = re.compile(r"(The default is s|^S)taff only\b", re.MULTILINE)
BESIDE = re.compile(r"The default is sign-off and an adult beside\b")
DEFAULT = re.compile(r"\bdefault\b", re.IGNORECASE)


def supervision_of(hazard: Hazard) -> str:
    return hazard.body.partition("## Supervision")[2]


def defaults_where(name: str) -> dict[str, Who]:
    """Who does each operation that meets a hazard, as the files of the stations say."""
    return {
        way: default_who(kind, operation)
        for kind in KNOWLEDGE.stations.values()
        for way, operation in kind.operations.items()
        if name in (*operation.hazards, *kind.hazards)
    }


@pytest.mark.parametrize("name", HAZARDS)
def test_what_a_note_says_is_the_default_is_the_default_of_every_station_that_names_it(name: str) -> None:
    said, met = supervision_of(KNOWLEDGE.hazards[name]), defaults_where(name)
    if STAFF_ONLY.search(said):
        products = [*KNOWLEDGE.glues.values(), *KNOWLEDGE.finishes.values()]
        assert all(product.staff for product in products if name in product.hazards)
        assert {way: who for way, who in met.items() if who.operator not in ("staff", "nobody")} == {}
    elif BESIDE.search(said):
        assert met
        assert {way: who for way, who in met.items() if who != Who("student", "beside", "signed-off")} == {}
    else:
        assert not DEFAULT.search(said), "a default that nothing holds it to"


def test_the_notes_of_cutting_machines_say_their_default() -> None:
    """The count is not empty: the notes that a reader looks up for it say it."""
    staff = {name for name in HAZARDS if STAFF_ONLY.search(supervision_of(KNOWLEDGE.hazards[name]))}
    assert staff >= {
        "band-blade-contact", "circular-blade-contact", "planer-cutter-contact", "router-cutter-contact",
        "spindle-cutter-contact", "spray-mist", "unguarded-cut",
    }  # fmt: skip
    assert {name for name in HAZARDS if BESIDE.search(supervision_of(KNOWLEDGE.hazards[name]))} == {"laser-radiation"}


def test_staff_empty_the_tray_of_the_laser_cold_and_with_the_machine_isolated() -> None:
    """Crumbs glow on: no student empties the tray, and the tray is looked at before the start."""
    laser = KNOWLEDGE.stations["laser-cutter"]
    assert laser.set_up_by == "staff"
    assert "Isolate the machine." in KNOWLEDGE.staff_steps["set-up"].first
    assert "Check that staff have emptied the crumb tray." in laser.before_starting
    for name, operation in laser.operations.items():
        said = operation.instructions
        assert said.set[:2] == (
            "Check that the crumbs in the tray are cold.",
            "Empty the crumb tray into a metal bin with a lid.",
        ), name
        students = (*said.card, *said.hold, *said.guard, *said.cut, *said.check)
        assert not [line for line in (*laser.before_starting, *students) if line.startswith("Empty")], name
        assert said.cut[-1] == "Leave the tray and its crumbs to staff.", name
