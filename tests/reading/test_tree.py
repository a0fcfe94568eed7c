"""What a file may be, and what YAML may hold: everything stays the text that was typed; traps and tricks are refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sequencer.findings import Unusable
from sequencer.reading.tree import LARGEST, Tree, parse_tree, read_tree


def said(text: str) -> list[str]:
    with pytest.raises(Unusable) as error:
        parse_tree(text, "a.yaml")
    return [str(found) for found in error.value.findings]


def said_of(path: Path) -> str:
    """What is said about a file, with its folder left out."""
    with pytest.raises(Unusable) as error:
        read_tree(path)
    (found,) = error.value.findings
    return str(found).replace(path.as_posix(), path.name)


def written(folder: Path, raw: bytes) -> Path:
    path = folder / "a.yaml"
    path.write_bytes(raw)
    return path


def test_every_scalar_stays_what_was_typed() -> None:
    text = "{a: on, b: no, c: 3:30, d: 010, e: 1_000, f: 2027-02-01, g: ~, h: .5, i: 'yes', j: 1e3, k: , l: =}"
    assert parse_tree(text, "a.yaml").data == {
        "a": "on", "b": "no", "c": "3:30", "d": "010", "e": "1_000", "f": "2027-02-01", "g": "~", "h": ".5", "i": "yes",
        "j": "1e3", "k": "", "l": "=",
    }  # fmt: skip


def test_keys_stay_what_was_typed() -> None:
    assert parse_tree("on: 1\nno: 2\n3: 4", "a.yaml").data == {"on": "1", "no": "2", "3": "4"}


def test_every_value_has_its_line_and_column() -> None:
    tree = parse_tree("a:\n  b: [x, {c: y}]\n", "a.yaml")
    assert [str(tree.place(steps)) for steps in [("a",), ("a", "b"), ("a", "b", 0), ("a", "b", 1, "c")]] == [
        "a.yaml:1:1: a", "a.yaml:2:3: a.b", "a.yaml:2:7: a.b.1", "a.yaml:2:11: a.b.2.c",
    ]  # fmt: skip


def test_what_is_not_there_has_the_place_of_what_is_around_it() -> None:
    tree = parse_tree("a:\n  b: 1\n", "a.yaml")
    assert str(tree.place(("a", "z", 3))) == "a.yaml:1:1: a.z.4"
    assert tree.at(("a", "z")) is None


def test_lines_count_from_where_the_text_starts_in_its_file() -> None:
    """Front matter of a Markdown file starts on its second line."""
    assert str(parse_tree("name: x", "a.md", first_line=2).place(("name",))) == "a.md:2:1: name"
    with pytest.raises(Unusable) as error:
        parse_tree("name: [x", "a.md", first_line=2)
    assert error.value.findings[0].place is not None
    assert error.value.findings[0].place.line >= 2


BAD = {
    "tab": ("a:\n\tb: 1\n\tc: 2", [
        "a.yaml:2:1: There is a tab here, and in line 3. Tabs and spaces look alike and mean different things in YAML. "
        "Use spaces instead."]),
    "duplicate key": ("a: 1\nb: 2\na: 3", [
        "a.yaml:3:1: 'a' is written twice; the first is in line 1. Only one of them could count. Leave one out or rename it."]),
    "duplicate key deep inside": ("x: {a: 1, a: 2}", [
        "a.yaml:1:11: 'a' is written twice; the first is in line 1. Only one of them could count. Leave one out or rename it."]),
    "alias": ("a: &x 1\nb: *x", [
        "a.yaml:1:4: '&x' names something for an alias. A reader of the file would have to hunt for what is meant. "
        "Leave it out and write things where they belong.",
        "a.yaml:2:4: '*x' repeats something by an alias. A reader of the file would have to hunt for what stands here. "
        "Write it out, or use a name from sizes."]),
    "tag": ("a: !!int 3", ["a.yaml:1:4: A type is written with '!' here. Leave it out, or put the text in quotation marks."]),
    "python tag": ("a: !!python/object/apply:os.system [ls]", [
        "a.yaml:1:4: A type is written with '!' here. Leave it out, or put the text in quotation marks."]),
    "second document": ("a: 1\n---\nb: 2", ["a.yaml:2:1: A second document starts here. Make it a file of its own."]),
    "empty": ("", ["a.yaml: There is nothing in this file."]),
    "only a comment": ("# nothing\n", ["a.yaml: There is nothing in this file."]),
    "list as a key": ("{[a, b]: c}", ["a.yaml:1:2: A key must be a word, not a list or a set of keys. Write 'key: value'."]),
    "no key": ("'': 2", ["a.yaml:1:1: There is a colon without a key before it. Write 'key: value'."]),
    "bracket left open": ("a: [1, 2\nb: 3", [
        "a.yaml:2:2: A square bracket is not closed, or a comma is missing. Look at this line and the one before."]),
    "curly bracket left open": ("a: {b: 1\nc: 2", [
        "a.yaml:2:2: A curly bracket is not closed, or a comma is missing. Look at this line and the one before."]),
    "quotation mark left open": ("a: 'b\nc: 2", [
        "a.yaml:2:5: Something opened here is never closed. Close the quotation marks or the bracket."]),
    "colon too many": ("a: b: c", [
        "a.yaml:1:5: A colon stands where none can be. "
        "Check how far this line is indented; put text that holds a colon in quotation marks."]),
    "indentation": ("a:\n  b: 1\n c: 2", [
        "a.yaml:3:2: This line does not fit the lines above. Give all keys of one thing the same indentation."]),
    "colon missing": ("a: 1\nbcd\ne: 2", [
        "a.yaml:3:1: A colon is missing after a key. Write 'key: value', with a space after the colon."]),
    "no YAML at all": ("a: @b", ["a.yaml:1:4: This character cannot start a value. Put the text in quotation marks."]),
    "backslash": (r'a: "c:\work"', [
        "a.yaml:1:7: A backslash in double quotation marks has a special meaning. Use single quotation marks."]),
    "several at once": ("a: &x 1\na: 2\nb: *x\nc: !t 3", [
        "a.yaml:1:4: '&x' names something for an alias. A reader of the file would have to hunt for what is meant. "
        "Leave it out and write things where they belong.",
        "a.yaml:2:1: 'a' is written twice; the first is in line 1. Only one of them could count. Leave one out or rename it.",
        "a.yaml:3:4: '*x' repeats something by an alias. A reader of the file would have to hunt for what stands here. "
        "Write it out, or use a name from sizes.",
        "a.yaml:4:4: A type is written with '!' here. Leave it out, or put the text in quotation marks."]),
}  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), BAD.values(), ids=BAD.keys())
def test_what_is_refused(text: str, expected: list[str]) -> None:
    assert said(text) == expected


def test_an_alias_bomb_is_refused_before_it_is_written_out() -> None:
    """Nine times ten: written out it would be a thousand million values."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
    found = said("\n".join(lines))
    assert len(found) == 50  # and then it is given up
    assert all("alias" in each for each in found)


