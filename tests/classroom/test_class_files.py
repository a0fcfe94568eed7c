"""The files of a class plan as their user asks for them: calendar and table, written whole or not at all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from sequencer.class_plan_file import class_plan_schema, read_class_plan
from sequencer.cli import main
from sequencer.plan_file import can_be_written, write_whole
from tests.made import ROOT

FRAME = ("lessons", str(ROOT / "examples" / "picture-frame" / "job.yaml"), "--effort", "0.02", "--no-solver", "--students", "6")
WELL = ROOT / "examples" / "workshops" / "well-equipped.yaml"
SHOP = ("--workshop", str(WELL))


def said(capture: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """The exit code, and what was said on one line."""
    code = main(words)
    out = capture.readouterr()
    assert "fault of the tool" not in out.err
    return code, " ".join((out.out + out.err).split())


def test_calendar_and_table_are_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    calendar, table = tmp_path / "frame.ics", tmp_path / "frame.csv"
    code, text = said(capsys, *FRAME, *SHOP, "--calendar", str(calendar), "--table", str(table), "--date", "2027-01-10")
    assert code == 0
    assert "Wrote the calendar to" in text
    assert "Wrote the table to" in text
    assert b"DTSTAMP:20270110T000000Z" in calendar.read_bytes()
    assert table.read_text(encoding="utf-8-sig").startswith("seat,lesson,")
    assert sorted(each.name for each in tmp_path.iterdir()) == ["frame.csv", "frame.ics"]


@pytest.mark.parametrize(
    ("option", "name", "answer"),
    [
        ("--calendar", "frame.csv", "ends in .csv, and a calendar file ends in .ics. "),
        ("--calendar", "frame", "has no ending, and a calendar file ends in .ics. "),
        ("--table", "frame.txt", "ends in .txt, and a table file ends in .csv. "),
    ],
)
def test_another_ending_is_answered_before_anything_is_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str, name: str, answer: str
) -> None:
    code, text = said(capsys, *FRAME, *SHOP, option, str(tmp_path / name))
    assert code == 2
    assert answer in text
    assert "..." not in text
    assert list(tmp_path.iterdir()) == []


def test_one_file_for_two_things_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = str(tmp_path / "frame.csv")
    code, text = said(capsys, *FRAME, *SHOP, "--json", file, "--table", file)
    assert code == 2
    assert "is named for two things to write." in text
    assert list(tmp_path.iterdir()) == []


def test_a_calendar_without_days_is_refused_and_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = WELL.read_text(encoding="utf-8")
    shop = tmp_path / "shop.yaml"
    shop.write_text(text.replace("  first_date: 2027-02-02\n", ""), encoding="utf-8")
    table = tmp_path / "frame.csv"
    code, text = said(capsys, *FRAME, "--workshop", str(shop), "--calendar", str(tmp_path / "frame.ics"), "--table", str(table))
    assert code == 2
    assert "does not say on which days and at what time the lessons are" in text
    assert "Write `week` and `first_date` under `time`, or leave `--calendar` out." in text
    assert [each.name for each in tmp_path.iterdir()] == ["shop.yaml"]


def test_the_workshop_file_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop = tmp_path / "shop.csv"
    before = WELL.read_bytes()
    shop.write_bytes(before)
    code, text = said(capsys, *FRAME, "--workshop", str(shop), "--table", str(shop))
    assert code == 2
    assert "Nothing that is read is written over." in text
    assert shop.read_bytes() == before


@pytest.mark.parametrize("option", ["--json", "--calendar", "--table", "--out"])
def test_what_cannot_be_written_is_answered_before_anything_is_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str
) -> None:
    ending = {"--calendar": ".ics", "--table": ".csv"}.get(option, "")
    (tmp_path / "notes").write_text("mine", encoding="utf-8")
    code, text = said(capsys, *FRAME, *SHOP, option, str(tmp_path / "notes" / f"frame{ending}"))
    assert code == 2
    assert f"{tmp_path / 'notes'} is a file, and a folder is needed there." in text
    assert "lessons" not in text.replace(str(tmp_path), "")
    assert (tmp_path / "notes").read_text(encoding="utf-8") == "mine"


def test_a_folder_in_the_place_of_a_file_is_answered_before_anything_is_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "frame.json").mkdir()
    code, text = said(capsys, *FRAME, *SHOP, "--json", str(tmp_path / "frame.json"))
    assert code == 2
    assert "frame.json: It is a folder." in text
    assert "lessons" not in text.replace(str(tmp_path), "")


@pytest.mark.parametrize(
    ("option", "what"), [("--json", "file"), ("--table", "file"), ("--calendar", "file"), ("--out", "folder")]
)
def test_an_empty_name_is_refused(capsys: pytest.CaptureFixture[str], option: str, what: str) -> None:
    with pytest.raises(SystemExit) as error:
        main([*FRAME, *SHOP, option, ""])
    assert error.value.code == 2
    assert f"The name of the {what} is empty; name the {what}" in " ".join(capsys.readouterr().err.split()).replace(
        "the name", "The name"
    )


def test_a_long_name_is_written(tmp_path: Path) -> None:
    file = tmp_path / ("f" * 250)
    write_whole(file, b"whole")
    assert file.read_bytes() == b"whole"
    can_be_written(file)
    with pytest.raises(OSError, match="long") as error:
        can_be_written(tmp_path / ("g" * 300))
    assert str(error.value.filename).endswith("ggg")


@pytest.mark.parametrize(
    "stated", ["  week: [{day: Tuesday, at: 10:15}, {day: Thursday, at: 13:30}]\n", "  first_date: 2027-02-02\n", ""]
)
def test_sessions_have_a_day_in_json_only_where_the_timetable_is_stated(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], stated: str
) -> None:
    text = WELL.read_text(encoding="utf-8")
    assert stated in text
    shop, file = tmp_path / "shop.yaml", tmp_path / "frame.json"
    shop.write_text(text.replace(stated, "", 1), encoding="utf-8")
    code, _ = said(capsys, *FRAME, "--workshop", str(shop), "--json", str(file))
    assert code == 0
    written = json.loads(file.read_bytes())
    sessions = [*written["lessons"], *written["staff_sessions"]]
    assert len(sessions) > len(written["lessons"])
    assert {"day" in each for each in sessions} == {not stated}
    read = read_class_plan(file.read_bytes())
    assert all((each.day is None) == bool(stated) for each in read.lessons)
    Draft202012Validator(class_plan_schema()).validate(written)
