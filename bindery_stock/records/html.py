"""HTML from the templates in ``resources/templates``: what was typed is shown as it was typed."""

import re
from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup, escape

from bindery_stock.places import resources
from bindery_stock.records.table import Cell, Column, Sort, Table, shown
from bindery_stock.trade.day_counts import MONTHS, written

_MONTH = f"(?:{'|'.join(MONTHS)})\\b"
_HELD = re.compile(
    rf"(?<=[\w*]) (?=\d{{1,4}}\b(?! {_MONTH}))"
    rf"|(?<=\d) (?=[×±])|(?<=×) |(?<=±) (?=\d)"
    rf"|(?<=\d) (?=(?:(?:mm|cm|m|in|g|kg|ml|l|h)\b|%|{_MONTH}))"
)
"""Blanks at which no line ends: before a short figure, a unit or its band, within a date."""

_LONG = re.compile(r"\S{24}(?=\S{8})")
"""So much of a word without an end; no trade word is as long, but a file name may be."""


def text(words: str) -> Markup:
    """Words as they were typed, line ends kept.

    A figure stays with its word and its unit; a word without an end may go on on the next line.
    """
    held = _HELD.sub("\N{NO-BREAK SPACE}", words)
    parted = _LONG.sub(lambda found: f"{found[0]}\N{ZERO WIDTH SPACE}", held)
    return escape(parted).replace("\n", Markup("<br>"))


def unbroken(words: str) -> Markup:
    """Words that stand on one line: a date, a size with its unit."""
    return text(words).replace(" ", "\N{NO-BREAK SPACE}")


def rendered(template: str, **values: object) -> Markup:
    """A template of ours with these values in it; whatever is no ``Markup`` is escaped."""
    return Markup(_templates().get_template(template).render(values))


@cache
def _templates() -> Environment:
    made = Environment(loader=FunctionLoader(_source), autoescape=True, undefined=StrictUndefined)
    made.filters["words"] = text
    return made


def _source(name: str) -> str:
    """A template as written, without the line ends and indents that only order it."""
    written_out = (resources() / "templates" / name).read_text("utf-8")
    return written_out if name.endswith(".css") else re.sub(r"\n\s*", "", written_out)


def page(title: str, body: Markup) -> Markup:
    """A whole document (HTML Living Standard), in English, with everything inside it."""
    return rendered("page.html", title=title, body=body)


def grid(
    headings: Iterable[str],
    rows: Iterable[Iterable[str]],
    *,
    figures: frozenset[int] = frozenset(),
    shares: Sequence[int] = (),
) -> Markup:
    """A table whose heading is repeated on each page.

    ``figures`` are the numbers of the columns that stand to the right; ``shares`` are the widths of
    the columns in hundredths, and without them the words decide.
    """
    return rendered("grid.html", headings=headings, rows=rows, figures=figures, shares=shares)


def table_body(table: Table, *, point: str = ".") -> Markup:
    """A list as the body of a page, with the columns meant for paper; the rest is told."""
    used = [n for n, column in enumerate(table.columns) if column.on_paper]
    columns = [table.columns[n] for n in used]
    figures = frozenset(
        n for n, column in enumerate(columns) if column.sort in (Sort.NUMBER, Sort.MONEY)
    )
    rows = ([_printed(row[n], table.columns[n], point) for n in used] for row in table.rows)
    rest = [column.head for column in table.columns if not column.on_paper]
    heads = [column.heading for column in columns]
    return rendered("list.html", table=table, grid=grid(heads, rows, figures=figures), rest=rest)


def _printed(cell: Cell, column: Column, point: str) -> Markup:
    """A cell with true minus signs, and dates as people write them."""
    if isinstance(cell, date):
        return unbroken(written(cell))
    told = text(shown(cell, column, point=point))
    return told if column.sort is Sort.TEXT else told.replace("-", "−")
