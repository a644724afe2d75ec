"""The YAML reader against the YAML 1.2 core schema's own readings and against hostile files."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.reading import ReadingError
from advisor.rulebook.reading.yaml_text import MAX_BYTES, parse_yaml, read_yaml


def test_plain_scalars_follow_yaml_1_2_and_not_1_1() -> None:
    """YAML 1.2.2, section 10.3 (core schema): no, on, 010 as octal, sexagesimals and dates are not special."""
    document = parse_yaml(
        b"a: no\nb: on\nc: 010\nd: 12:30\ne: 2026-11-25\nf: true\ng: 3\nh: 3.5\ni: '3'\nj: null\nk: 1_000\nl: .inf\n",
        "x",
    )
    assert document.data == {
        "a": "no", "b": "on", "c": "010", "d": "12:30", "e": "2026-11-25", "f": True, "g": 3, "h": 3.5, "i": "3",
        "j": None, "k": "1_000", "l": ".inf",
    }  # fmt: skip


def test_places_are_those_of_keys_and_values() -> None:
    document = parse_yaml(b"a:\n  b: [1, {c: x}]\n", "x")
    assert document.keys[("a", "b")] == (2, 3)
    assert document.values[("a", "b", 1, "c")] == (2, 14)


HOSTILE = {
    "duplicate-key": (b"a: 1\nb: 2\na: 3\n", 3, 1),
    "anchor": (b"a: &x [1]\nb: *x\n", 1, 4),
    "tag": (b"a: !!python/object:os.system x\n", 1, 4),
    "tab": (b"a:\n\tb: 1\n", 2, 1),
    "yaml": (b"a: [1, 2\n", 2, 1),
    "key": (b"? [1, 2]\n: 3\n", 1, 3),
    "not-utf8": (b"a: b\nc: \xff\n", 2, 4),
    "long-number": (b"a: b\nc: " + b"9" * 5000 + b"\n", 2, 4),
}


@pytest.mark.parametrize("code", HOSTILE)
def test_hostile_files_are_refused_with_their_place(code: str) -> None:
    text, line, column = HOSTILE[code]
    with pytest.raises(ReadingError) as caught:
        parse_yaml(text, "shop.yaml")
    finding = caught.value.diagnostics[0]
    assert (finding.code, finding.file, finding.line, finding.column) == (code, "shop.yaml", line, column)
    assert finding.help


def test_alias_bomb_does_not_unfold() -> None:
    """The classic bomb: nine levels of nine aliases."""
    levels = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    for left, right in zip("abcdefgh", "bcdefghi", strict=True):
        levels.append(f"{right}: &{right} [{', '.join(['*' + left] * 9)}]")
    with pytest.raises(ReadingError, match="anchor"):
        parse_yaml("\n".join(levels).encode(), "bomb.yaml")


def test_deep_nests_two_documents_and_binary() -> None:
    for text, code in (
        (b"[" * 60 + b"]" * 60, "too-deep"),
        (b"a: 1\n---\nb: 2\n", "yaml"),
        (b"a\0b", "not-text"),
        (b"", "empty"),
    ):
        with pytest.raises(ReadingError) as caught:
            parse_yaml(text, "x")
        assert caught.value.diagnostics[0].code == code


def test_huge_file_is_refused_without_reading_it_all(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.truncate(50_000_000)
    with pytest.raises(ReadingError) as caught:
        read_yaml(path)
    assert caught.value.diagnostics[0].code == "too-large"
    assert str(MAX_BYTES) in caught.value.diagnostics[0].message


def test_directory_and_missing_file(tmp_path: Path) -> None:
    for path, code in ((tmp_path, "not-a-file"), (tmp_path / "none.yaml", "cannot-read")):
        with pytest.raises(ReadingError) as caught:
            read_yaml(path)
        assert caught.value.diagnostics[0].code == code


@given(st.binary(max_size=400))
def test_any_bytes_parse_or_are_refused(raw: bytes) -> None:
    try:
        parse_yaml(raw, "x")
    except ReadingError as error:
        assert error.diagnostics[0].message


@given(st.text(alphabet="ab:-[]{}&*!|>'\"#?, \n%@`", max_size=60))
def test_any_yaml_like_text_parses_or_is_refused(text: str) -> None:
    try:
        parse_yaml(text.encode(), "x")
    except ReadingError as error:
        assert error.diagnostics[0].line >= 0
