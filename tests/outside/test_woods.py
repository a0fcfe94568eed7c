"""What the dust of woods does, how dense and durable they are, and how names of woods may mislead, against public sources."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.knowledge.materials import find_material
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop

MATERIALS = knowledge().materials

# American Woodturner, June 1990, chart of reactions to woods: wood of the list, letters of the chart (I irritant, S sensitiser, C
# cancer of the nose, P inflamed lungs, N nausea, DT poison). Read in four public copies; it is no regulator's table.
CHART = {
    "american-beech": "S C", "beech": "S C", "birch": "S", "robinia": "I N", "blackwood": "S", "boxwood": "S", "ebony": "I S",
    "elm": "I", "hemlock": "C", "iroko": "I S P", "mahogany": "S P", "maple": "S P", "oak": "S C", "obeche": "I S",
    "padauk": "S", "purpleheart": "N", "redwood": "S P C", "rosewood": "I S", "spruce": "S", "black-walnut": "S",
    "wenge": "S", "willow": "S N", "western-red-cedar": "S", "teak": "S P", "yew": "I DT", "zebrano": "S",
}  # fmt: skip
LETTERS = {"I": "irritant", "S": "sensitiser", "C": "cancer", "P": "lungs", "N": "nausea", "DT": "poison"}


@pytest.mark.parametrize("name", CHART)
def test_every_reaction_of_the_chart_is_said(name: str) -> None:
    wood = MATERIALS[name]
    assert {LETTERS[letter] for letter in CHART[name].split()} <= set(wood.effects)
    assert "American Woodturner" in wood.source
    if CHART[name] != "I":
        assert "species-dust" in wood.hazards


# ACGIH as OSHA quotes it: oak and beech A1, birch, mahogany, teak and walnut A2. Read in a copy.
@pytest.mark.parametrize("name", ["oak", "beech", "birch", "mahogany", "teak", "black-walnut", "european-walnut"])
def test_woods_marked_for_cancer_say_so(name: str) -> None:
    assert "cancer" in MATERIALS[name].effects
    assert "nasal cancer" in MATERIALS[name].dust


# Norrish and others, New Zealand Medical Journal 1992: dust of rimu often named with trouble of the airways. Abstract read in a
# copy; kauri and tawa stand among its keywords. A fact sheet on wood dust names spotted gum as an irritant of the skin.
@pytest.mark.parametrize(
    ("name", "effect"), [("rimu", "sensitiser"), ("kauri", "sensitiser"), ("tawa", "sensitiser"), ("spotted-gum", "irritant")]
)
def test_woods_of_the_south_that_did_harm_say_so(name: str, effect: str) -> None:
    assert effect in MATERIALS[name].effects


# HSE Woodworking Information Sheet 30 rev 1, first page, read in a copy: rosewood may be any of up to 30 species; balsa is a
# hardwood; the wood of particle boards is not always known; woods it does not list may harm too.
def test_rosewood_is_no_single_wood_and_balsa_is_a_hardwood() -> None:
    assert "," in MATERIALS["rosewood"].botanical
    assert MATERIALS["balsa"].hardness == "hardwood"
    assert MATERIALS["balsa"].works == "soft"


@pytest.mark.parametrize("board", ["mdf", "chipboard", "hardboard", "moisture-resistant-mdf", "light-mdf"])
def test_the_wood_of_particle_boards_is_not_known_so_the_stricter_limits_count(board: str) -> None:
    assert MATERIALS[board].dust_counts_as == "hardwood"


@pytest.mark.parametrize("material", ["bubinga", "an old plank"])
def test_a_wood_that_is_not_listed_is_warned_of(material: str) -> None:
    caddy = job("herb-caddy")
    made = make_plan(
        replace(caddy, stock={name: replace(each, material=material) for name, each in caddy.stock.items()}),
        workshop(),
        knowledge(),
    )
    assert any(each.code == "unlisted-material" and each.level == "warning" for each in made.findings)
    assert all("harmless" not in line or "does not mean" in line for line in made.materials)
    assert any("species-dust" in {hazard.name for hazard in step.hazards} for step in made.steps)


# HSE page of questions on MDF, read in a copy: the binder of boards for dry places is mostly urea-formaldehyde.
def test_fibreboard_names_the_formaldehyde_in_it() -> None:
    for name in ("mdf", "fire-retardant-mdf", "light-mdf", "veneered-mdf"):
        assert "formaldehyde" in MATERIALS[name].dust
        assert "mdf-dust" in MATERIALS[name].hazards


# Names that mean several trees: deal and whitewood (trade of the United Kingdom), redwood (Scots pine there, sequoia in the
# United States), sycamore (a maple in Europe, a plane in the United States). From memory, common knowledge of the trade.
@pytest.mark.parametrize(
    ("name", "botanical"),
    [
        ("deal", ("Pinus sylvestris", "Picea abies")), ("redwood", ("Pinus sylvestris", "Sequoia sempervirens")),
        ("whitewood", ("Picea abies", "Liriodendron tulipifera")), ("sycamore", ("Acer pseudoplatanus", "Platanus occidentalis")),
    ],
)  # fmt: skip
def test_names_of_the_trade_that_mean_several_trees(name: str, botanical: tuple[str, ...]) -> None:
    found = find_material(name, MATERIALS)
    assert found.ambiguous
    assert found.material is not None
    assert all(each in found.material.botanical for each in botanical)


# Density, kg/m3 at about 12 % moisture: Queensland government; a timber merchant's and a seller's table; data sheets. Read in
# copies; ranges as given there, single figures with 5 % either way.
DENSITIES = {
    "hoop-pine": (560, 560), "tasmanian-oak": (675, 770), "european-redwood": (510, 510), "iroko": (660, 660),
    "oak": (702, 710), "beech": (712, 712), "spruce": (441, 441), "macrocarpa": (485, 485), "silver-beech": (576, 576),
    "blackwood": (640, 640), "merbau": (830, 830), "radiata-pine": (480, 590),
}  # fmt: skip


@pytest.mark.parametrize("name", DENSITIES)
def test_densities_lie_where_they_are_published(name: str) -> None:
    least, most = DENSITIES[name]
    assert least * 0.95 <= (MATERIALS[name].density or 0) <= most * 1.05
    assert not MATERIALS[name].density_source.startswith("from memory;") or name == "radiata-pine"


# EN 350 as a Nordic page restates it, heartwood, 1 very durable to 5 not durable. Read in a copy; where it gives a span, the
# class taken lies in it.
RESISTS = {
    "larch": (4, 4), "european-redwood": (3, 4), "douglas-fir": (3, 4), "yew": (2, 2), "european-birch": (5, 5), "ash": (5, 5),
    "oak": (2, 4), "teak": (1, 3),
}  # fmt: skip


@pytest.mark.parametrize("name", RESISTS)
def test_durability_is_the_class_of_the_standard(name: str) -> None:
    least, most = RESISTS[name]
    assert least <= (MATERIALS[name].durability or 0) <= most
