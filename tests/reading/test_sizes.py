"""Named sizes that need each other."""

from __future__ import annotations

from sequencer.reading.sizes import work_out


def test_the_order_does_not_matter() -> None:
    sizes = work_out({"inner": "wide - 2*board", "wide": "10*board + 40", "board": "15"}, "mm")
    assert sizes.values == {"inner": 160, "wide": 190, "board": 15}
    assert list(sizes.values) == ["inner", "wide", "board"]
    assert not sizes.broken


def test_inches_are_kept_as_inches() -> None:
    assert work_out({"a": "3 1/2", "b": "a + 25.4 mm"}, "in").values == {"a": 3.5, "b": 4.5}


def test_a_loop_is_spelled_out_once_and_what_hangs_on_it_is_quiet() -> None:
    sizes = work_out({"d": "c + 1", "a": "b", "b": "2*c", "c": "a - 1", "e": "5"}, "mm")
    assert sizes.broken == {"a": "'a' is worked out from itself: a -> b -> c -> a.", "b": "", "c": "", "d": ""}
    assert sizes.values == {"e": 5}


def test_every_loop_is_told() -> None:
    told = work_out({"a": "a", "b": "c", "c": "b", "d": "a + b"}, "mm").broken
    assert told == {
        "a": "'a' is worked out from itself: a -> a.", "b": "'b' is worked out from itself: b -> c -> b.", "c": "", "d": "",
    }  # fmt: skip


def test_an_error_is_told_where_it_is_made_only() -> None:
    texts = {"a": "1/0", "b": "a + 1", "c": "bord", "board": "15", "d": "b/(board - 15)", "e": "1/(board - 15)"}
    assert work_out(texts, "mm").broken == {
        "a": "'1/0' divides by zero.", "b": "", "c": "'bord' is no known size. Did you mean 'board'?", "d": "",
        "e": "'1/(board - 15)' divides by zero.",
    }  # fmt: skip


def test_sizes_that_grow_by_squaring_stay_bounded() -> None:
    sizes = work_out({"a0": "9.9"} | {f"a{n}": f"a{n - 1}*a{n - 1}" for n in range(1, 60)}, "mm")
    assert sum(1 for text in sizes.broken.values() if text) == 1
    assert "comes to no number" in next(text for text in sizes.broken.values() if text)


def test_a_chain_of_two_thousand_sizes() -> None:
    texts = {f"a{n}": f"a{n + 1} + 1" for n in range(2000)} | {"a2000": "0"}
    assert work_out(texts, "mm").values["a0"] == 2000
