"""Lists as CSV and XLSX, read back by pandas and openpyxl."""

import csv
import io
from datetime import UTC, date, datetime
from decimal import Decimal

import openpyxl
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.records import html
from bindery_stock.records.csv_text import CsvStyle, Signs, csv_bytes, inert, revived
from bindery_stock.records.table import Column, Sort, table_of
from bindery_stock.records.xlsx import MOST_LETTERS, xlsx_bytes

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
COLUMNS = (
    Column("Code"),
    Column("b*", Sort.NUMBER, "", 2),
    Column("Width", Sort.NUMBER, "mm", 1),
    Column("Shelved", Sort.DATE),
    Column("Price", Sort.MONEY),
    Column("Note"),
)
TABLE = table_of(
    "Stock",
    "1 piece",
    COLUMNS,
    [
        ("C-0001", -4.6, 58.25, date(2026, 2, 28), Decimal("4.50"), "plain, with a comma"),
        ("C-0002", None, 1200.0, None, None, 'says "rib"\nand goes on; тёмно-красный'),
    ],
)
FORMULAS = ["=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "  =1", '"=1', "＝1", "'=1", "''+1"]


@pytest.mark.parametrize("signs", Signs)
@pytest.mark.parametrize("mark", [True, False])
def test_pandas_reads_a_csv_with_its_types(signs: Signs, mark: bool) -> None:
    # Read back by pandas.read_csv, an independent reader of RFC 4180 files.
    written = csv_bytes(TABLE, CsvStyle(signs, mark))
    assert written.startswith(b"\xef\xbb\xbf") is mark
    semicolon = signs is Signs.SEMICOLON
    frame = pd.read_csv(
        io.BytesIO(written),
        sep=";" if semicolon else ",",
        decimal="," if semicolon else ".",
        parse_dates=["Shelved"],
    )
    assert list(frame.columns) == ["Code", "b*", "Width (mm)", "Shelved", "Price", "Note"]
    assert frame["b*"][0] == -4.6
    assert frame["Width (mm)"].tolist() == [pytest.approx(58.2, abs=0.06), 1200.0]
    assert frame["Shelved"][0] == pd.Timestamp("2026-02-28")
    assert frame["Note"][1] == 'says "rib"\nand goes on; тёмно-красный'


def test_lines_end_as_the_standard_asks_and_numbers_have_no_group_sign() -> None:
    # RFC 4180, 2.1: records are delimited by CRLF.
    written = csv_bytes(TABLE, CsvStyle(Signs.COMMA, mark=False))
    assert written.count(b"\r\n") == 3
    assert b",1200.0," in written


@pytest.mark.parametrize("formula", FORMULAS)
def test_no_text_is_run_as_a_formula_in_a_csv_and_each_comes_back_as_it_was(formula: str) -> None:
    # The beginnings listed by OWASP, "CSV Injection".
    table = table_of("T", "", [Column("Note")], [(formula,)])
    (_, row) = list(csv.reader(io.StringIO(csv_bytes(table).decode("utf-8-sig"), newline="")))
    assert row[0].startswith("'")
    assert revived(row[0]) == formula


@given(st.text())
def test_every_text_comes_back_from_being_made_harmless(text: str) -> None:
    assert revived(inert(text)) == text
    assert inert(text)[:1] not in tuple("=+-@\t\r")


def test_negative_numbers_stay_numbers() -> None:
    assert b",-4.60," in csv_bytes(TABLE)


def test_a_workbook_has_types_units_and_a_heading_that_stays() -> None:
    # Read back by openpyxl and by pandas.read_excel.
    written = xlsx_bytes(TABLE, AT)
    sheet = openpyxl.load_workbook(io.BytesIO(written)).active
    assert sheet.freeze_panes == "A2"
    assert [cell.value for cell in sheet[1]] == TABLE.headings
    assert [cell.data_type for cell in sheet[2]] == ["s", "n", "n", "d", "n", "s"]
    assert sheet["D2"].number_format == "yyyy-mm-dd"
    frame = pd.read_excel(io.BytesIO(written))
    assert frame["Width (mm)"].tolist() == [58.25, 1200.0]
    assert frame["Shelved"][0] == pd.Timestamp("2026-02-28")


def test_no_text_is_a_formula_in_a_workbook() -> None:
    table = table_of("T", "", [Column("Note")], [(formula,) for formula in FORMULAS])
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(table, AT)))
    cells = [cell for (cell,) in book.active.iter_rows(min_row=2)]
    assert [cell.data_type for cell in cells] == ["s"] * len(FORMULAS)
    assert cells[0].value == "=1+1"
    assert all(cell.quotePrefix for cell in cells)


def test_what_a_workbook_cannot_hold_is_marked_and_not_dropped_unseen() -> None:
    table = table_of("T", "", [Column("Note")], [("bell\x07",), ("x" * 40_000,)])
    sheet = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(table, AT))).active
    assert sheet["A2"].value == "bell\ufffd"
    assert len(sheet["A3"].value) == MOST_LETTERS
    assert sheet["A3"].value.endswith("the CSV has all)")


def test_markup_in_a_name_is_printed_as_it_was_typed() -> None:
    table = table_of("T", "", [Column("Note")], [("<img src=x onerror=alert(1)>",)])
    body = html.table_body(table)
    assert "<img" not in body
    assert "&lt;img src=x" in body


def test_a_row_with_a_cell_too_few_is_a_mistake_of_the_program() -> None:
    with pytest.raises(ValueError, match="2 cells for 6 columns"):
        table_of("T", "", COLUMNS, [("C-1", 1.0)])
