"""The loader: a school's own folder over the shipped one, and a message for every way a file can be wrong."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest

from sequencer.data import data_folder
from sequencer.features import feature_kinds
from sequencer.findings import Unusable
from sequencer.knowledge.files import LISTS
from sequencer.knowledge.forms.operations import LieFace, Residue
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS
from sequencer.model.quantities import QUANTITIES

STATION = """\
station: carving-bench
name: carving bench
power: hand
what: a bench for carving
figures:
  shortest: {default: 100, means: shortest piece, source: common practice}
who: {operator: student, supervision: watching, gate: instructed}
smallest: A piece 100 mm long.
hands: Keep both hands behind the edge.
before_starting:
  - Check that the gouge is sharp.
stop_when:
  - The wood moves.
operations:
  carve-groove:
    name: Carve a groove
    makes: [groove]
    limits:
      - {of: blank.length, at_least: station.shortest, says: too short to be held, source: common practice}
    holding: {all_of: [bench-vice]}
    hazards: [edge-tool-cut]
    wear: [apron]
    settings: plough
    cut: chisel
    lies: {against: from}
    minutes: {each: 20, source: common practice}
    instructions:
      hold:
        - Grip the wood in the vice.
      cut:
        - "Cut to {setting.depth} in thin shavings."
    checks:
      - {what: depth, how: use a depth gauge, limit: "{feature.depth}, within 1 mm"}
    if_wrong: Stop. Show your teacher.
    sources: [common practice]
sources: [common practice]
"""

HAZARD = """\
---
name: Sparks
happens: Sparks fly.
whom: [operator]
severity: minor
student: Sparks burn. Keep back.
controls:
  ppe:
    - {text: Eye protection., wear: eye-protection}
stop_when: [Sparks fly.]
first_aid: Cool burns with water; call the first aider.
sources: [common practice]
---
## What goes wrong
"""

Write = Callable[..., Path]


@pytest.fixture
def own(tmp_path: Path) -> Write:
    """Writes files of a school's own folder, given by their place in it."""

    def write(**files: str) -> Path:
        for name, text in files.items():
            folder, _, rest = name.partition("__")
            place = {"operations": "operations", "lists": "operations/lists", "hazards": "hazards"}[folder]
            path = tmp_path / place / (rest.replace("_", "-") + (".md" if folder == "hazards" else ".yaml"))
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return tmp_path

    return write


def messages(folder: Path | None, *switched_off: str) -> list[str]:
    with pytest.raises(Unusable) as caught:
        load_knowledge(folder, switched_off)
    return [str(finding) for finding in caught.value.findings]


def test_the_shipped_knowledge_is_whole() -> None:
    knowledge = load_knowledge()
    assert set(knowledge.stations) == {path.stem for path in data_folder("operations").glob("*.yaml")}
    assert len(knowledge.stations) >= 12
    assert sum(len(station.operations) for station in knowledge.stations.values()) >= 30
    assert len(knowledge.hazards) >= 16
    assert {path.stem for path in (data_folder("operations") / "lists").glob("*.yaml")} == set(LISTS)
    made = {kind for station in knowledge.stations.values() for each in station.operations.values() for kind in each.makes}
    assert set(feature_kinds()) <= made


def test_an_own_station_is_added_and_the_shipped_ones_stay(own: Write) -> None:
    shipped, knowledge = load_knowledge(), load_knowledge(own(operations__carving_bench=STATION))
    assert set(knowledge.stations) == {*shipped.stations, "carving-bench"}
    assert knowledge.stations["carving-bench"].operations["carve-groove"].minutes.each == 20
    assert knowledge.stations["pillar-drill"] == shipped.stations["pillar-drill"]


def test_an_own_station_of_the_same_name_replaces_the_shipped_one(own: Write) -> None:
    text = STATION.replace("carving-bench", "pillar-drill")
    assert list(load_knowledge(own(operations__pillar_drill=text)).stations["pillar-drill"].operations) == ["carve-groove"]


def test_own_lists_are_laid_over_entry_by_entry(own: Write) -> None:
    pva = "pva: {name: our PVA, open_time: 8, cramp_time: 45, cure_time: 720, source: label on our tin}\n"
    shipped, knowledge = load_knowledge(), load_knowledge(own(lists__glues=pva, lists__verbs="[Whittle]\n"))
    assert knowledge.glues["pva"].name == "our PVA"
    assert set(knowledge.glues) == set(shipped.glues)
    assert knowledge.verbs == (*shipped.verbs, "Whittle")


