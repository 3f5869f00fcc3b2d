"""Tables that come in: encodings offered and never guessed, rows told by their line."""

import io

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.records.csv_text import CsvStyle, Signs, csv_bytes
from bindery_stock.records.table import Column, table_of
from bindery_stock.records.table_in import (
    Delimiter,
    Encoding,
    certain_encoding,
    csv_sheet,
    decoded,
    likely_delimiter,
    offered,
    sheet_names,
    xlsx_sheet,
)

TEXT = "Code;Note\r\nC-0001;moiré, rouge foncé\r\n"


def test_a_mark_or_valid_utf_8_settles_the_encoding() -> None:
    assert certain_encoding(TEXT.encode()) is Encoding.UTF_8
    assert certain_encoding(TEXT.encode("utf-8-sig")) is Encoding.UTF_8
    assert certain_encoding(TEXT.encode("utf-16")) is Encoding.UTF_16
    assert certain_encoding("\ufeff".encode("utf-16-be") + TEXT.encode("utf-16-be"))
    for codec, encoding in (("utf-8-sig", Encoding.UTF_8), ("utf-16", Encoding.UTF_16)):
        assert decoded(TEXT.encode(codec), encoding) == TEXT


def test_latin_letters_are_offered_and_not_guessed() -> None:
    data = TEXT.encode("cp1252")
    assert certain_encoding(data) is None
    found = offered(data)
    assert "moiré" in found[Encoding.WESTERN]
    assert Encoding.UTF_8 not in found
    with pytest.raises(EntryError, match="line 2 cannot be read"):
        decoded(data, Encoding.UTF_8)


def test_utf_16_without_a_mark_is_offered() -> None:
    for codec in ("utf-16-le", "utf-16-be"):
        data = TEXT.encode(codec)
        assert certain_encoding(data) is None
        assert decoded(data, Encoding.UTF_16) == TEXT
        assert list(offered(data)) == [Encoding.UTF_16]


def test_rows_keep_the_line_they_began_on() -> None:
    sheet = csv_sheet('Code,Note\r\n\r\nC-1,"two\r\nlines"\nC-2,x\r\n', Delimiter.COMMA)
    assert sheet.rows == ((3, ("C-1", "two\r\nlines")), (5, ("C-2", "x")))


def test_the_delimiter_is_proposed_by_the_heading() -> None:
    assert likely_delimiter("a;b,c;d\n") is Delimiter.SEMICOLON
    assert likely_delimiter("a\tb\n") is Delimiter.TAB
    assert likely_delimiter("a,b\n") is Delimiter.COMMA


def test_zero_bytes_open_quotes_and_empty_files_are_refused_with_their_line() -> None:
    for text, words in (
        ("a,b\n1,\x002\n", "line 2 holds a zero byte"),
        ('a,b\n1,"2\n', "line 2 cannot be read"),
        ("a,b\n", "no row under a heading"),
        ("", "no row under a heading"),
    ):
        with pytest.raises(EntryError, match=words):
            csv_sheet(text, Delimiter.COMMA)


def test_padding_cells_are_cut_and_ragged_rows_are_kept_to_be_told() -> None:
    sheet = csv_sheet("a,b\n1,2,,\n1\n1,2,3\n", Delimiter.COMMA)
    assert [cells for _, cells in sheet.rows] == [("1", "2"), ("1", ""), ("1", "2", "3")]


@given(
    st.lists(
        st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1),
        min_size=1,
        max_size=5,
    )
)
def test_what_goes_out_as_csv_comes_in_as_it_was(texts: list[str]) -> None:
    table = table_of("T", "", [Column("Code"), Column("Note")], [("C", text) for text in texts])
    data = csv_bytes(table, CsvStyle(Signs.SEMICOLON))
    sheet = csv_sheet(decoded(data, Encoding.UTF_8), Delimiter.SEMICOLON)
    assert [cells[1] for _, cells in sheet.rows] == [text.strip() for text in texts]


def test_a_workbook_comes_in_with_plain_figures_and_iso_dates() -> None:
    from datetime import date

    book = openpyxl.Workbook()
    for row in (["Code", "Width", "Bought"], ["C-1", 58.5, date(2026, 3, 2)], [None] * 3):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    assert xlsx_sheet(out.getvalue()).rows == ((2, ("C-1", "58.5", "2026-03-02")),)
    with pytest.raises(EntryError, match="no XLSX workbook"):
        xlsx_sheet(b"PK not really")


def test_any_sheet_of_a_workbook_can_be_taken() -> None:
    book = openpyxl.Workbook()
    book.active.title = "Cloth"
    for sheet, code in ((book.active, "C-1"), (book.create_sheet("Tins"), "A-1")):
        for row in (["Code"], [code]):
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    assert sheet_names(out.getvalue()) == ["Cloth", "Tins"]
    assert xlsx_sheet(out.getvalue()).rows == ((2, ("C-1",)),)
    assert xlsx_sheet(out.getvalue(), name="Tins").rows == ((2, ("A-1",)),)
