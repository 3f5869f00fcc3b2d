"""Lists as XLSX (ISO/IEC 29500): real numbers and dates, units in a heading that stays in sight."""

import re
from datetime import datetime
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING

from bindery_stock.records.table import Cell, Column, Sort, Table

if TYPE_CHECKING:
    from openpyxl.cell import Cell as Written
    from openpyxl.worksheet._write_only import WriteOnlyWorksheet

MOST_LETTERS = 32_767
"""No cell holds more (ISO/IEC 29500-1, 18.18.101)."""
_CUT = " … (cut off here: a cell holds no more; the CSV has all)"
_UNWRITABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|[\ud800-\udfff]")
_NOT_IN_TITLE = re.compile(r"[\\*?:/\[\]]")
_WIDEST = 48


def xlsx_bytes(table: Table, at: datetime) -> bytes:
    """The table as a workbook of one sheet; ``at`` is written down as its date of making."""
    from openpyxl import Workbook  # noqa: PLC0415 - at first use
    from openpyxl.utils import get_column_letter  # noqa: PLC0415 - at first use

    book = Workbook(write_only=True)
    book.properties.title = table.title
    book.properties.description = table.told
    book.properties.creator = "Bindery Stock"
    book.properties.created = book.properties.modified = at.replace(tzinfo=None)
    sheet = book.create_sheet(_NOT_IN_TITLE.sub(" ", table.title)[:31])
    sheet.freeze_panes = "A2"
    last = get_column_letter(len(table.columns))
    sheet.auto_filter.ref = f"A1:{last}{len(table.rows) + 1}"
    for number, column in enumerate(table.columns, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = _width(table, number - 1)
        sheet.column_dimensions[get_column_letter(number)].number_format = _format(column)
    sheet.append([_heading(sheet, column) for column in table.columns])
    for row in table.rows:
        sheet.append(
            [_cell(sheet, cell, column) for cell, column in zip(row, table.columns, strict=True)]
        )
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def _heading(sheet: "WriteOnlyWorksheet", column: Column) -> "Written":
    from openpyxl.cell import WriteOnlyCell  # noqa: PLC0415 - at first use
    from openpyxl.styles import Alignment, Font  # noqa: PLC0415 - at first use

    cell = WriteOnlyCell(sheet, value=column.heading)
    cell.font = Font(bold=True)
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    return cell


def _cell(sheet: "WriteOnlyWorksheet", value: Cell, column: Column) -> "Written":
    from openpyxl.cell import WriteOnlyCell  # noqa: PLC0415 - at first use

    if not isinstance(value, str):
        cell = WriteOnlyCell(sheet)
        cell.value = float(value) if isinstance(value, Decimal) else value
        cell.number_format = _format(column)
        return cell
    cell = WriteOnlyCell(sheet, value=_writable(value))
    # Said to be text, or "=1+1" would be stored as a formula; the sign of quoting keeps it text
    # when the cell is edited.
    cell.data_type = "s"
    cell.style = "Normal"
    cell.quotePrefix = True
    return cell


def _writable(text: str) -> str:
    """Without the characters XML cannot hold, each replaced by U+FFFD; not longer than a cell."""
    clean = _UNWRITABLE.sub("\ufffd", text)
    return clean if len(clean) <= MOST_LETTERS else clean[: MOST_LETTERS - len(_CUT)] + _CUT


def _format(column: Column) -> str:
    match column.sort:
        case Sort.TEXT:
            return "@"
        case Sort.DATE:
            return "yyyy-mm-dd"
        case Sort.MONEY:
            return "0.00"
        case Sort.NUMBER:
            return "0." + "0" * column.decimals if column.decimals else "0"


def _width(table: Table, number: int) -> float:
    """Wide enough for its longest word or figure among the first rows, within reason."""
    longest = max((len(str(row[number] or "")) for row in table.rows[:200]), default=0)
    return float(min(_WIDEST, max(longest, len(table.headings[number]) * 0.7, 8)) + 2)