def test_an_own_hazard_is_added(own: Write) -> None:
    hazard = load_knowledge(own(hazards__sparks=HAZARD)).hazards["sparks"]
    assert hazard.controls["ppe"][0].wear == "eye-protection"
    assert hazard.body == "## What goes wrong"


def test_an_operation_that_is_switched_off_is_gone() -> None:
    knowledge = load_knowledge(None, ["groove-on-saw"])
    assert "groove-on-saw" not in knowledge.stations["saw-bench"].operations
    assert "rip-on-saw" in knowledge.stations["saw-bench"].operations


def test_a_hazard_cannot_be_switched_off() -> None:
    with pytest.raises(Unusable) as unusable:
        load_knowledge(None, ["wood-dust"])
    (finding,) = unusable.value.findings
    assert finding.what == "The hazard 'wood-dust' is switched off, and hazards cannot be."


def test_what_is_switched_off_must_exist() -> None:
    assert messages(None, "groove-on-sew") == [
        "groove-on-sew: 'groove-on-sew' is switched off; no operation, kind of station, glue or finish is called "
        "that. Did you mean 'groove-on-saw'?"
    ]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    assert "There is no such folder." in messages(tmp_path / "nowhere")[0]


def test_a_station_s_limits_hold_for_each_of_its_operations() -> None:
    station = load_knowledge().stations["saw-bench"]
    for operation in station.operations.values():
        assert operation.limits[: len(station.limits)] == station.limits


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("station: carving-bench", "station: carving", "The file is called 'carving-bench' and says 'carving'."),
        ("power: hand", "power: steam", "power"),
        ("smallest:", "smalest:", "smalest"),
        ("[bench-vice]", "[bench-vise]", "There is no way of holding called 'bench-vise'. Did you mean 'bench-vice'?"),
        ("[edge-tool-cut]", "[edge-tool]", "There is no hazard called 'edge-tool'."),
        ("wear: [apron]", "wear: [apon]", "There is no thing to wear called 'apon'. Did you mean 'apron'?"),
        ("makes: [groove]", "makes: [grove]", "There is no feature kind or kind of work called 'grove'. Did you mean 'groove'?"),
        ("settings: plough", "settings: plow", "There is no settings function called 'plow'."),
        ("settings: plough", "settings: drill", "'drill' needs 'bit'. Write bit under use."),
        ("settings: plough", "settings: plough\n    use: {depht: 5}", "There is no figure or word of 'plough' called 'depht'."),
        ("settings: plough", 'settings: plough\n    use: {fence: "2 *"}', "'2 *' cannot be worked out"),
        ("settings: plough", "settings: plough\n    use: {fence: station.kerf}", "'station.kerf' is not among the figures"),
        ("lies: {against: from}", "lies: {against: behind}", "'against: behind' and 'down: behind' are one face or two opposite"),
        ("lies: {against: from}", "lies: {down: face, against: behind}", "are one face or two opposite ones"),
        ("lies: {against: from}", "lies: {against: from, stop: across}", "'stop: across' and 'against: from' are one face"),
        ("lies: {against: from}", "lies: {against: fence}", "against"),
        ("    lies: {against: from}\n", "", "It is set by a fence, and 'against' is missing."),
        (
            "lies: {against: from}", "lies: {against: from, stop: first-end}",
            "The first-end bears on a stop, and no setting says how far it stands.",
        ),
        ("what: a bench", "watched: machines\nwhat: a bench", "watched"),
        ("what: a bench", "ways_shown: {gouge: the deep gouge}\nwhat: a bench", "No operation here is shown as 'gouge'."),
        ("settings: plough", "settings: plough\n    shown_as: [gouge]", "There is no way shown here called 'gouge'."),
        (
            "settings: plough", "settings: plough\n    shown_as: [hand-sawing/gouge]",
            "There is no way shown at another station called 'hand-sawing/gouge'.",
        ),
        ("power: hand", "watched: benches\npower: machine", "It has a motor and is to be watched as benches."),
        ("what: a bench", "lies: {down: from, against: across}\nwhat: a bench", "'against: across' and 'down: from' are"),
        ("lies: {against: from}", "lies: {against: from}\n    leaves: [run-out]", "this station has no figure 'run-out'"),
        ("lies: {against: from}", "lies: {against: from}\n    leaves: [fluff]", "fluff"),
        (
            "settings: plough", "settings: bore-by-hand\n    use: {diameter: 6, bit: augur}",
            "There is no kind of bit in lists/drill-bits.yaml called 'augur'. Did you mean 'auger'?",
        ),
        ("{setting.depth}", "{setting.fense}", "There is no setting of 'plough' called 'fense'. Did you mean 'fence'?"),
        ("{feature.depth}", "{feature.deep}", "There is no placeholder called 'feature.deep'."),
        ("{feature.depth}", "{feature.angle}", "'feature.angle' is not known of a groove."),
        ("of: blank.length", "of: blank.lenght", "There is no figure called 'blank.lenght'. Did you mean 'blank.length'?"),
        ("at_least: station.shortest", "at_least: station.narrowest", "'station.narrowest' is not among the figures of this"),
        ("at_least: station.shortest", "at_least: 100, at_most: 900", "A limit has exactly one of"),
        ("at_least: station.shortest, ", "", "A limit has exactly one of"),
        (", source: common practice}\n    holding", "}\n    holding", "'source' is missing."),
        ("says: too short to be held, ", "", "'says' is missing."),
        ("  shortest:", "  shortish:", "There is no figure of a station called 'station.shortish'."),
        (", gate: instructed", "", "'gate' is missing."),
        ("Grip the wood in the vice.", "The wood is gripped.", "'The' is not in the list of verbs a sentence may start with."),
        ("Grip the wood in the vice.", "Grip the wood and saw it.", "'and saw' is a second thing to do in one sentence."),
        ("Grip the wood in the vice.", "Grip the wood. Wait.", "These are several sentences; each is an item of its own."),
        (
            "Grip the wood in the vice.", "Grip the wood in the vice so that it does not move at all sideways.",
            "This has 15 words; a card has room for 12 in a sentence.",
        ),
        ("what: a bench", "what: a safe bench", "The text says 'safe'."),
        ("Stop. Show your teacher.", "It is approved to go on.", "The text says 'approved'."),
        ("    sources: [common practice]\nsources", "sources", "sources"),
    ],
)  # fmt: skip
def test_every_mistake_in_a_station_file_has_its_message(own: Write, old: str, new: str, message: str) -> None:
    assert old in STATION
    found = messages(own(operations__carving_bench=STATION.replace(old, new, 1)))
    assert any(message in each for each in found), found
    assert all(re.match(r".*/operations/carving-bench\.yaml:\d+:\d+: ", each) for each in found)


