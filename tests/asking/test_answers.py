"""Looking things up: lists, one thing in full, and every way of making something, in a workshop or in none."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.asking.answers import answer
from sequencer.asking.meaning import things, understand
from sequencer.cli import main
from sequencer.features import feature_kinds
from sequencer.findings import Unusable
from sequencer.model.work import WORK_KINDS
from sequencer.model.workshop import Rule
from sequencer.reading.words import nearest
from tests.made import ROOT, knowledge, without_guard, workshop

FULL = str(ROOT / "examples" / "workshops" / "full.yaml")
HANDS = str(ROOT / "examples" / "workshops" / "hand-tools.yaml")


def flat(text: str) -> str:
    return " ".join(text.split())


def heads(text: str) -> dict[str, str]:
    """Operation to `possible` or `not possible`, as an answer says it."""
    found = re.findall(r"^(possible|not possible)\b.*?\(([a-z0-9-]+)\)$", text, re.MULTILINE)
    return {name: mark for mark, name in found}


@pytest.mark.parametrize("which", ["stations", "operations", "hazards", "materials", "regions"])
def test_a_list_names_everything_there_is(which: str) -> None:
    said = answer(which, knowledge())
    assert answer(f"{which.capitalize()} ", knowledge()) == said
    names = [each.name for each in things(knowledge()) if f"{each.what}s" == which]
    assert said.startswith(f"{len(names)} {which}\n")
    assert [line.split()[0] for line in said.splitlines()[2:] if line[:1].strip()] == sorted(names)


def test_a_list_marks_what_a_workshop_has() -> None:
    said = answer("stations", knowledge(), workshop("hand-tools"))
    marked = {line.split()[1] for line in said.splitlines() if line.startswith("yes ")}
    assert marked == {station.kind for station in workshop("hand-tools").stations.values()}
    operations = answer("operations", knowledge(), workshop("hand-tools"))
    assert re.search(r"^yes plough-groove ", operations, re.MULTILINE)
    assert re.search(r"^-   groove-on-saw ", operations, re.MULTILINE)
    hazards = answer("hazards", knowledge(), workshop("hand-tools"))
    assert re.search(r"^yes hand-saw-cut ", hazards, re.MULTILINE)
    assert re.search(r"^-   kickback ", hazards, re.MULTILINE)
    for brought_by_wood_finish_or_room in ("species-dust", "nut-oil", "lone-work"):
        assert re.search(rf"^yes {brought_by_wood_finish_or_room} ", hazards, re.MULTILINE)


def test_a_stopped_groove_is_chiselled_and_neither_ploughed_nor_sawn_on_the_bench() -> None:
    for shop in ("full", "hand-tools"):
        said = answer("stopped groove", knowledge(), workshop(shop))
        meant, _, beside = said.partition("Not meant for this:")
        assert heads(meant)["chisel-groove"] == "possible"
        assert "(plough-groove)" not in meant
        assert "stopped inside the part, where the plane would have to jump in" in flat(beside)
        assert "stopped cuts and dropping-on are refused on the saw" in flat(beside)


def test_a_way_is_told_with_limits_guards_holding_who_and_hazards() -> None:
    said = flat(answer("through groove", knowledge(), workshop()).partition("(groove-on-saw)")[2])
    for text in (
        "guards:",
        "riving knife",
        "holding:",
        "who: staff only",
        "limit: length of the piece as it is worked: at least",
    ):
        assert text in said, text
    assert "Source: " in said
    assert "hazards:" in said
    assert "Kickback" in said


def test_a_way_without_its_guard_station_or_adult_is_not_possible_and_says_why() -> None:
    bare = answer("blind hole", knowledge(), without_guard(workshop(), "chuck-guard"))
    assert heads(bare)["drill-blind-hole"] == "not possible"
    assert "The chuck guard is not fitted at pillar-drill. -> Fit the chuck guard" in flat(bare)
    hands = answer("blind hole", knowledge(), workshop("hand-tools"))
    assert "This workshop has no station for pillar drill." in flat(hands)
    assert heads(hands)["brace-blind-hole"] == "possible"
    alone = answer("blind hole", knowledge(), replace(workshop(), adults=()))
    assert "No adult in the workshop file is authorised to supervise the pillar drill." in flat(alone)


def test_a_figure_of_the_station_that_nobody_states_is_left_to_staff() -> None:
    drill = knowledge().stations["pillar-drill"]
    figures = {**drill.figures, "shortest": replace(drill.figures["shortest"], default=None)}
    stations = {**knowledge().stations, "pillar-drill": replace(drill, figures=figures)}
    shop = workshop()
    bare = {name: replace(each, figures={}) if each.kind == "pillar-drill" else each for name, each in shop.stations.items()}
    said = answer("blind hole", replace(knowledge(), stations=stations), replace(shop, stations=bare))
    assert heads(said)["drill-blind-hole"] == "not possible"
    assert "State `shortest` for pillar-drill in the workshop file; until then staff must decide." in flat(said)


def test_the_workshop_s_own_figures_stand_in_the_limits() -> None:
    shop = workshop()
    drill = next(station for station in shop.stations.values() if station.kind == "pillar-drill")
    own = replace(shop, stations={**shop.stations, drill.name: replace(drill, figures={**drill.figures, "shortest": 133.0})})
    assert "at least 133 mm (shortest piece that may be worked there)" in flat(answer("blind hole", knowledge(), own))


@pytest.mark.parametrize("name", [*feature_kinds(), *WORK_KINDS])
def test_every_kind_can_be_asked_for_in_words(name: str) -> None:
    meaning = understand(name.replace("-", " "), knowledge())
    assert name in meaning.kinds or (meaning.thing is not None and meaning.thing.name == name)


@pytest.mark.parametrize(
    ("question", "kinds", "said"),
    [
        ("stopped groove", ("groove",), ("stopped",)),
        ("grooves", ("groove",), ()),
        ("how do I make a blind hole across the grain", ("hole",), ("blind", "across the grain")),
        ("countersunk screw holes", ("screw-holes",), ("countersunk",)),
    ],
)
def test_words_are_understood(question: str, kinds: tuple[str, ...], said: tuple[str, ...]) -> None:
    meaning = understand(question, knowledge())
    assert (meaning.kinds, meaning.said, meaning.unused) == (kinds, said, ())


@pytest.mark.parametrize(
    ("question", "kind"),
    [
        ("dado", "housing"),
        ("stopped rabbets", "rebate"),
        ("box joint", "finger-joint"),
        ("sliding dovetail", "dovetail-housing"),
        ("half-lap", "halving"),
        ("miter", "mitre"),
        ("open mortise", "bridle"),
    ],
)
def test_the_words_of_other_regions_mean_ours(question: str, kind: str) -> None:
    assert understand(question, knowledge()).kinds == (kind,)


def test_a_kind_is_told_with_what_it_is_called_elsewhere() -> None:
    assert "also called: rabbet (US)" in answer("rebate", knowledge())


def test_words_nothing_is_made_of_are_said() -> None:
    assert "Not used of the question: purple." in answer("purple groove", knowledge())


@pytest.mark.parametrize(
    ("question", "texts"),
    [
        ("kickback", ("hazard kickback: Kickback", "eliminate:", "first aid:", "Early signs", "brought by:")),
        (
            "pillar drill",
            ("station pillar-drill: pillar drill", "drill press (US)", "before starting:", "sources:"),
        ),
        ("drill-through-hole", ("Lower the bit slowly.", "Fit the bit: [bit].", "if wrong:", "minutes:")),
        ("western red cedar", ("Thuja plicata", "Strong sensitiser", "(check locally)")),
    ],
)
def test_one_thing_is_told_in_full(question: str, texts: tuple[str, ...]) -> None:
    said = flat(answer(question, knowledge()))
    for text in texts:
        assert text in said, text


def test_each_operation_of_a_station_says_who_may_do_it() -> None:
    said = flat(answer("jigsaw", knowledge()))
    assert "saw-blank-by-jigsaw: Saw blanks off with the jigsaw; staff only" in said
    assert "with the jigsaw; students signed off for it, with an authorised adult beside" in said
    strict = replace(workshop(), rules=(Rule("pillar-drill", "staff", None, None, "Head of department", "new here"),))
    assert "; students" not in flat(answer("pillar drill", knowledge(), strict))


def test_an_operation_that_has_every_word_of_a_question_goes_before_a_kind_that_has_one() -> None:
    assert answer("loose tenon", knowledge()).startswith("operation cut-loose-tenon-mortise:")
    assert answer("tenon", knowledge()).startswith("tenon:")


def test_everything_can_be_told_within_eighty_columns_and_without_a_brace() -> None:
    for thing in things(knowledge()):
        said = answer(thing.name, knowledge(), workshop())
        assert max(map(len, said.splitlines())) <= 80, thing
        assert not {"{", "}"} & set(said), thing


def test_several_things_of_one_word_are_named() -> None:
    said = answer("band", knowledge())
    assert "band-saw" in said
    assert "rip-on-band-saw" in said
    assert "ask for one by its name" in said


@pytest.mark.parametrize(
    ("question", "remedy"),
    [("grove", "Did you mean 'groove'?"), ("kickbak", "Did you mean 'kickback'?"), ("xyzzy", "Ask for a kind of feature"),
     ("", "Ask for a kind of feature"), ("...", "Ask for a kind of feature")],
)  # fmt: skip
def test_what_is_not_known_is_answered_with_what_is_near(question: str, remedy: str) -> None:
    with pytest.raises(Unusable) as caught:
        answer(question, knowledge())
    assert remedy in caught.value.findings[0].remedy


def test_the_command_answers_with_a_school_s_own_folder(capsys: pytest.CaptureFixture[str]) -> None:
    own = str(ROOT / "examples" / "own-knowledge")
    assert main(["knowledge", "low-sun", "--knowledge", own]) == 0
    said = flat(capsys.readouterr().out)
    assert "hazard low-sun: Low sun in the eyes" in said
    assert "Decided by Technician: On winter mornings" in said
    assert main(["knowledge", "stopped", "groove", "--workshop", HANDS]) == 0
    assert heads(capsys.readouterr().out)["chisel-groove"] == "possible"


@pytest.mark.parametrize(
    ("words", "text"),
    [
        (("knowledge", "grove"), "Did you mean 'groove'?"),
        (("knowledge",), "required"),
        (("knowledge", "stations", "--workshop", "no-such.yaml"), "There is no such file."),
        (("knowledge", "stations", "--knowledge", "no-such-folder"), "There is no such folder."),
    ],
)
def test_the_command_says_what_is_wrong_and_ends_with_two(
    words: tuple[str, ...], text: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    try:
        code = main(words)
    except SystemExit as ended:
        code = int(str(ended.code))
    assert code == 2
    assert text in flat(capsys.readouterr().err)


def test_an_operation_says_how_its_settings_are_worked_out_and_from_what() -> None:
    said = " ".join(answer("sand-outside-by-hand", knowledge()).split())
    assert "settings: papers: The papers in the order they are used" in said
    assert "first: 120" in said
    assert "last: finish.paper, last paper before the first coat" in said
    assert "abrasive paper [papers]" in said
    assert "settings:\n" not in answer("hand-in-rags", knowledge())


def test_nothing_asked_for_says_what_can_be() -> None:
    with pytest.raises(Unusable) as refused:
        understand("  ", knowledge())
    (finding,) = refused.value.findings
    assert (finding.subject, finding.what) == ("knowledge", "Nothing is asked for.")
    assert finding.remedy.startswith("Ask for a kind of feature or work")


def test_a_short_word_is_taken_for_no_other_that_merely_shares_letters_with_it() -> None:
    assert nearest("wear", ["cedar", "oak"]) == ""
    assert [nearest(word, ["cedar", "glue", "oak", "pine"]) for word in ("oka", "qlue", "pin", "ceder")] == [
        "oak",
        "glue",
        "pine",
        "cedar",
    ]