def test_things_may_not_stand_ever_deeper_in_each_other() -> None:
    assert said("[" * 100 + "]" * 100) == ["a.yaml:1:21: Things stand more than 20 deep inside each other here."]


def test_a_file_of_very_many_values_is_given_up() -> None:
    assert said("[" + "a," * 100_100 + "]")[0].endswith(": There are over 100000 values in this file. Name the right file.")


def test_a_hash_starts_a_comment_and_long_text_may_run_over_lines() -> None:
    tree = parse_tree("a: 5 # mm\nb: >-\n  one\n  two\nc: |\n  x\n  y\n", "a.yaml")
    assert tree.data == {"a": "5", "b": "one two", "c": "x\ny\n"}


def test_a_file_of_fifty_megabytes_is_refused_without_being_read(tmp_path: Path) -> None:
    path = written(tmp_path, b"a: 1\n")
    os.truncate(path, 50_000_000)  # sparse: takes no room on the disk
    assert said_of(path) == "a.yaml: The file has 50.0 MB; at most 2 MB are read. Name the right file."


def test_a_file_just_small_enough_is_read(tmp_path: Path) -> None:
    assert read_tree(written(tmp_path, b"a: 1\n#".ljust(LARGEST, b" "))).data == {"a": "1"}


def test_a_folder(tmp_path: Path) -> None:
    assert said_of(tmp_path) == f"{tmp_path.name}: This is a folder, not a file. Name the file inside it."


def test_a_missing_file(tmp_path: Path) -> None:
    assert said_of(tmp_path / "none.yaml") == "none.yaml: There is no such file. Check the name and the folder."


def test_a_name_no_file_can_have(tmp_path: Path) -> None:
    assert "The file cannot be opened" in said_of(tmp_path / "a\0b.yaml")


def test_a_device_is_no_file() -> None:
    assert said_of(Path(os.devnull)) == "null: This is not an ordinary file. Save the text as a file and name that."


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_utf_16_and_32(tmp_path: Path, encoding: str) -> None:
    path = written(tmp_path, "job: Kräuterkasten\n".encode(encoding))
    assert said_of(path) == "a.yaml: The file is written in UTF-16 or UTF-32, not in UTF-8. Save it again as UTF-8."


def test_latin_1_is_told_with_the_character_and_its_place(tmp_path: Path) -> None:
    path = written(tmp_path, "a: 1\njob: Kräuterkasten\n".encode("latin-1"))
    assert said_of(path) == (
        "a.yaml:2:8: The file is not written in UTF-8: the character here is not (in the older Windows encoding it is 'ä'). "
        "Save it again as UTF-8."
    )


def test_a_picture_is_no_text(tmp_path: Path) -> None:
    path = written(tmp_path, b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
    assert said_of(path) == "a.yaml: This is not a text file: it holds characters that cannot be printed. Name the right file."


def test_utf_8_with_and_without_its_mark(tmp_path: Path) -> None:
    expected = {"job": "Kräuterkasten ½"}
    assert read_tree(written(tmp_path, "job: Kräuterkasten ½\n".encode())).data == expected
    with_mark = read_tree(written(tmp_path, "job: Kräuterkasten ½\n".encode("utf-8-sig")))
    assert (with_mark.data, str(with_mark.place(("job",))).rpartition("/")[2]) == (expected, "a.yaml:1:1: job")


def test_lines_end_as_windows_ends_them(tmp_path: Path) -> None:
    tree: Tree = read_tree(written(tmp_path, b"a: 1\r\nb:\r\n  c: 2\r\n"))
    assert tree.data == {"a": "1", "b": {"c": "2"}}
    assert tree.place(("b", "c")).line == 3