@pytest.mark.parametrize(("key", "most"), [("card_after", 8), ("again", 3)])
@pytest.mark.parametrize("figure", ["bench.no-vice", "joint.into-whole", "joint.into-loose"])
def test_what_a_card_says_afterwards_has_room_at_any_one_bench(own: Write, key: str, most: int, figure: str) -> None:
    """What is said only at a bench that lacks the vice takes no room beside what is said where there is one, nor what is said of
    a whole beside what is said of a loose piece."""
    said = "".join(f"        - Measure the depth {number} times.\n" for number in range(most + 1))
    lines = f"instructions:\n      {key}:\n{said}"
    found = messages(own(operations__carving_bench=STATION.replace("instructions:\n", lines, 1)))
    assert [each for each in found if f"'{key}' takes at most {most} sentences for one bench; this has {most + 1}." in each]
    other = "".join(
        f"        {name}: [Measure the depth {number} times.]\n"
        for number, name in enumerate(dict.fromkeys((figure, "joint.into-whole", "joint.into-loose")))
    )
    assert load_knowledge(own(operations__carving_bench=STATION.replace("instructions:\n", f"{lines}      where:\n{other}", 1)))


def test_a_way_of_work_that_nobody_need_be_shown_is_refused(own: Write) -> None:
    """Who need not be shown a thing is given no lesson time for it."""
    shown = STATION.replace("settings: plough", "settings: plough\n    shown_as: [gouge]").replace(
        "what: a bench", "ways_shown: {gouge: the deep gouge}\nwhat: a bench", 1
    )
    assert load_knowledge(own(operations__carving_bench=shown)).stations["carving-bench"].ways_shown == {
        "gouge": "the deep gouge"
    }
    (found,) = messages(own(operations__carving_bench=shown.replace("gate: instructed", "gate: none")))
    assert "What is shown as 'gouge' may be done by students whom nobody has shown it." in found


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (", tool: below}", "}", "The cutter comes from above here and from below at the station."),
        ("stop: first-end, tool: below}", "tool: below}", "It is set by a stop block, and 'stop' is missing."),
    ],
)
def test_a_machine_s_pieces_lie_as_its_cutter_and_stops_ask(own: Write, old: str, new: str, message: str) -> None:
    shipped = (data_folder("operations") / "saw-bench.yaml").read_text(encoding="utf-8")
    above, sled, rest = shipped.partition("  crosscut-with-sled:")
    assert old in rest
    found = messages(own(operations__saw_bench=above + sled + rest.replace(old, new, 1)))
    assert len(found) == 1
    assert message in found[0]


