"""The command line as its user sees it: what is printed, what is written, exit codes, and every wrong input."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from argparse import Namespace
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from sequencer.cli import main
from sequencer.cli.named import printed_day
from sequencer.cli.writing import write_sheets
from sequencer.findings import Unusable
from sequencer.paper.sheets import SHEETS
from sequencer.paper.wording import DRAFT
from sequencer.pipeline import prove
from sequencer.plan_file import plan_json, read_plan, write_whole
from tests.made import EXAMPLES, ROOT, job, plan
from tests.proving.damage import without

COMMANDS = ("new", "check", "plan", "why", "what-if", "ways", "papers", "show", "prove", "schema", "demo")
FULL = "examples/workshops/full.yaml"
STARTER = "examples/starter/job.yaml"


@dataclass(frozen=True)
class Said:
    """What a command printed and its exit code."""

    code: int
    out: str
    err: str


@dataclass
class Shell:
    """Runs commands in a folder that holds a copy of the examples."""

    capture: pytest.CaptureFixture[str]

    def __call__(self, *words: str, wide: bool = False) -> Said:
        try:
            code = main(words)
        except SystemExit as stop:
            code = int(stop.code or 0)
        said = Said(code, *self.capture.readouterr())
        assert "Traceback" not in said.out + said.err
        assert "fault of the tool" not in said.err
        # A path is one word, however long.
        assert wide or [line for line in (said.out + said.err).splitlines() if len(line) > 80 and " " in line.strip()] == []
        return said


@pytest.fixture
def shell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Shell:
    shutil.copytree(ROOT / "examples", tmp_path / "examples", ignore=shutil.ignore_patterns("pictures"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "200")
    return Shell(capsys)


def why(shell: Shell, name: str, first: str, second: str, shop: str = "full") -> str:
    said = shell("why", f"examples/{name}/job.yaml", first, second, "--workshop", f"examples/workshops/{shop}.yaml")
    assert said.code == 0
    return said.out


# What each command does


def test_help_names_every_command_and_each_has_its_own(shell: Shell) -> None:
    whole = shell("--help")
    assert whole.code == 0
    for command in COMMANDS:
        assert command in whole.out
        own = shell(command, "--help")
        assert own.code == 0
        assert own.out.startswith(f"usage: sequencer {command}")
    assert "Qualified staff must check every plan and sheet before" in " ".join(whole.out.split())


def test_help_of_papers_names_every_sheet(shell: Shell) -> None:
    said = " ".join(shell("papers", "--help").out.split())
    assert ", ".join(SHEETS) in said


def test_version(shell: Shell) -> None:
    assert shell("--version").out == "sequencer 0.1.0\n"


def test_check_counts_and_says_what_was_looked_at(shell: Shell) -> None:
    said = shell("check", STARTER)
    assert said.code == 0
    assert said.out == (
        "Peg rail: 2 parts, 4 pieces, 3 features, 3 joints.\n"
        "Nothing was found against the drawing. Put together as solids, no piece stands\nin another and every joint meets wood.\n"
    )
    assert said.err.startswith("... reading the job and the workshop\n")


def test_check_of_a_flawed_drawing_names_place_flaw_and_remedy(shell: Shell) -> None:
    shutil.copy(ROOT / "tests/cases/flawed/s11-tenon-too-long.yaml", "flawed.yaml")
    said = shell("check", "flawed.yaml", "--workshop", FULL)
    assert said.code == 1
    assert "error: flawed.yaml:" in said.out
    assert "->" in said.out


def test_plan_prints_every_step_in_order(shell: Shell) -> None:
    said = shell("plan", STARTER)
    assert said.code == 0
    head, _, table = said.out.partition("\n\n")
    assert head.startswith("Peg rail: ")
    numbers = [int(line[:4]) for line in table.splitlines() if line[:4].strip().isdigit()]
    assert numbers == list(range(1, len(numbers) + 1))
    assert f"{len(numbers)} steps for 20 students (Year 7) in Our workshop" in head


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_json_of_a_plan_meets_its_schema_and_reads_back_equal(shell: Shell, name: str) -> None:
    said = shell("plan", f"examples/{name}/job.yaml", "--workshop", FULL, "--json", "deep/down/plan.json")
    assert said.code == 0
    assert said.out.endswith("Wrote the plan to deep/down/plan.json.\n")
    written = Path("deep/down/plan.json").read_bytes()
    schema = json.loads(shell("schema", "plan", wide=True).out)
    Draft202012Validator(schema).validate(json.loads(written))
    assert read_plan(written).steps == plan(name).steps
    assert plan_json(read_plan(written)) == written
    assert [file.name for file in Path("deep/down").iterdir()] == ["plan.json"]


@pytest.mark.parametrize("kind", ["job", "workshop", "plan"])
def test_schemas_are_valid_and_the_published_files_equal_them(shell: Shell, kind: str) -> None:
    printed = shell("schema", kind, wide=True).out
    Draft202012Validator.check_schema(json.loads(printed))
    published = ROOT / "examples" / "schemas" / f"{kind}.schema.json"
    assert published.read_text(encoding="utf-8") == printed, "run `make schemas`"


def test_new_writes_files_that_check_and_plan(shell: Shell) -> None:
    said = shell("new", "shelf")
    assert said.code == 0
    assert said.out == (
        "Wrote job.yaml and workshop.yaml in shelf.\n"
        "Change both to your project and your workshop, then run: sequencer check\n"
        "shelf/job.yaml\n"
    )
    assert shell("check", "shelf/job.yaml").code == 0
    assert shell("plan", "shelf/job.yaml").code == 0
    assert sorted(file.name for file in Path("shelf").iterdir()) == ["job.yaml", "workshop.yaml"]


def test_the_workshop_is_found_beside_the_job_or_one_folder_up(shell: Shell) -> None:
    shutil.copy(FULL, "examples/workshop.yaml")
    assert shell("check", "examples/herb-caddy/job.yaml").code == 0


def test_ways_lists_what_is_possible_first_and_what_stands_against_the_rest(shell: Shell) -> None:
    said = shell("ways", "examples/herb-caddy/job.yaml", "end/handle-hole", "--workshop", FULL)
    assert said.code == 0
    marks = [line.strip().partition(":")[0] for line in said.out.splitlines() if line.startswith("  ") and line[2] != " "]
    assert said.out.startswith("end/handle-hole/cut: Drill the handle hole: end\n")
    assert marks.count("planned") == 1
    assert marks.index("not possible") > marks.index("planned")
    assert marks == sorted(marks, key=lambda mark: mark == "not possible")


def test_papers_writes_html_and_pdf_of_the_sheets_asked_for(shell: Shell) -> None:
    said = shell("papers", STARTER, "--out", "out/deep", "--date", "2027-02-01", "--only", "job-card", "--page", "letter")
    assert said.code == 0
    assert said.out.startswith("Wrote:\n  out/deep/job-card.html\n  out/deep/job-card.pdf\n")
    assert sorted(file.name for file in Path("out/deep").iterdir()) == ["job-card.html", "job-card.pdf"]
    assert Path("out/deep/job-card.pdf").read_bytes().startswith(b"%PDF")


def test_demo_writes_every_sheet_and_says_what_to_open(shell: Shell) -> None:
    said = shell("demo", "--date", "2027-02-01")
    assert said.code == 0
    assert said.out.startswith("Planned the herb caddy for 24 students in ")
    assert "Open out/job-card.pdf first: it is the card a student follows." in said.out
    assert {file.name for file in Path("out").iterdir()} == {f"{sheet}.{kind}" for sheet in SHEETS for kind in ("html", "pdf")}


def test_equal_input_writes_equal_bytes(shell: Shell) -> None:
    for folder in ("one", "two"):
        shell("papers", STARTER, "--out", folder, "--date", "2027-02-01", "--only", "station-cards")
        shell("plan", STARTER, "--json", f"{folder}/plan.json")
    for file in Path("one").iterdir():
        assert file.read_bytes() == (Path("two") / file.name).read_bytes()


# Why, word for word


def test_why_a_chain_is_demanded(shell: Shell) -> None:
    tasks = ("side/length/cut", "side/mark-out/mark", "side/floor-groove/cut")
    cut, marked, ploughed = (_number("herb-caddy", task) for task in tasks)
    said = why(shell, "herb-caddy", "side/length", "side/floor-groove")
    assert said.splitlines()[2:] == [
        f"  step {cut} (cut to length: side) before step {marked} (mark out: side (A)) [reference]:",
        "    Marks are measured from the squared ends.",
        "    source: common practice",
        f"  step {marked} (mark out: side (A)) before step {ploughed} (cut the floor groove: side (A))",
        "    [reference]: A cut needs its line.",
        "    source: common practice",
    ]
    assert said.startswith(
        f"Step {cut} (cut to length: side) must come before step {ploughed} (cut the floor groove:\nside (A)):\n"
    )


def test_why_answers_the_same_whichever_is_named_first(shell: Shell) -> None:
    forth = why(shell, "herb-caddy", "side/floor-groove", "side/length")
    assert forth == why(shell, "herb-caddy", "side/length", "side/floor-groove")


def test_why_in_the_long(shell: Shell) -> None:
    long, ends = (_number("picture-frame", f"long-piece/{feature}/cut") for feature in ("rebate", "left-mitre"))
    rebate, mitre = (
        _called("picture-frame", long, "long-piece/rebate/cut"),
        _called("picture-frame", ends, "long-piece/left-mitre/cut"),
    )
    assert _flat(why(shell, "picture-frame", "long-piece/rebate", "long-piece/left-mitre")) == (
        f"Step {long} ({rebate}) must come before step {ends} ({mitre}): "
        f"step {long} ({rebate}) before step {ends} ({mitre}) [support]: The rebate runs out through both ends, so it is worked "
        "in the long piece; the left mitre then cuts the part off. source: common practice"
    )


def test_why_a_shape_waits_for_what_is_held_by_the_edge_it_takes(shell: Shell) -> None:
    mortise, taper = (_number("step-stool", f"leg/{feature}/cut") for feature in ("rail-mortise", "foot-taper"))
    assert _flat(why(shell, "step-stool", "leg/rail-mortise", "leg/foot-taper")) == (
        f"Step {mortise} (cut the rail mortise: leg (A)) must come before step {taper} (shape the foot taper: leg (A)): "
        f"step {mortise} (cut the rail mortise: leg (A)) before step {taper} (shape the foot taper: leg (A)) [holding]: Square "
        "work first: the foot taper takes away the straight top edge that the part is held by. source: common practice"
    )


def test_why_as_the_drawing_says_step_by_step(shell: Shell) -> None:
    set_, nailed = (_number("picture-frame", task) for task in ("frame/cure/wait", "backing-in/nail/nail"))
    said = _flat(why(shell, "picture-frame", "frame/cure/wait", "backing-in/nail/nail"))
    assert said.startswith(f"Step {set_} (leave the glue to set: frame) must come before step {nailed} (")
    assert said.endswith("[drawing]: The drawing says that sheet in comes after frame. source: common practice")


def test_why_a_choice_is_no_demand(shell: Shell) -> None:
    spine, rail = (_number("step-stool", f"{task}/cut") for task in ("spine/left-lap", "end-rail/spine-lap"))
    assert _flat(why(shell, "step-stool", "end-rail/spine-lap", "spine/left-lap")) == (
        f"Nothing demands that step {rail} ({_called('step-stool', rail, 'end-rail/spine-lap/cut')}) comes before step {spine} "
        f"({_called('step-stool', spine, 'spine/left-lap/cut')}); the plan chose it. Either could be cut first; the spine lap "
        "is, so that the left lap is fitted to it."
    )


def _flat(text: str) -> str:
    return " ".join(text.split())


def _called(name: str, number: int, task: str) -> str:
    """The title of a step, or of one task where the step holds more, as a sentence goes on with it."""
    step = plan(name).steps[number - 1]
    text = step.title if len(step.tasks) == 1 else next(each.does for each in plan(name).tasks if each.id == task)
    return text[:1].lower() + text[1:]


def _number(name: str, task: str, shop: str = "full") -> int:
    return next(step.number for step in plan(name, shop).steps if step.kind in ("work", "wait") and task in step.tasks)


def test_why_nothing_demands_an_order(shell: Shell) -> None:
    side, end = (_number("herb-caddy", f"{part}/floor-groove/cut") for part in ("side", "end"))
    said = why(shell, "herb-caddy", "end/floor-groove", "side/floor-groove")
    assert " ".join(said.split()) == (
        f"Nothing demands an order between step {side} (cut the floor groove: side (A)) and step {end} (cut the floor groove: "
        "end (B)). The other way round takes no longer: of orders that change as little, the usual one of a workshop is taken. "
        "A decision may swap them."
    )


def test_why_staff_work_comes_early(shell: Shell) -> None:
    said = why(shell, "herb-caddy", "end/rough-length", "side/rough-length")
    assert "what staff do comes before the lessons where it can." in " ".join(said.split())


def test_why_in_the_same_step(shell: Shell) -> None:
    step = _number("herb-caddy", "side/pot-end-rebate/cut")
    said = why(shell, "herb-caddy", "side/pot-end-rebate", "side/tool-end-rebate")
    assert " ".join(said.split()) == (
        f"side/pot-end-rebate and side/tool-end-rebate are done in the same step {step}: nothing orders them."
    )


def test_why_the_same_work(shell: Shell) -> None:
    assert why(shell, "herb-caddy", "side/length", "side/length/cut") == (
        "side/length and side/length/cut mean the same work: nothing orders it.\n"
    )


def test_why_by_step_numbers(shell: Shell) -> None:
    marking, boring = (str(_number("herb-caddy", task)) for task in ("end/mark-out/mark", "end/handle-hole/cut"))
    said = why(shell, "herb-caddy", boring, marking)
    assert _flat(said).startswith(
        f"Step {marking} (mark out: end (B)) must come before step {boring} (drill the handle hole: end (B)):"
    )
    assert "A cut needs its\n    line." in said or "A cut needs its line." in " ".join(said.split())


# Wrong input: exit code, where, what, what to do


@pytest.mark.parametrize("command", ["check", "plan"])
def test_a_job_file_that_is_not_there(shell: Shell, command: str) -> None:
    said = shell(command, "examples/nothing.yaml")
    assert said.code == 2
    assert said.err.endswith("error: examples/nothing.yaml\n  There is no such file.\n  -> Check the name and the folder.\n")


def test_both_files_missing_are_both_said(shell: Shell) -> None:
    said = shell("check", "nothing.yaml", "--workshop", "nowhere.yaml")
    assert said.code == 2
    assert "error: nothing.yaml" in said.err
    assert "error: nowhere.yaml" in said.err


def test_a_folder_for_the_job(shell: Shell) -> None:
    said = shell("check", "examples/herb-caddy", "--workshop", FULL)
    assert said.code == 2
    assert said.err.endswith("error: examples/herb-caddy\n  This is a folder, not a file.\n  -> Name the file inside it.\n")


def test_a_folder_for_the_workshop(shell: Shell) -> None:
    said = shell("plan", STARTER, "--workshop", "examples")
    assert said.code == 2
    assert "error: examples\n  This is a folder, not a file." in said.err


def test_no_workshop(shell: Shell) -> None:
    said = shell("plan", "examples/herb-caddy/job.yaml")
    assert said.code == 2
    assert said.err == (
        "error: examples/herb-caddy/job.yaml\n"
        "  No workshop file was named, and there is no workshop.yaml beside the job\n"
        "  file.\n"
        "  What is possible depends on the workshop: its stations, guards and people.\n"
        "  -> Add `--workshop FILE`, or put a workshop.yaml beside the job file;\n"
        "     `sequencer new DIR` writes one to change.\n"
    )


def test_the_files_the_wrong_way_round(shell: Shell) -> None:
    said = shell("check", FULL, "--workshop", STARTER)
    assert said.code == 2
    assert f"error: {FULL}" in said.err
    assert f"error: {STARTER}" in said.err


@pytest.mark.parametrize("content", [b"", b"\x00\xff\xfe", b"- a\n- b\n", b"a: [1\n", b"job: x\n\tparts: 1\n"])
def test_a_file_that_is_no_job(shell: Shell, content: bytes) -> None:
    Path("bad.yaml").write_bytes(content)
    said = shell("plan", "bad.yaml", "--workshop", FULL)
    assert said.code == 2
    assert "error: bad.yaml" in said.err


def test_what_cannot_be_planned_is_refused_with_reasons_and_remedies(shell: Shell) -> None:
    poor = Path(FULL).read_text(encoding="utf-8").replace("ploughing: {", "ploughing: {out_of_service: blades lost, ")
    poor = poor.replace("chiselling: {", "chiselling: {out_of_service: being sharpened, ")
    Path("poor.yaml").write_text(
        poor.replace("guards: [cutter-cage, ", "guards: [").replace("tunnel-guard, ", ""), encoding="utf-8"
    )
    said = shell("plan", "examples/herb-caddy/job.yaml", "--workshop", "poor.yaml", "--json", "plan.json")
    assert said.code == 1
    flat = " ".join(said.err.split())
    assert "No way of doing this is possible here: Cut the floor groove: side." in flat
    assert "ploughing is out of service: blades lost." in flat
    assert "-> Nearest: " in flat
    assert said.err.endswith("No plan was made.\n")
    assert not Path("plan.json").exists()


@pytest.mark.parametrize(
    ("words", "what", "remedy"),
    [
        (("why", STARTER, "rail/legnth", "1"), "The plan has no task called rail/legnth.", "Did you mean rail/length"),
        (("why", STARTER, "1", "99"), "The plan has no step 99.", "Steps run from 1 to "),
        (("why", STARTER, "0", "1"), "The plan has no step 0.", "Steps run from 1 to "),
        (("why", STARTER, "-1", "1"), "The plan has no step -1.", "Steps run from 1 to "),
        (("why", STARTER, "²", "1"), "The plan has no task called ².", "`sequencer plan JOB` shows the names"),
        (("ways", STARTER, "rail/peghole"), "The job has no feature or task called rail/peghole.", "Did you mean rail/peg-holes"),
        (("ways", STARTER, "zzz"), "The job has no feature or task called zzz.", "parts and features stand in the job file."),
        (
            ("papers", STARTER, "--out", "out", "--only", "job-crad"),
            "There is no sheet called job-crad.",
            "The sheets are: job-card, ",
        ),
        (
            ("lessons", STARTER, "--out", "out", "--sheet", "wall-chrat"),
            "There is no sheet called wall-chrat.",
            "The sheets are: lesson-plan, wall-chart, seat-cards",
        ),
        (
            ("lessons", STARTER, "--sheet", "wall-chart"),
            "A sheet is asked for, and no folder for it.",
            "Add `--out` and a folder",
        ),
        (("lessons", STARTER, "--out", "out", "--page", "a5"), "invalid choice: 'a5'", "--help"),
        (("papers", STARTER, "--out", "out", "--date", "1.2.2027"), "'1.2.2027' is not a date", "such as 2027-02-01"),
        (("papers", STARTER, "--out", "out", "--date", "2027-02-30"), "'2027-02-30' is not a date", "such as 2027-02-01"),
        (("papers", STARTER, "--out", "out", "--page", "a5"), "invalid choice: 'a5'", "--help"),
        (("papers", STARTER), "required: --out", "--help"),
        (("schema", "plans"), "invalid choice: 'plans'", "--help"),
        (("plam", STARTER), "invalid choice: 'plam'", "--help"),
        ((), "required: COMMAND", "--help"),
    ],
)
def test_a_wrong_word_is_named_with_what_to_do(shell: Shell, words: tuple[str, ...], what: str, remedy: str) -> None:
    said = shell(*words)
    assert said.code == 2
    flat = " ".join(said.err.split())
    assert what in flat
    assert remedy in flat
    assert not Path("out").exists()


@pytest.mark.parametrize("there", ["job.yaml", "workshop.yaml"])
def test_new_overwrites_nothing(shell: Shell, there: str) -> None:
    Path("mine").mkdir()
    Path("mine", there).write_text("mine", encoding="utf-8")
    said = shell("new", "mine")
    assert said.code == 2
    assert (
        said.err
        == f"error: mine\n  There is already a {there} in mine.\n  Nothing of yours is overwritten.\n  -> Name another folder.\n"
    )
    assert [(file.name, file.read_text(encoding="utf-8")) for file in Path("mine").iterdir()] == [(there, "mine")]


@pytest.mark.parametrize(
    "words",
    [
        ("new", "file"),
        ("new", "file/in"),
        ("plan", STARTER, "--json", "file/plan.json"),
        ("plan", STARTER, "--json", "examples"),
        ("papers", STARTER, "--out", "file", "--only", "job-card"),
        ("papers", STARTER, "--out", "file/in", "--only", "job-card"),
        ("demo", "--out", "file"),
    ],
)
def test_where_nothing_can_be_written(shell: Shell, words: tuple[str, ...]) -> None:
    Path("file").write_text("mine", encoding="utf-8")
    before = sorted(str(path) for path in Path().rglob("*"))
    said = shell(*words)
    assert said.code == 2
    assert any(text in said.err for text in ("Name another folder", "Choose another folder", "Check the path"))
    assert Path("file").read_text(encoding="utf-8") == "mine"
    assert sorted(str(path) for path in Path().rglob("*")) == before


def test_a_knowledge_folder_that_is_not_there(shell: Shell) -> None:
    text = Path("examples/starter/workshop.yaml").read_text(encoding="utf-8")
    Path("own.yaml").write_text(f"knowledge: no-such-folder\n{text}", encoding="utf-8")
    said = shell("plan", STARTER, "--workshop", "own.yaml")
    assert said.code == 2
    assert "no-such-folder" in said.err
    assert "->" in said.err


# As a program of its own


@pytest.mark.parametrize("seconds", ["99999999999999999999", "253402300800"])
def test_seconds_after_the_last_year_are_no_date(seconds: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "253402300799")
    assert printed_day(Namespace(date=None)) == date(9999, 12, 31)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", seconds)
    with pytest.raises(Unusable) as refused:
        printed_day(Namespace(date=None))
    assert [str(each) for each in refused.value.findings] == [
        "SOURCE_DATE_EPOCH: SOURCE_DATE_EPOCH is later than any date of the calendar. Unset it, or give --date."
    ]


def _run(*words: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "sequencer", *words],
        cwd=cwd,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )


def test_run_as_a_module_from_another_folder(tmp_path: Path) -> None:
    made = _run("check", str(ROOT / STARTER), cwd=tmp_path)
    assert (made.returncode, made.stdout.splitlines()[0]) == (0, "Peg rail: 2 parts, 4 pieces, 3 features, 3 joints.")


def test_a_pipe_that_closes_early_is_no_error(tmp_path: Path) -> None:
    made = subprocess.Popen(
        [sys.executable, "-m", "sequencer", "schema", "plan"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert made.stdout is not None
    assert made.stderr is not None
    assert made.stdout.readline() == "{\n"
    made.stdout.close()
    assert made.stderr.read() == ""
    made.stderr.close()
    assert made.wait() == 0


def test_a_console_without_the_letters_of_a_name_still_prints(tmp_path: Path) -> None:
    text = (ROOT / STARTER).read_text(encoding="utf-8").replace("job: Peg rail", "job: Hakenleiste für Jacken ✓")
    (tmp_path / "job.yaml").write_text(text, encoding="utf-8")
    shutil.copy(ROOT / "examples/starter/workshop.yaml", tmp_path / "workshop.yaml")
    made = _run("check", "job.yaml", cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert made.returncode == 0
    assert made.stdout.startswith("Hakenleiste f?r Jacken ?: 2 parts")


def test_what_is_read_is_never_written_over(shell: Shell, tmp_path: Path) -> None:
    before = (tmp_path / STARTER).read_bytes()
    for words in (("plan", STARTER, "--json", STARTER), ("show", STARTER, "--out", STARTER)):
        said = shell(*words, "--workshop", FULL)
        assert said.code == 2
        assert "is one of the files the plan is made from" in said.err
    assert (tmp_path / STARTER).read_bytes() == before


def test_nothing_is_written_into_the_folders_that_knowledge_is_read_from(shell: Shell, tmp_path: Path) -> None:
    own = tmp_path / "own"
    shutil.copytree(ROOT / "examples" / "own-knowledge", own)
    school = tmp_path / "school.yaml"
    school.write_text("knowledge: own\n" + (tmp_path / FULL).read_text("utf-8"), "utf-8")
    before = {path: path.read_bytes() for path in own.rglob("*") if path.is_file()}
    by_option = ("--workshop", FULL, "--knowledge", "own")
    for words in (
        ("plan", STARTER, *by_option, "--json", "own/changes.yaml"),
        ("plan", STARTER, "--workshop", "school.yaml", "--json", "own/operations/pillar-drill.yaml"),
        ("show", STARTER, *by_option, "--out", "own/hazards/new.svg"),
        ("papers", STARTER, *by_option, "--out", "own"),
    ):
        said = shell(*words, wide=True)
        assert said.code == 2
        assert "lies in the school's own folder of knowledge" in " ".join(said.err.split())
        assert "outside that folder" in said.err
    assert {path: path.read_bytes() for path in own.rglob("*") if path.is_file()} == before
    shipped = str(ROOT / "operations" / "lists")
    for words in (
        ("show", STARTER, "--workshop", FULL, "--out", f"{shipped}/x.svg"),
        ("new", shipped),
        ("demo", "--out", shipped),
    ):
        said = shell(*words, wide=True)
        assert (said.code, "lies in the tool's own data" in said.err.replace("\n  ", " ")) == (2, True)


def test_an_empty_name_of_a_folder_is_not_this_folder(shell: Shell) -> None:
    for words in (("knowledge", "regions"), ("check", STARTER, "--workshop", FULL)):
        said = shell(*words, "--knowledge", "")
        assert said.code == 2
        assert "the name of the folder is empty" in said.err


@pytest.mark.parametrize("region", ["Atlantis", "US-CA"])
def test_a_region_that_is_not_known_is_an_error_of_check_too(shell: Shell, tmp_path: Path, region: str) -> None:
    school = tmp_path / "school.yaml"
    school.write_text((tmp_path / FULL).read_text("utf-8").replace("region: generic", f"region: {region}"), "utf-8")
    said = shell("check", STARTER, "--workshop", "school.yaml")
    assert said.code == 1
    assert f"No region called '{region}' is known." in said.out
    assert "school.yaml: region" in said.out
    assert "Nothing was found" not in said.out


def test_sheets_of_a_day_of_which_nothing_is_known_are_refused(shell: Shell, tmp_path: Path) -> None:
    said = shell("papers", STARTER, "--workshop", FULL, "--out", "old", "--date", "1990-01-01")
    assert said.code == 2
    assert "Nothing is known of what held in generic on 1990-01-01" in said.err
    assert not (tmp_path / "old").exists()


def test_every_plan_of_the_command_line_is_proved_and_printed_so(shell: Shell) -> None:
    said = shell("prove", "examples/herb-caddy/job.yaml", "--workshop", FULL)
    assert said.code == 0
    assert "side/floor-groove/cut, on side.left" in said.out
    assert "side.left differs from its drawing by 0.00 mm3" in said.out
    assert "the thing comes out as drawn" in " ".join(said.out.split())
    assert "DOES NOT HOLD" not in said.out


def test_a_file_keeps_its_rights_and_a_link_is_followed(tmp_path: Path) -> None:
    target, link = tmp_path / "plan.json", tmp_path / "link.json"
    target.write_text("old")
    target.chmod(0o600)
    link.symlink_to(target)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"
    assert target.stat().st_mode & 0o777 == 0o600


def test_what_is_no_ordinary_file_is_left_alone(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.json"
    os.mkfifo(pipe)
    with pytest.raises(OSError, match="no ordinary file"):
        write_whole(pipe, b"new")
    assert not pipe.is_file()


def test_sheets_of_a_plan_that_is_not_proved_are_written_as_drafts_and_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sound, drawn = plan("picture-frame"), job("picture-frame")
    rebate = next(task for task in sound.tasks if task.kind == "rebate")
    made, making = prove(without(sound, rebate.id), drawn)
    given = Namespace(out=tmp_path, date=date(2027, 2, 1), only=["staff-sheet"], page="a4")
    assert write_sheets(made, drawn, making, given) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "The plan is not proved: every page says that it is a draft." in said
    assert "`sequencer prove` prints what did not hold." in said
    assert DRAFT in (tmp_path / "staff-sheet.html").read_text(encoding="utf-8")
