"""Reading a table that comes in: CSV in an encoding that is known or chosen, or a workbook.

Nothing about a file is guessed in silence. A byte order mark or strictly valid UTF-8 settles the
encoding; anything else is offered with what its first lines would look like, and waits for a word.
"""

import csv
import io
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from bindery_stock.errors import EntryError
from bindery_stock.records.csv_text import revived

if TYPE_CHECKING:
    from openpyxl import Workbook

LARGEST = 500 << 20
MOST_SWELLING = 250
_MARKS = {b"\xef\xbb\xbf": "utf-8-sig", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}


class Encoding(StrEnum):
    """How the letters of a file are written as bytes."""

    UTF_8 = "UTF-8"
    UTF_16 = "UTF-16"
    WESTERN = "Windows Western (1252)"


_CODECS = {
    Encoding.UTF_8: ("utf-8-sig",),
    Encoding.UTF_16: ("utf-16", "utf-16-le", "utf-16-be"),
    Encoding.WESTERN: ("cp1252",),
}


class Delimiter(StrEnum):
    """What parts the cells of a CSV."""

    COMMA = ","
    SEMICOLON = ";"
    TAB = "\t"


@dataclass(frozen=True, slots=True)
class IncomingTable:
    """A table that came in: its headings, and its rows with the line each began on."""

    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def read_bytes(path: Path) -> bytes:
    """The whole file. Raises ``EntryError`` where it cannot be read or is too large."""
    try:
        if path.stat().st_size > LARGEST:
            raise EntryError("File", f"{path.name} has more than {LARGEST >> 20} MB. Divide it.")
        return path.read_bytes()
    except OSError as fault:
        raise EntryError(
            "File", f"{path.name} cannot be read: {fault.strerror or fault}. Choose it again."
        ) from fault


def certain_encoding(data: bytes) -> Encoding | None:
    """The encoding where there is no doubt: a mark at the start, or strictly valid UTF-8."""
    for mark, codec in _MARKS.items():
        if data.startswith(mark):
            return Encoding.UTF_16 if codec == "utf-16" else Encoding.UTF_8
    if b"\x00" in data[:4096]:
        return None
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return None
    return Encoding.UTF_8


def offered(data: bytes) -> dict[Encoding, str]:
    """The encodings in which the file can be read, each with how it would begin."""
    found = {}
    for encoding in Encoding:
        try:
            text = decoded(data, encoding)
        except EntryError:
            continue
        if "\x00" not in text[:2000]:
            found[encoding] = text[:400]
    return found


def decoded(data: bytes, encoding: Encoding) -> str:
    """The text in this encoding. Raises ``EntryError`` naming the place where it breaks."""
    codecs = _CODECS[encoding]
    if encoding is Encoding.UTF_16 and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        # Without a mark, the zero half of each Latin letter tells which half comes first.
        codecs = ("utf-16-be",) if data[:1] == b"\x00" else ("utf-16-le",)
    try:
        return data.decode(codecs[0])
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise EntryError(
            "Encoding",
            f"Encoding: the file is not {encoding}: line {line} cannot be read so. Choose another "
            "encoding.",
        ) from fault


def likely_delimiter(text: str) -> Delimiter:
    """The sign that parts the heading into most cells; to be seen in the preview and changed."""
    first = text.lstrip("\ufeff").split("\n", 1)[0]
    return max(Delimiter, key=first.count)


def csv_sheet(
    text: str, delimiter: Delimiter, check: Callable[[], None] = lambda: None
) -> IncomingTable:
    """The table of a CSV. Raises ``EntryError`` naming the line that is no row."""
    if "\x00" in text:
        line = text[: text.index("\x00")].count("\n") + 1
        raise EntryError("File", f"File: line {line} holds a zero byte; this is no plain CSV.")
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter.value, strict=True)
    rows = []
    began = 1
    try:
        for cells in lines:
            check()
            if any(cell.strip() for cell in cells):
                rows.append((began, tuple(revived(cell).strip() for cell in cells)))
            began = lines.line_num + 1
    except csv.Error as fault:
        raise EntryError("File", f"File: line {began} cannot be read ({fault}).") from fault
    return _sheet(rows)


def sheet_names(data: bytes) -> list[str]:
    """The sheets of a workbook, in order. Raises as ``xlsx_sheet``."""
    with _workbook(data) as book:
        return [sheet.title for sheet in book.worksheets]


def xlsx_sheet(
    data: bytes, check: Callable[[], None] = lambda: None, name: str = ""
) -> IncomingTable:
    """A sheet of a workbook, numbers and dates as plain text with a point and ISO 8601.

    Without a ``name`` the first. Raises ``EntryError`` where it is no workbook, or would swell
    beyond reason.
    """
    with _workbook(data) as book:
        chosen = next((one for one in book.worksheets if one.title == name), book.worksheets[0])
        rows = []
        for number, values in enumerate(chosen.iter_rows(values_only=True), start=1):
            check()
            cells = tuple(_cell(value) for value in values)
            if any(cells):
                rows.append((number, cells))
    return _sheet(rows)


@contextmanager
def _workbook(data: bytes) -> Iterator["Workbook"]:
    from openpyxl import load_workbook  # noqa: PLC0415 - at first use

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            size = sum(info.file_size for info in parts.infolist())
        if size > LARGEST * 4 or size > MOST_SWELLING * max(len(data), 1 << 16):
            raise EntryError("File", "File: the workbook would swell beyond reason. Save it anew.")
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    except (zipfile.BadZipFile, KeyError, ValueError, OSError) as fault:
        raise EntryError("File", f"File: this is no XLSX workbook ({fault}).") from fault
    try:
        if not book.worksheets:
            raise EntryError("File", "File: the workbook has no sheet with cells.")
        yield book
    finally:
        book.close()


def _cell(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case datetime():
            return value.date().isoformat()
        case date():
            return value.isoformat()
        case float():
            return f"{value:.10g}"
    return str(value).strip()


def _sheet(rows: list[tuple[int, tuple[str, ...]]]) -> IncomingTable:
    if len(rows) < 2:
        raise EntryError("File", "File: there is no row under a heading. Choose another file.")
    (_, headings), *body = rows
    if not all(headings):
        headings = tuple(name or f"Column {n}" for n, name in enumerate(headings, start=1))
    width = len(headings)
    # Blank cells beyond the heading are how spreadsheets pad; anything else is told per row.
    return IncomingTable(
        headings, tuple((line, tuple(_trimmed(cells, width))) for line, cells in body)
    )


def _trimmed(cells: tuple[str, ...], width: int) -> Iterator[str]:
    end = len(cells)
    while end > width and not cells[end - 1]:
        end -= 1
    yield from cells[:end]
    yield from [""] * (width - end)