def test_titles_of_sources_may_say_safe(own: Write) -> None:
    text = STATION.replace("sources: [common practice]\n", "sources: [Safe use of woodworking machinery]\n")
    assert "carving-bench" in load_knowledge(own(operations__carving_bench=text)).stations


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("wear: eye-protection", "wear: eye-protecton", "Did you mean 'eye-protection'?"),
        ("severity: minor", "severity: awful", "severity"),
        ("whom: [operator]", "whom: []", "whom"),
        ("student: Sparks burn. Keep back.", "student: " + "spark " * 13, "This has 13 words"),
        ("stop_when:", "forbids: [apron]\nstop_when:", "There is no thing to wear with a `forbidden_line` called 'apron'."),
        ("---\nname", "name", "The file does not start with keys between two lines '---'."),
        (
            "stop_when:",
            "signs: [glovs]\nstop_when:",
            "There is no sign in lists/signs.yaml called 'glovs'. Did you mean 'gloves'?",
        ),
        ("stop_when:", "signs: [../guards/air-jet]\nstop_when:", "There is no sign in lists/signs.yaml called"),
        ("severity: minor", "severity: minor\nblade: true", "no guard and no way of holding stands between the blade and a hand"),
        (
            "wear: eye-protection}",
            "wear: gloves}\nforbids: [gloves]",
            "'gloves' is asked for here and forbidden under `forbids`.",
        ),
        ("wear: eye-protection", "wear: eye-protection, tool: try square", "`tool` and `wear` carry it out."),
        ("\n  ppe:\n    - {text: Eye protection., wear: eye-protection}", " {}", "Nothing is said to be done about “Sparks”."),
        ("ppe:\n    - {text: Eye protection., wear: eye-protection}", "ppe: []", "'ppe' has no control."),
    ],
)
def test_every_mistake_in_a_hazard_file_has_its_message(own: Write, old: str, new: str, message: str) -> None:
    assert old in HAZARD
    found = messages(own(hazards__sparks=HAZARD.replace(old, new, 1)))
    assert any(message in each for each in found), found


def test_an_operation_s_name_is_used_once(own: Write) -> None:
    found = messages(own(operations__carving_bench=STATION.replace("carve-groove", "rip-on-saw")))
    assert any("is also called 'rip-on-saw'" in each for each in found)


def test_a_list_of_another_name_is_refused(own: Write) -> None:
    assert "There is no list called 'gard'. Did you mean 'guards'?" in messages(own(lists__gard="{}\n"))[0]


def test_a_fit_no_joint_asks_for_is_refused(own: Write) -> None:
    fit = "wobbly: {name: wobbly, play: 3, least: 2, most: 4, says: wobbles, source: common practice}\n"
    assert "There is no fit called 'wobbly'." in messages(own(lists__fits=fit))[0]


