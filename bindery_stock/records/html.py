"""Small pieces of HTML: everything that was typed is shown as it was typed."""

import re
from collections.abc import Iterable, Sequence
from datetime import date
from html import escape
from itertools import zip_longest

from bindery_stock.records.table import Cell, Column, Sort, Table, shown
from bindery_stock.trade.day_counts import MONTHS, written

_RIGHT = ' class="figure" align="right"'
_MONTH = f"(?:{'|'.join(MONTHS)})\\b"
_HELD = re.compile(
    rf"(?<=[\w*]) (?=\d{{1,4}}\b(?! {_MONTH}))"
    rf"|(?<=\d) (?=×)|(?<=×) |(?<=\d) (?=(?:(?:mm|cm|m|in|g|kg|ml|l|h)\b|%|{_MONTH}))"
)
"""Blanks at which no line ends: before a short figure, before a unit, within a date."""

_LONG = re.compile(r"\S{24}(?=\S{8})")
"""So much of a word without an end; no trade word is as long, but a file name may be."""

STYLE = """
body { font-family: sans-serif; color: #000; background: #fff; line-height: 1.4; }
main { max-width: 60em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.6em; } h2 { font-size: 1.2em; margin: 1.8em 0 0.4em 0; }
table { border-collapse: collapse; width: 100%; margin: 0.4em 0; }
th, td { border-bottom: 1px solid #999; padding: 4px 8px 4px 0; text-align: left;
         vertical-align: top; }
thead th { border-bottom: 1px solid #000; }
td.figure, th.figure { text-align: right; }
table.plain { width: auto; }
table.plain th, table.plain td { border: 0; padding-right: 2em; }
table.plain th { font-weight: normal; color: #444; }
table.signed { margin-top: 4em; width: 100%; }
table.signed td.line { border-top: 1px solid #000; width: 46%; }
img { max-width: 100%; height: auto; }
.small { font-size: 0.85em; color: #333; }
h2 { page-break-after: avoid; }
@media print { thead { display: table-header-group; } tr, li { page-break-inside: avoid; } }
"""
"""How a page of ours looks in a browser; on paper the program sets its own type."""


def text(words: str) -> str:
    """Words as they were typed, line ends kept.

    A figure stays with its word and its unit; a word without an end may go on on the next line.
    """
    held = _HELD.sub("\N{NO-BREAK SPACE}", words)
    parted = _LONG.sub(lambda found: f"{found[0]}\N{ZERO WIDTH SPACE}", held)
    return escape(parted).replace("\n", "<br>")


def page(title: str, body: str) -> str:
    """A whole document (HTML Living Standard), in English, with everything inside it."""
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f"<title>{text(title)}</title><style>{STYLE}</style></head>"
        f"<body><main>{body}</main></body></html>\n"
    )


def grid(
    headings: Iterable[str],
    rows: Iterable[Iterable[str]],
    *,
    figures: frozenset[int] = frozenset(),
    shares: Sequence[int] = (),
) -> str:
    """A table whose heading is repeated on each page; cells are HTML already.

    ``figures`` are the numbers of the columns that stand to the right; ``shares`` are the widths of
    the columns in hundredths, and without them the words decide.
    """
    widths = [f' width="{share}%"' for share in shares]
    head = "".join(
        f'<th scope="col"{width}{_RIGHT if number in figures else ""}>{text(one)}</th>'
        for number, (one, width) in enumerate(zip_longest(headings, widths, fillvalue=""))
    )
    lines = []
    for row in rows:
        cells = "".join(
            f"<td{_RIGHT if number in figures else ''}>{cell}</td>"
            for number, cell in enumerate(row)
        )
        lines.append(f"<tr>{cells}</tr>")
    return (
        '<table width="100%" cellspacing="0" cellpadding="3" border="0">'
        f"<thead><tr>{head}</tr></thead>"
        f"<tbody>{''.join(lines)}</tbody></table>"
    )


def table_body(table: Table, *, point: str = ".") -> str:
    """A list as the body of a page, with the columns meant for paper; the rest is told."""
    used = [n for n, column in enumerate(table.columns) if column.on_paper]
    columns = [table.columns[n] for n in used]
    figures = frozenset(
        n for n, column in enumerate(columns) if column.sort in (Sort.NUMBER, Sort.MONEY)
    )
    rows = ([_printed(row[n], table.columns[n], point) for n in used] for row in table.rows)
    rest = [column.head for column in table.columns if not column.on_paper]
    told = f"<p>A file also has: {text(', '.join(rest))}.</p>" if rest else ""
    heads = [column.heading for column in columns]
    return (
        f"<h1>{text(table.title)}</h1><p>{text(table.told)}</p>"
        f"{grid(heads, rows, figures=figures)}{told}"
    )


def _printed(cell: Cell, column: Column, point: str) -> str:
    """A cell with true minus signs, and dates as people write them."""
    if isinstance(cell, date):
        return unbroken(written(cell))
    told = text(shown(cell, column, point=point))
    return told if column.sort is Sort.TEXT else told.replace("-", "−")


def unbroken(words: str) -> str:
    """Words that stand on one line: a date, a size with its unit."""
    return text(words).replace(" ", "\N{NO-BREAK SPACE}")
