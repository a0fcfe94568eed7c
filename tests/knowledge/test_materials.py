"""The list of woods and sheets, what a name means, what a plan says of names it does not know, and what a school may change."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.findings import Refused, Unusable
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.materials import density_class, find_material, largest_movement, names_of
from sequencer.model.job import Aim
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan, ways_of
from tests.made import job, knowledge, workshop

MATERIALS = knowledge().materials
WOODS = {name: each for name, each in MATERIALS.items() if each.hardness != "sheet"}
SHEETS = {name: each for name, each in MATERIALS.items() if each.hardness == "sheet"}
UNNAMED = {"treated-pine", "reclaimed-timber"}


def plan_in(
    material: str,
    botanical: str = "",
    extraction: bool = True,
    aim: Aim = "most-by-students",
    shop: str = "full",
    known: Knowledge | None = None,
) -> Plan:
    """The herb caddy of another wood, in a workshop with or without extraction at its drill."""
    caddy = job("herb-caddy")
    stock = {
        name: replace(each, material=material, botanical=botanical, hardness="unknown") for name, each in caddy.stock.items()
    }
    school = workshop(shop)
    stations = {
        name: replace(each, extraction=extraction if each.kind == "pillar-drill" else each.extraction)
        for name, each in school.stations.items()
    }
    return make_plan(replace(caddy, stock=stock, aim=aim), replace(school, stations=stations), known or knowledge())


def test_the_list_holds_the_woods_and_sheets_that_schools_meet() -> None:
    assert len(WOODS) - len(UNNAMED) >= 60
    assert len(SHEETS) >= 12
    assert sum(each.hardness == "softwood" for each in WOODS.values()) >= 15


@pytest.mark.parametrize("name", sorted(set(WOODS) - UNNAMED))
def test_every_wood_says_what_the_plan_needs(name: str) -> None:
    wood = WOODS[name]
    assert wood.botanical
    assert wood.density is not None
    assert wood.density_source
    assert wood.works
    assert wood.durability is not None
    assert wood.durability_source
    assert bool(wood.movement_source) is (wood.tangential is not None)
    assert not wood.blunting
    assert wood.dust_counts_as == wood.hardness


@pytest.mark.parametrize("name", SHEETS)
def test_every_sheet_says_what_holds_in_it_and_that_it_blunts(name: str) -> None:
    sheet = SHEETS[name]
    assert sheet.fixing
    assert sheet.blunting
    assert sheet.density is not None
    assert sheet.tangential is None
    assert sheet.radial is None


def test_what_no_one_names_in_a_board_counts_as_hardwood_dust() -> None:
    assert {name for name, sheet in SHEETS.items() if sheet.dust_counts_as == "softwood"} == {"pine-plywood", "osb"}


def test_fibreboards_bring_the_hazard_of_their_dust() -> None:
    for name, sheet in SHEETS.items():
        if "MDF" in sheet.name or name in ("hardboard", "chipboard", "melamine-chipboard", "osb"):
            assert "mdf-dust" in sheet.hazards, name


def test_effects_and_words_agree() -> None:
    for wood in MATERIALS.values():
        assert ("cancer" in wood.effects) == ("cancer" in wood.dust.lower()), wood.name
        assert ("poison" in wood.effects) == ("poison" in wood.dust.lower()), wood.name
        assert ("nut-tree" in wood.effects) == ("nut allergy" in wood.dust), wood.name
        if "allergy" in wood.dust.replace("nut allergy", "").replace("latex allergy", ""):
            assert "sensitiser" in wood.effects, wood.name


def test_a_heavy_wood_is_not_soft_to_work() -> None:
    for wood in WOODS.values():
        if wood.density is not None and density_class(wood.density) in ("heavy", "very heavy"):
            assert wood.works in ("medium", "hard"), wood.name
    assert [density_class(each) for each in (160, 450, 451, 700, 900)] == ["light", "light", "medium", "heavy", "very heavy"]


@pytest.mark.parametrize("asked", ["Tectona grandis", "TEAK", "teak", "Burma teak", "burma-teak"])
def test_a_wood_is_found_by_any_of_its_names(asked: str) -> None:
    assert find_material(asked, MATERIALS).names == ("teak",)


@pytest.mark.parametrize(
    ("asked", "some"),
    [
        ("cedar", {"western-red-cedar", "eastern-redcedar", "cedar-of-lebanon"}), ("deal", {"european-redwood", "spruce"}),
        ("whitewood", {"spruce", "tulipwood"}), ("redwood", {"european-redwood", "redwood"}),
        ("mahogany", {"mahogany", "african-mahogany", "sapele"}), ("Quercus", {"oak", "white-oak", "red-oak"}),
        ("plywood", {"pine-plywood", "birch-plywood"}), ("pine", {"radiata-pine", "european-redwood", "white-pine"}),
        ("sycamore", {"sycamore", "american-sycamore"}), ("tulipwood", {"tulipwood"}), ("dowel", {"beech", "ramin"}),
    ],
)  # fmt: skip
def test_a_name_that_several_bear_means_any_of_them(asked: str, some: set[str]) -> None:
    assert some <= set(find_material(asked, MATERIALS).names)


def test_of_several_the_most_cautious_figure_is_taken() -> None:
    cedar = find_material("cedar", MATERIALS).material
    assert cedar is not None
    assert {"irritant", "sensitiser", "lungs"} <= set(cedar.effects)
    assert "species-dust" in cedar.hazards
    assert cedar.tangential is None  # of one of them none is known, and it may be the largest
    oak = find_material("oak", MATERIALS).material
    assert oak is not None
    assert oak.tangential == max(MATERIALS[name].tangential or 0 for name in ("oak", "white-oak", "red-oak"))
    whitewood = find_material("whitewood", MATERIALS).material
    assert whitewood is not None
    assert whitewood.dust_counts_as == "hardwood"
    for word in {word for each in MATERIALS.values() for word in names_of(each)}:
        found = find_material(word, MATERIALS)
        assert found.material is not None
        for name in found.names:
            assert set(MATERIALS[name].effects) <= set(found.material.effects)
            assert set(MATERIALS[name].hazards) <= set(found.material.hazards)
            assert (MATERIALS[name].durability or 0) <= (found.material.durability or 9)


def test_a_botanical_name_decides_and_an_unknown_one_leaves_it_unknown() -> None:
    assert find_material("oak", MATERIALS, "Quercus rubra").names == ("red-oak",)
    assert find_material("oak", MATERIALS, "Quercus robur L.").names == ("oak",)
    assert find_material("oak", MATERIALS, "Quercus robur, Quercus rubra").names == ("oak", "red-oak")
    assert find_material("oak", MATERIALS, "Quercus robur, Grevillea robusta").names == ()
    assert find_material("oak", MATERIALS, "Grevillea robusta").names == ()
    assert find_material("oak", MATERIALS, "Grevillea robusta").material is None


def test_a_misspelt_name_is_unknown_and_says_what_was_meant() -> None:
    found = find_material("radiate pine", MATERIALS)
    assert found.material is None
    assert found.near == "radiata pine"
    assert find_material("xyzzy", MATERIALS).near == ""


def test_a_plan_warns_of_a_wood_that_is_not_listed() -> None:
    made = plan_in("radiate pine")
    (finding,) = {each.what: each for each in made.findings if each.code == "unlisted-material"}.values()
    assert finding.level == "warning"
    assert "radiate pine" in finding.what
    assert "hardwood dust" in finding.what
    assert "not harmless" in finding.why
    assert "Did you mean radiata pine?" in finding.remedy
    assert "extraction" in finding.remedy
    (line,) = [line for line in made.materials if line.startswith("Dust of radiate pine")]
    assert "does not mean that it is harmless" in line
    assert "Counts as hardwood dust" in line
    assert all(part.hardness in ("unknown", "sheet") for part in made.parts)


def test_a_known_wood_brings_no_such_warning_and_says_what_its_dust_does() -> None:
    made = plan_in("European oak")
    assert not {"unlisted-material", "ambiguous-material", "unlisted-without-extraction"} & {each.code for each in made.findings}
    (line,) = [line for line in made.materials if line.startswith("Dust of European oak")]
    assert "nasal cancer" in line
    assert "Counts as hardwood dust" in line
    assert "ACGIH" in line


def test_a_plan_says_which_woods_a_name_may_mean() -> None:
    (finding,) = {each.what: each for each in plan_in("oak").findings if each.code == "ambiguous-material"}.values()
    assert "European oak" in finding.what
    assert "American red oak" in finding.what
    assert "botanical name" in finding.remedy
    assert not [each for each in plan_in("oak", "Quercus alba").findings if each.code == "ambiguous-material"]


def test_a_wood_nobody_knows_at_a_machine_without_extraction_is_said() -> None:
    made = plan_in("mystery wood", extraction=False, aim="least-time")
    found = [each for each in made.findings if each.code == "unlisted-without-extraction"]
    assert found
    assert all("extraction" in each.what and each.level == "warning" for each in found)
    assert not [
        each for each in plan_in("European oak", extraction=False, aim="least-time").findings if "extraction" in each.code
    ]


def outdoors(glue: str, material: str) -> set[str]:
    caddy = job("herb-caddy")
    stock = {name: replace(each, material=material, hardness="unknown", botanical="") for name, each in caddy.stock.items()}
    made = make_plan(replace(caddy, outdoors=True, glue=glue, stock=stock), workshop(), knowledge())
    return {each.code for each in made.findings if each.code.endswith("-outdoors")}


@pytest.mark.parametrize(
    ("glue", "material", "codes"),
    [
        ("pva", "European oak", {"glue-outdoors"}), ("water-resistant-pva", "European beech", {"wood-outdoors"}),
        ("water-resistant-pva", "teak", set()), ("casein", "standard MDF", {"glue-outdoors", "wood-outdoors"}),
        ("polyurethane", "mystery wood", {"wood-outdoors"}),
    ],
)  # fmt: skip
def test_what_does_not_stand_the_weather_is_said_where_a_job_is_for_outdoors(glue: str, material: str, codes: set[str]) -> None:
    assert outdoors(glue, material) == codes


def test_indoors_nothing_is_said_of_weather() -> None:
    assert not [each for each in plan_in("European beech").findings if each.code.endswith("-outdoors")]


@pytest.mark.parametrize(("glue", "operator"), [("pva", "student"), ("contact", "staff")])
def test_a_glue_that_is_staffs_is_put_on_by_staff(glue: str, operator: str) -> None:
    made = make_plan(replace(job("herb-caddy"), glue=glue), workshop(), knowledge())
    glued = [task for task in made.tasks if task.kind == "glue"]
    assert glued
    assert {task.who.operator for task in glued} == {operator}


def test_what_the_lists_own_notes_leave_out_is_left_out() -> None:
    left = {name for name, each in knowledge().materials.items() if "Leave it out of class work" in each.dust}
    assert left == {name for name, each in knowledge().materials.items() if each.class_work == "refuse"} == {"yew", "rosewood"}
    staffs = {name for name, each in knowledge().materials.items() if each.class_work == "staff"}
    assert staffs == {"reclaimed-timber", "iroko", "western-red-cedar", "obeche"}
    assert [name for name, each in knowledge().materials.items() if each.class_work == "staff-all"] == ["treated-pine"]


@pytest.mark.parametrize("wood", ["yew", "Taxus baccata", "rosewood", "cocobolo"])
def test_a_plan_with_a_wood_left_out_of_class_work_is_refused(wood: str) -> None:
    with pytest.raises(Refused) as refused:
        plan_in(wood)
    found = [each for each in refused.value.findings if each.code == "wood-left-out"]
    assert found
    assert all(wood in each.what and "Leave it out" in each.why and each.remedy for each in found)


@pytest.mark.parametrize(
    "wood", ["treated pine", "reclaimed timber", "pallet wood", "iroko", "western red cedar", "cedar", "mystery wood"]
)
def test_dust_of_a_wood_that_is_staffs_is_made_by_staff_alone(wood: str) -> None:
    for made in (plan_in(wood), plan_in(wood, aim="least-time")):
        cuts = {step.id: {task.cut for task in made.tasks if task.id in step.tasks} for step in made.steps}
        for step in made.steps:
            if step.kind != "work" or cuts[step.id] == {"none"}:
                continue
            assert step.stop.startswith("Let staff look at this board first.")
            powered = knowledge().stations[step.station_kind].power in ("machine", "powered-hand")
            if powered or "sand" in cuts[step.id]:
                assert step.card == "staff", step.title
    assert [step for step in made.steps if step.kind == "work" and knowledge().stations[step.station_kind].power == "machine"]
    if wood != "mystery wood":
        (said,) = [each for each in made.findings if each.code == "wood-for-staff"]
        assert wood in said.what
        assert all(name in said.what for name in job("herb-caddy").stock)
        assert said.why


def by_hand(made: Plan) -> set[str]:
    """Who cuts the wood of a plan by hand, sanding left out."""
    shaping = {task.id for task in made.tasks if task.cut not in ("none", "sand")}
    return {
        step.card
        for step in made.steps
        if step.kind == "work" and shaping & set(step.tasks) and knowledge().stations[step.station_kind].power == "hand"
    }


# No list holds every name of treated wood: the word is enough, with a botanical name and in brackets too.
@pytest.mark.parametrize(
    ("name", "botanical"),
    [
        ("treated larch", ""),
        ("treated larch", "Larix decidua"),
        ("larch (treated)", ""),
        ("pressure-treated spruce", ""),
        ("Pressure Treated mystery wood", ""),
        ("impregnated pine", ""),
        ("preserved decking", ""),
        ("CCA pine", ""),
        ("creosoted oak", ""),
        ("creosote sleeper", ""),
        ("H4 pine", ""),
        ("treated plywood", ""),
    ],
)
def test_a_name_that_says_treated_means_treated_whatever_is_listed(name: str, botanical: str) -> None:
    found = find_material(name, knowledge().materials, botanical)
    assert found.material is not None
    assert found.material.class_work == "staff-all"
    assert "treated-timber" in found.material.hazards
    assert "poison" in found.material.effects
    assert found.material.laser is None
    if "larch" in name:
        assert "larch" in " ".join(found.names)


@pytest.mark.parametrize("name", ["untreated larch", "non-treated larch", "not treated larch", "larch", "copper beech"])
def test_what_does_not_say_treated_is_not_taken_to_be(name: str) -> None:
    assert "treated-pine" not in find_material(name, knowledge().materials).names


def test_a_schools_own_treated_wood_is_what_its_list_says(tmp_path: Path) -> None:
    text = (
        "our-larch:\n  name: treated larch\n  botanical: Larix decidua\n  hardness: softwood\n  class_work: staff\n"
        "  dust: Dust with preservative.\n  source: the supplier's data sheet\n"
    )
    mine = load_knowledge(own(tmp_path, text)).materials
    assert find_material("treated larch", mine).names == ("our-larch",)
    assert "treated-pine" not in find_material("treated larch", mine, "Larix decidua").names


@pytest.mark.parametrize(
    "name", ["treated pine", "pressure-treated lumber", "treated timber", "treated larch", "pressure-treated spruce"]
)
def test_staff_alone_cut_treated_timber_by_hand_too(name: str) -> None:
    made = plan_in(name, shop="hand-tools")
    assert by_hand(made) == {"staff"}
    # What cuts nothing stays the students': setting out, fitting, gluing.
    assert "student" in {step.card for step in made.steps if step.kind == "work"}
    assert {task.cut for step in made.steps if step.card == "student" for task in made.tasks if task.id in step.tasks} == {"none"}
    (said,) = [each for each in made.findings if each.code == "wood-for-staff"]
    assert "every cut and all sanding of it, by hand too" in said.what
    assert "preservative" in said.why
    assert "the school may decide otherwise in its own list of woods, with who and why" in said.remedy
    assert "student" in by_hand(plan_in("reclaimed timber", shop="hand-tools"))


def test_a_school_that_knows_its_treated_timber_may_decide_otherwise_and_it_is_printed(tmp_path: Path) -> None:
    text = (
        "treated-pine:\n  name: preservative-treated pine\n  hardness: softwood\n  class_work: staff\n"
        "  dust: Dust with preservative.\n  source: the supplier's data sheet\n"
    )
    own_knowledge = load_knowledge(own(tmp_path, text))
    (change,) = own_knowledge.changes
    assert "class work staff instead of staff-all" in " ".join(change.looser)
    made = plan_in("preservative-treated pine", shop="hand-tools", known=own_knowledge)
    assert "student" in by_hand(made)
    assert [line.about for line in made.changes] == [change.about]


@pytest.mark.parametrize(
    ("wood", "operators"), [("European oak", {"student"}), ("treated pine", {"staff"}), ("cedar", {"staff"})]
)
def test_sanding_by_hand_is_staffs_where_the_wood_is(wood: str, operators: set[str]) -> None:
    caddy = job("herb-caddy")
    stock = {name: replace(each, material=wood, botanical="", hardness="unknown") for name, each in caddy.stock.items()}
    sanded = next(task.id for task in plan_in("European oak").tasks if task.cut == "sand")
    ((_, ways, _),) = ways_of(sanded, replace(caddy, stock=stock), workshop(), knowledge())
    assert {way.who.operator for way in ways if way.kind == "abrasive"} == operators


def test_a_wood_for_students_stays_theirs_to_sand() -> None:
    made = plan_in("European oak")
    assert "student" in {task.who.operator for task in made.tasks if task.cut == "sand"}
    assert not [step for step in made.steps if "this board" in step.stop]


def test_a_school_that_lets_a_wood_back_into_class_is_told_so(tmp_path: Path) -> None:
    text = (
        "yew:\n  name: yew\n  botanical: Taxus baccata\n  hardness: softwood\n  dust: Dust.\n  source: measured in our workshop\n"
    )
    (change,) = load_knowledge(own(tmp_path, text)).changes
    assert "class work students instead of refuse" in change.looser


ENTRY = "oak:\n  name: European oak\n  botanical: Quercus robur, Quercus petraea\n  hardness: hardwood\n"


def own(folder: Path, text: str) -> Path:
    lists = folder / "operations" / "lists"
    lists.mkdir(parents=True)
    (lists / "materials.yaml").write_text(text, encoding="utf-8")
    return folder


def test_a_school_that_says_less_of_a_wood_is_told_so(tmp_path: Path) -> None:
    text = (
        ENTRY
        + "  tangential: 0.001\n  radial: 0.001\n  dust_class: softwood\n  dust: Dust.\n  source: measured in our workshop\n"
    )
    (change,) = load_knowledge(own(tmp_path, text)).changes
    looser = " ".join(change.looser)
    for said in (
        "`dust` reads otherwise", "no effect sensitiser", "no effect cancer", "no hazard species-dust",
        "`dust_class` reads otherwise", "`tangential` is 0.001 instead of", "`radial` is 0.001 instead of",
        "works not said instead of hard", "more durable outdoors", "`words` reads otherwise",
    ):  # fmt: skip
        assert said in looser, said


@pytest.mark.parametrize(
    ("line", "code", "key"),
    [
        ("  tangential: 0.003", "sheet-moves", "tangential"), ("  effects: [cancer]", "effect-without-hazard", "effects"),
        ("  effects: [itchy]", "unknown-value", "effects"), ("  durability: 6", "less-than-equal", "durability"),
        ("  colour: brown", "unknown-key", "colour"), ("  hazards: [dragons]", "unknown-name", "hazards"),
    ],
)  # fmt: skip
def test_an_entry_that_is_wrong_is_refused_with_its_line(tmp_path: Path, line: str, code: str, key: str) -> None:
    text = f"straw-board:\n  name: straw board\n  hardness: sheet\n{line}\n  dust: Dust of straw.\n  source: from memory\n"
    with pytest.raises(Unusable) as refused:
        load_knowledge(own(tmp_path, text))
    (finding,) = refused.value.findings
    assert finding.place is not None
    assert finding.place.line == 4
    assert key in f"{finding.subject} {finding.what}"
    assert finding.code == code


def test_the_largest_movement_is_that_of_a_wood_on_the_list() -> None:
    assert isinstance(MATERIALS["beech"], Material)
    assert largest_movement(knowledge()) == max(each.tangential or 0 for each in MATERIALS.values())
