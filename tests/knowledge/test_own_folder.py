"""A school's own folder over the shipped knowledge: what it changes, who answers for it, and every mistake with its place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sequencer.data import data_folder
from sequencer.findings import Refused, Unusable
from sequencer.knowledge.files import LISTS
from sequencer.knowledge.forms.changes import Change
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.overlay import ENTRIES, ROWS, change_findings
from sequencer.pipeline import check, plan
from sequencer.planning.planner import ways_of
from tests.made import ROOT, job, knowledge, workshop
from tests.made import plan as made_plan

EXAMPLE = ROOT / "examples" / "own-knowledge"
CADDY = ROOT / "examples" / "herb-caddy" / "job.yaml"
FULL = ROOT / "examples" / "workshops" / "full.yaml"


def folder(at: Path, **files: str) -> Path:
    """A folder of these files; `__` parts folders, `_` stands for a hyphen."""
    for name, text in files.items():
        path = at / name.replace("__", "/").replace("_", "-")
        path = path.with_suffix(".md" if name.startswith("hazards") else ".yaml")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return at


def station(*lines: str, name: str = "pillar-drill") -> str:
    return "\n".join((f"station: {name}", "rest: as-shipped", *lines, ""))


def figure(name: str, default: str) -> str:
    chosen = ", chosen: higher" if name in ("shortest", "narrowest", "thinnest", "centre-depth") else ""
    return f"figures: {{{name}: {{default: {default}{chosen}, means: ours, source: common practice}}}}"


def changes(own: Path) -> dict[str, Change]:
    return {change.about: change for change in load_knowledge(own).changes}


def messages(own: Path) -> list[str]:
    with pytest.raises(Unusable) as caught:
        load_knowledge(own)
    return [str(finding) for finding in caught.value.findings]


def test_the_example_changes_what_it_says_and_somebody_answers_for_all_of_it() -> None:
    own = load_knowledge(EXAMPLE)
    drill, shipped = own.stations["pillar-drill"], knowledge().stations["pillar-drill"]
    assert (shipped.figures["shortest"].default, drill.figures["shortest"].default) == (75, 120)
    assert set(drill.operations) - set(shipped.operations) == {"drill-hole-in-frame-jig"}
    assert drill.operations["drill-through-hole"] == shipped.operations["drill-through-hole"]
    assert own.hazards["low-sun"].severity == "serious"
    assert own.materials["hall-floor-beech"].hardness == "hardwood"
    assert own.stations["band-saw"].operations == {}
    assert [(change.about, change.by) for change in own.changes] == [
        ("operations/pillar-drill/figures/shortest", "Head of technology"),
        ("operations/pillar-drill/operations/drill-hole-in-frame-jig", "Head of technology"),
        ("hazards/low-sun", "Technician"),
        ("lists/materials/hall-floor-beech", "Head of technology"),
        ("lists/jigs/frame-jig", "Technician"),
        ("band-saw", "Head of technology"),
    ]
    assert own.changes[0].text == "pillar drill: the figure shortest is 120; shipped it is 75."
    new = ("it is new, and nothing shipped is there to hold it against",)
    assert {change.about.rpartition("/")[2]: change.looser for change in own.changes if change.looser} == {
        "drill-hole-in-frame-jig": new,
        "hall-floor-beech": new,
    }
    assert [(finding.level, finding.code) for finding in change_findings(own)] == [("warning", "own-knowledge-loosens")] * 2


@pytest.mark.parametrize(("name", "less", "more"), [("centre-bite", 8, 20), ("centre-depth", 2, 15), ("off-balance", 0.2, 0.01)])
def test_a_lathe_that_asks_for_less_at_its_centres_is_said_to(tmp_path: Path, name: str, less: float, more: float) -> None:
    for default, looser in ((less, ("a stick is turned with less wood at its centres, or further out of balance",)), (more, ())):
        chosen = ", chosen: lower" if name == "off-balance" else ""
        own = folder(tmp_path / str(default), operations__lathe=station(figure(name, f"{default}{chosen}"), name="lathe"))
        assert changes(own)[f"operations/lathe/figures/{name}"].looser == looser


def test_a_lathe_that_asks_no_name_for_a_looser_figure_is_said_to(tmp_path: Path) -> None:
    own = folder(tmp_path, operations__lathe=station(figure("off-balance", "0.01"), name="lathe"))
    (said,) = changes(own)["operations/lathe/figures/off-balance"].looser
    assert said == "without `chosen: lower` a looser one in the workshop file needs no name and reason"


def test_a_plan_with_the_example_lists_every_change_for_the_risk_assessment() -> None:
    made = plan(check(CADDY, FULL, own=EXAMPLE))
    assert [line.by for line in made.changes] == [change.by for change in load_knowledge(EXAMPLE).changes]
    assert not {task.station_kind for task in made.tasks} & {"band-saw"}
    assert made_plan("herb-caddy").changes == ()


def test_the_workshop_file_s_folder_is_seen_from_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder(tmp_path / "school" / "ours", operations__pillar_drill=station(figure("shortest", "150")))
    (tmp_path / "school" / "shop.yaml").write_text("knowledge: ours\n" + FULL.read_text("utf-8"), "utf-8")
    monkeypatch.chdir(tmp_path)
    seen = check(CADDY, Path("school/shop.yaml"))
    assert seen.knowledge.stations["pillar-drill"].figures["shortest"].default == 150
    assert [finding.code for finding in seen.findings] == ["change-not-recorded"]


@pytest.mark.parametrize(
    ("lines", "about", "looser"),
    [
        (figure("shortest", "60"), "figures/shortest", "“too short to be held under the drill” is said less soon"),
        (figure("thickest", "140"), "figures/thickest", "“too tall to go under the bit” is said less soon"),
        ("who: {supervision: room}", "who", "supervision room instead of watching"),
        ("set_up_by: student", "set_up_by", "set up by student instead of staff"),
        ("wear: [apron, tied-hair, closed-shoes]", "wear", "no wear eye-protection"),
        ("before_starting: [Tie back long hair.]", "before_starting", "no “Check that the chuck key is out.”"),
        ("limits: []", "limits", "the limit “too short to be held under the drill” is gone or another"),
    ],
)
def test_what_asks_for_less_is_said_and_refused_without_a_name(tmp_path: Path, lines: str, about: str, looser: str) -> None:
    own = folder(tmp_path, operations__pillar_drill=station(lines))
    about = f"operations/pillar-drill/{about}"
    assert looser in changes(own)[about].looser
    with pytest.raises(Refused) as refused:
        plan(check(CADDY, FULL, own=own))
    assert about in [finding.subject for finding in refused.value.findings if finding.code == "unnamed-loosening"]
    folder(own, changes="changes: {operations/pillar-drill: {by: Head of technology, why: a class of six}}\n")
    (said,) = (each for each in change_findings(load_knowledge(own)) if each.subject == about)
    assert (said.level, said.code) == ("warning", "own-knowledge-loosens")
    assert said.what.endswith("Decided by Head of technology: a class of six")


@pytest.mark.parametrize("lines", [figure("shortest", "90"), figure("thickest", "80"), "who: {supervision: beside}"])
def test_what_asks_for_more_is_no_loosening(tmp_path: Path, lines: str) -> None:
    (change,) = load_knowledge(folder(tmp_path, operations__pillar_drill=station(lines))).changes
    assert change.looser == ()


def shipped_operation(kind: str, name: str) -> str:
    text = (ROOT / "operations" / f"{kind}.yaml").read_text(encoding="utf-8")
    found = re.search(rf"^  {name}:\n(?:    .*\n|\n)*", text, re.MULTILINE)
    assert found
    return found[0]


@pytest.mark.parametrize(
    ("old", "new", "looser"),
    [
        ("guards: {all_of: [chuck-guard]}", "guards: {}", "no guard chuck-guard"),
        ("[backing-board, drill-vice]", "[backing-board]", "no holding drill-vice"),
        ("at_most: 16", "at_most: 20", "the limit “drawn with a hole too large for this bit” is gone or another"),
        ("needs: [face-side]", "needs: []", "no true surface face-side"),
        ("    stop: Show", "    # stop: Show", "staff no longer look before it goes on"),
        ("    needs:", "    guards_off: [chuck-guard]\n    needs:", "normal guard chuck-guard comes off"),
        ("    wear:", "    who: {operator: student, gate: none}\n    wear:", "gate none instead of signed-off"),
    ],
)
def test_an_operation_that_asks_for_less_is_a_loosening(tmp_path: Path, old: str, new: str, looser: str) -> None:
    text = shipped_operation("pillar-drill", "drill-through-hole")
    assert old in text
    own = folder(tmp_path, operations__pillar_drill=station("operations:", text.replace(old, new)))
    assert looser in changes(own)["operations/pillar-drill/operations/drill-through-hole"].looser


@pytest.mark.parametrize(
    ("file", "text", "about", "looser"),
    [
        ("glues", "pva: {name: PVA, open_time: 5, cramp_time: 5, cure_time: 60, source: tin 2026}", "glues/pva", "is 60"),
        ("cutter-speeds", "- {up_to: 20, most: 30000, source: our own guess}", "cutter-speeds", "up to 30000 rev/min"),
        (
            "materials", "western-red-cedar: {name: cedar, hardness: softwood, dust: Wood dust., source: our own guess}",
            "materials/western-red-cedar", "`dust` reads otherwise",
        ),
    ],
)  # fmt: skip
def test_an_entry_of_a_list_that_asks_for_less_is_a_loosening(
    tmp_path: Path, file: str, text: str, about: str, looser: str
) -> None:
    path = tmp_path / "operations" / "lists" / f"{file}.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(text + "\n", encoding="utf-8")
    assert any(looser in each for each in changes(tmp_path)[f"lists/{about}"].looser)


def test_a_hazard_that_warns_of_less_is_a_loosening(tmp_path: Path) -> None:
    text = (ROOT / "hazards" / "entanglement.md").read_text(encoding="utf-8")
    own = folder(tmp_path, hazards__entanglement=text.replace("severity: severe", "severity: minor"))
    assert changes(own)["hazards/entanglement"].looser == ("severity minor instead of severe",)


def test_a_kind_of_station_a_glue_and_an_operation_are_switched_off_with_who_and_why(tmp_path: Path) -> None:
    record = "{by: Head, why: not used here}"
    own = folder(
        tmp_path, changes=f"switched_off: {{band-saw: {record}, pva: {record}, groove-on-saw: {record}}}\n"
    )  # fmt: skip
    seen = load_knowledge(own, ["drill-through-hole"])
    assert seen.stations["band-saw"].operations == {}
    assert "pva" not in seen.glues
    assert "groove-on-saw" not in seen.stations["saw-bench"].operations
    assert [(each.about, each.by) for each in seen.changes] == [
        ("band-saw", "Head"),
        ("pva", "Head"),
        ("groove-on-saw", "Head"),
        ("drill-through-hole", ""),
    ]
    assert [finding.code for finding in change_findings(seen)] == ["change-not-recorded"]


@pytest.mark.parametrize(
    ("files", "where", "message"),
    [
        ({"changes": "changes: {operations/lathe: {by: Head, why: x}}\n"}, "changes.yaml:1:", "Nothing in this folder changes"),
        ({"changes": "changes: {operations/pillar-drill: {by: Head}}\n"}, "changes.yaml:1:", "'why' is missing."),
        ({"changes": "changes: {operations/lathe: {by: ' ', why: x}}\n"}, "changes.yaml:1:", "Nothing is written here"),
        ({"changes": "changes: {operations/lathe: {by: Head, why: '.'}}\n"}, "changes.yaml:1:", "'.' is no answer"),
        ({"changes": "chagnes: {}\n"}, "changes.yaml:1:", "'chagnes' is no key here. Did you mean 'changes'?"),
        ({"changes": "changes: {\n"}, "changes.yaml:", "Did you mean|bracket|missing"),
        ({"changes": "switched_off: {kickback: {by: H, why: x}}\n"}, "changes.yaml:1:", "hazards cannot be"),
        ({"changes": "switched_off: {band-sew: {by: H, why: x}}\n"}, "changes.yaml:1:", "Did you mean 'band-saw'?"),
        ({"changes": "[]\n"}, "changes.yaml:1:", "must be a set of keys"),
        ({"operations__lathee": station(name="lathee")}, "lathee.yaml:2:", "no shipped station called 'lathee'"),
        (
            {"operations__pillar_drill": "station: pillar-drill\nrest: none\n"}, "pillar-drill.yaml:2:",
            "'rest' can only be 'as-shipped'.",
        ),
        ({"operations__pillar_drill": station("figure: {}")}, "pillar-drill.yaml:3:", "Did you mean 'figures'?"),
        (
            {"operations__pillar_drill": station("hazards: [kick-back]")}, "pillar-drill.yaml:3:",
            "There is no hazard called 'kick-back'. Did you mean 'kickback'?",
        ),
        (
            {"operations__pillar_drill": station(figure("shortest", "90").replace("common practice", "z"))},
            "pillar-drill.yaml:3:",
            "The source 'z' leads nowhere.",
        ),
        ({"operation__pillar_drill": "station: x\n"}, "operation", "'operation' would not be read."),
        ({"lists__glues": "pva: {}\n"}, "lists", "'lists' would not be read."),
        ({"operations__README": "rubbish\n"}, "README.yaml", "'operations/README.yaml' would not be read."),
        ({"hazards__new": "name: x\n"}, "hazards/new.md:1:1", "does not start with keys between two lines '---'"),
    ],
)  # fmt: skip
def test_every_mistake_has_its_place(tmp_path: Path, files: dict[str, str], where: str, message: str) -> None:
    found = messages(folder(tmp_path, **files))
    assert any(where in each and re.search(message.replace("?", r"\?"), each) for each in found), found


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("screws", r"pilot_softwood: [0-9.]+", "pilot_softwood: -3", "more than 0"),
        ("screws", r"head: [0-9.]+", "head: 0.5", "less than 'shank'"),
        ("fits", r"least: 0\n  most: 0.3", "least: 9\n  most: 1", "less than 'least'"),
        ("cutter-speeds", r"up_to: [0-9.]+", "up_to: -1", "more than 0"),
        ("band-saw-blades", r"radius: [0-9.]+", "radius: 0", "more than 0"),
        ("abrasives", r"grain: [0-9.]+", "grain: -5", "more than 0"),
        ("drill-bits", r"up_to: [0-9.]+", "up_to: 900", "comes after 900 mm"),
        ("staff-steps", r"minutes: [0-9.]+", "minutes: -5", "at least 0"),
    ],
)
def test_figures_that_cannot_be_are_refused(tmp_path: Path, name: str, old: str, new: str, said: str) -> None:
    shipped = (ROOT / "operations" / "lists" / f"{name}.yaml").read_text("utf-8")
    assert re.search(old, shipped)
    path = tmp_path / "operations" / "lists" / f"{name}.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(re.sub(old, new, shipped, count=1), "utf-8")
    assert any(f"{name}.yaml:" in each and said in each for each in messages(tmp_path))


@pytest.mark.parametrize("name", ["operations", "hazards", "operations/lists"])
def test_a_file_where_a_folder_belongs_is_not_overlooked(tmp_path: Path, name: str) -> None:
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_text("{}", "utf-8")
    (said,) = messages(tmp_path)
    assert f"'{name}' is a file where a folder is looked for" in said
    assert f"Make a folder '{name}'" in said


def test_a_file_for_the_folder_s_readers_is_left_alone(tmp_path: Path) -> None:
    folder(tmp_path, hazards__README="What stands here.\n")
    (tmp_path / "README.md").write_text("Ours.", "utf-8")
    assert load_knowledge(tmp_path).changes == ()


def test_one_of_two_steps_of_staff_is_laid_over_alone(tmp_path: Path) -> None:
    shipped = (ROOT / "operations" / "lists" / "staff-steps.yaml").read_text("utf-8")
    text = shipped[shipped.index("set-up:") : shipped.index("guards-back:")].replace("minutes: ", "minutes: 1")
    own = load_knowledge(folder(tmp_path, operations__lists__staff_steps=text))
    was = knowledge().staff_steps
    assert own.staff_steps["set-up"].minutes > was["set-up"].minutes
    assert own.staff_steps["guards-back"] == was["guards-back"]


def test_a_figure_that_comes_to_no_number_is_left_to_staff(tmp_path: Path) -> None:
    text = shipped_operation("saw-bench", "groove-on-saw")
    text = text.replace("    settings: saw-passes\n", "    settings: saw-passes\n    use: {fence: feature.distance / 0}\n")
    own = load_knowledge(folder(tmp_path, operations__saw_bench=station("operations:", text, name="saw-bench")))
    ways = ways_of("side/floor-groove", job("herb-caddy"), workshop(), own)
    settings = {
        each.name: each for _, found, _ in ways for way in found if way.operation == "groove-on-saw" for each in way.settings
    }
    assert settings["fence"].value is None
    assert settings["fence"].text == "staff decide"


def test_a_mistake_that_a_folder_makes_in_a_shipped_operation_is_placed_where_it_stands(tmp_path: Path) -> None:
    text = shipped_operation("pillar-drill", "drill-through-hole").replace("bit: lip-and-spur", "bit: spoon")
    (said,) = messages(folder(tmp_path, operations__pillar_drill=station("operations:", text)))
    line = text.splitlines().index(next(line for line in text.splitlines() if "spoon" in line)) + 4
    assert re.match(rf".*operations/pillar-drill\.yaml:{line}:\d+: operations\.drill-through-hole\.use\.bit: ", said), said


def test_no_list_changes_unseen() -> None:
    assert {*ENTRIES, *ROWS} == set(LISTS)


def test_jobs_of_the_examples_are_not_touched_by_a_folder_elsewhere() -> None:
    assert knowledge().changes == ()
    assert workshop().knowledge == ""
    assert job("herb-caddy").name


HAZARD = (data_folder("hazards") / "oily-rags.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        (r"^severity:.*$", "severity: serious\nbody: our own note", "body", "'body' is no key here."),
        (r"^student:.*$", "student: Rags may burn.", "student", "No sentence of it says what to do, or what not to do"),
        (
            r"^student:.*$", "student: Keep rags in the tin. Shut the lid of it. Tell staff at once. Wash your hands.", "student",
            "This has 17 words; a card has room for 12",
        ),
        (
            r"^stop_when:$", "stop_when:\n  - A rag is warm or smells or lies about and nobody knows how long it has lain.",
            "stop_when.1", "This has 17 words; a card has room for 12",
        ),
        (r"^first_aid:.*$", "first_aid: The tin complies with the law.", "first_aid", "The text says 'complies'."),
        (r"^first_aid:.*$", "first_aid: Our tin is the safest there is.", "first_aid", "The text says 'safest'."),
        (r"^first_aid:.*$", "first_aid: Our tin is certified.", "first_aid", "The text says 'certified'."),
    ],
)  # fmt: skip
def test_a_hazard_of_a_school_is_worded_as_a_shipped_one_is(tmp_path: Path, old: str, new: str, key: str, said: str) -> None:
    own, changed = tmp_path / "hazards", re.sub(old, new, HAZARD, count=1, flags=re.MULTILINE)
    assert changed != HAZARD
    own.mkdir()
    (own / "oily-rags.md").write_text(changed, encoding="utf-8")
    assert [each for each in messages(tmp_path) if "oily-rags.md:" in each and f": {key}: {said}" in each]


@pytest.mark.parametrize(("name", "better"), [("Finish Vapour.md", "finish-vapour.md"), ("oily_rags.md", "oily-rags.md")])
def test_a_file_is_called_as_names_are(tmp_path: Path, name: str, better: str) -> None:
    (tmp_path / "hazards").mkdir()
    (tmp_path / "hazards" / name).write_text(HAZARD, encoding="utf-8")
    assert any("cannot be a name" in each and f"Call the file '{better}'." in each for each in messages(tmp_path))


def test_a_list_of_set_names_says_which_there_are(tmp_path: Path) -> None:
    lists = tmp_path / "operations" / "lists"
    lists.mkdir(parents=True)
    entry = "{value: 20, unit: mm, means: room, source: common practice}"
    (lists / "bench.yaml").write_text(f"tool-rom: {entry}\nqqq: {entry}\n", encoding="utf-8")
    first, second = messages(tmp_path)
    assert first.endswith("1:1: tool-rom: 'tool-rom' is no name here. Did you mean 'tool-room'?")
    assert "2:1: qqq: 'qqq' is no name here. There are " in second
    assert "vice-opens" in second


def test_a_job_s_blank_wood_and_a_rule_or_decision_without_a_word_are_refused(tmp_path: Path) -> None:
    shop, caddy = FULL.read_text("utf-8"), CADDY.read_text("utf-8")
    wood = re.sub(r"material: [^,}\n]+", 'material: " "', caddy, count=1)
    rule = shop.replace("\npolicy:\n", "\npolicy:\n  lathe: {gate: none, by: '.', why: ' '}\n")
    decided = f"{caddy}\ndecisions: [{{about: side/floor-groove, way: groove-on-saw, by: '-', why: '1'}}]\n"
    for name, text, shop_text, said in (
        ("wood", wood, shop, "Nothing is written here but blanks."),
        ("rule", caddy, rule, "'.' is no answer: it has not one letter."),
        ("decided", decided, shop, "'1' is no answer: it has not one letter."),
    ):
        (tmp_path / f"{name}.yaml").write_text(text, "utf-8")
        (tmp_path / "shop.yaml").write_text(shop_text, "utf-8")
        with pytest.raises(Unusable) as caught:
            check(tmp_path / f"{name}.yaml", tmp_path / "shop.yaml")
        assert any(said in str(finding) for finding in caught.value.findings), (name, caught.value.findings)


@pytest.mark.parametrize("ends", ["\r\n", "\r"])
def test_a_shipped_file_saved_with_the_line_ends_of_another_system_changes_nothing(tmp_path: Path, ends: str) -> None:
    for name in ("hazards/kickback.md", "operations/pillar-drill.yaml", "operations/lists/screws.yaml"):
        at = tmp_path / name
        at.parent.mkdir(parents=True, exist_ok=True)
        at.write_bytes((data_folder(name.partition("/")[0]).parent / name).read_bytes().replace(b"\n", ends.encode()))
    assert changes(tmp_path) == {}


def test_a_figure_of_which_only_words_change_says_which(tmp_path: Path) -> None:
    lines = "figures: {shortest: {default: 75, chosen: higher, means: shortest piece, source: common practice}}"
    own = folder(tmp_path, operations__pillar_drill=station(lines))
    change = changes(own)["operations/pillar-drill/figures/shortest"]
    assert change.text == "pillar drill: the figure shortest is 75 as shipped, and `means` and `source` read otherwise."
    assert change.looser == ()


SCREW = "{shank: 4.2, head: 8.3, clearance: 4.5, pilot_softwood: 2, pilot_hardwood: 2.8, source: common practice}"


@pytest.mark.parametrize(
    ("gauge", "remedy"),
    [
        ("-3", "Write a whole number in plain figures, such as 8."),
        ("08", "Write 8."),
        ("010", "Write 10."),
        ("1_0", "such as 8."),
    ],
)
@pytest.mark.parametrize("name", ["screws", "abrasives"])
def test_a_number_by_which_a_thing_is_known_is_written_in_one_way(tmp_path: Path, name: str, gauge: str, remedy: str) -> None:
    own = folder(tmp_path)
    at = own / "operations" / "lists" / f"{name}.yaml"
    at.parent.mkdir(parents=True)
    at.write_text(f"{gauge}: {SCREW if name == 'screws' else '{grain: 100, source: common practice}'}\n", encoding="utf-8")
    (message,) = messages(own)
    assert f"'{gauge}' is not how such a number is written." in message
    assert message.endswith(remedy)


def test_an_entry_of_a_file_that_is_a_list_is_called_by_its_number(tmp_path: Path) -> None:
    said = messages(folder(tmp_path, operations__lists__verbs="- Saw\n- ''\n- [a]\n"))
    assert "Nothing is written for Entry 2 of the file." in said[0]
    assert "Entry 3 of the file must be text; this is a list." in said[1]