def test_all_mistakes_of_all_files_come_at_once(own: Write) -> None:
    folder = own(
        operations__carving_bench=STATION.replace("[bench-vice]", "[bench-vise]").replace("[edge-tool-cut]", "[edge]"),
        hazards__sparks=HAZARD.replace("severity: minor", "severity: awful"),
        lists__guards="a-guard: {name: a guard, what: a thing, line: A guard is there., source: common practice}\n",
    )
    text = "\n".join(messages(folder))
    assert "bench-vise" in text
    assert "'edge'" in text
    assert "sparks.md" in text
    assert "guards.yaml" in text


def test_the_readme_s_example_loads_and_its_tables_are_complete(own: Write) -> None:
    readme = (data_folder("operations") / "README.md").read_text(encoding="utf-8")
    example = re.search(r"```yaml\n(.*?)```", readme, re.DOTALL)
    assert example is not None
    assert "bench-stamp" in load_knowledge(own(operations__bench_stamp=example[1])).stations
    for name in (*QUANTITIES, *SETTINGS):
        assert f"| `{name}` |" in readme, name
    for name, function in SETTINGS.items():
        row = next(line for line in readme.splitlines() if line.startswith(f"| `{name}` |"))
        for word in (*function.gives, *function.figures, *function.words):
            assert f"`{word}`" in row, (name, word)
    for name in LISTS:
        assert f"lists/{name}.yaml" in readme
    for word in filter(None, (*get_args(LieFace), *get_args(Residue))):
        assert f"`{word}`" in readme, word


def test_a_blade_with_a_guard_or_a_way_of_holding_keeps_the_rule(own: Write) -> None:
    held = HAZARD.replace("  ppe:", "  engineering:\n    - {text: Hold it., holding: bench-vice}\n  ppe:").replace(
        "severity: minor", "severity: minor\nblade: true"
    )
    assert load_knowledge(own(hazards__sparks=held)).hazards["sparks"].blade


@pytest.mark.parametrize("power", ["machine", "powered-hand"])
def test_gloves_are_not_asked_for_where_something_turns(own: Write, power: str) -> None:
    gloved = STATION.replace("wear: [apron]", "wear: [apron, gloves]").replace("power: hand", f"power: {power}")
    assert any("It asks for gloves at a powered station." in each for each in messages(own(operations__carving_bench=gloved)))
    asked = HAZARD.replace("wear: eye-protection", "wear: gloves")
    there = STATION.replace("power: hand", f"power: {power}").replace("[edge-tool-cut]", "[edge-tool-cut, sparks]")
    found = messages(own(operations__carving_bench=there, hazards__sparks=asked))
    assert any("“Sparks” asks for gloves at a powered station." in each for each in found), found


def test_gloves_by_hand_and_where_another_hazard_forbids_them_are_no_mistake(own: Write) -> None:
    asked = HAZARD.replace("wear: eye-protection", "wear: gloves")
    by_hand = STATION.replace("[edge-tool-cut]", "[edge-tool-cut, sparks]").replace("wear: [apron]", "wear: [apron, gloves]")
    assert load_knowledge(own(operations__carving_bench=by_hand, hazards__sparks=asked)).stations["carving-bench"]
    turned = STATION.replace("power: hand", "power: machine").replace("[edge-tool-cut]", "[entanglement, sparks]")
    assert load_knowledge(own(operations__carving_bench=turned, hazards__sparks=asked)).stations["carving-bench"]


@pytest.mark.parametrize(
    ("name", "entry", "said"),
    [
        (
            "guards",
            "{name: our guard, what: ours, line: Close the guard., drawing: nosuch, source: common practice}",
            "cards/guards",
        ),
        ("guards", "{name: ours, what: ours, line: Close it., drawing: ../signs/apron, source: common practice}", "cards/guards"),
        ("holding", "{name: our clamp, what: ours, line: Close it., drawing: apron, source: common practice}", "cards/guards"),
        ("wear", "{name: hat, line: Wear a hat., drawing: chuck-guard, source: common practice}", "cards/signs"),
        (
            "wear",
            "{name: hat, line: Wear it., drawing: apron, forbidden_line: Take it off., forbidden_drawing: no-hat, "
            "source: common practice}",
            "cards/signs",
        ),
    ],
)
def test_a_drawing_that_is_not_there_is_a_mistake(own: Write, name: str, entry: str, said: str) -> None:
    found = messages(own(**{f"lists__{name}": f"ours: {entry}\n"}))
    assert any(f"There is no drawing in {said} called" in each for each in found), found
