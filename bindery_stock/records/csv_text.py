"""Lists as CSV (RFC 4180), and texts kept from being run as formulas.

A spreadsheet runs a cell that begins with ``=``, ``+``, ``-``, ``@``, a tab or a carriage return
(OWASP, *CSV Injection*). Such a text gets an apostrophe before it; numbers stay numbers. Reading
takes the apostrophe off again, so that every text comes back as it was.
"""

import csv
import io
import re
from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.records.table import Sort, Table, shown

_RUNS = re.compile(r"'*[\s\"]*[=+\-@\t\r＝＋－＠]")


class Signs(StrEnum):
    """Which signs part cells and decimals."""

    COMMA = "comma between cells, decimal point"
    SEMICOLON = "semicolon between cells, decimal comma"


@dataclass(frozen=True, slots=True)
class CsvStyle:
    """How a CSV file is written."""

    signs: Signs = Signs.COMMA
    mark: bool = True
    """Whether it begins with a byte order mark, by which spreadsheets know UTF-8."""


def inert(text: str) -> str:
    """The text, with an apostrophe before it where a spreadsheet would run it."""
    return f"'{text}" if _RUNS.match(text) else text


def revived(text: str) -> str:
    """The text as it was before ``inert``."""
    return text[1:] if text.startswith("'") and _RUNS.match(text) else text


def csv_bytes(table: Table, style: CsvStyle | None = None) -> bytes:
    """The table in UTF-8: one heading, then the rows; lines end with CR LF.

    By default with a byte order mark, commas and decimal points.
    """
    style = style or CsvStyle()
    semicolon = style.signs is Signs.SEMICOLON
    point = "," if semicolon else "."
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";" if semicolon else ",", lineterminator="\r\n")
    writer.writerow([inert(heading) for heading in table.headings])
    for row in table.rows:
        cells = []
        for cell, column in zip(row, table.columns, strict=True):
            text = shown(cell, column, point=point)
            cells.append(inert(text) if column.sort is Sort.TEXT else text)
        writer.writerow(cells)
    return out.getvalue().encode("utf-8-sig" if style.mark else "utf-8")
