"""Small pieces of HTML: everything that was typed is shown as it was typed."""

from collections.abc import Iterable
from html import escape

from bindery_stock.records.table import Cell, Column, Sort, Table, shown

STYLE = """
body { font-family: sans-serif; color: #000; background: #fff; }
main { max-width: 60em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.5em; } h2 { font-size: 1.15em; margin-top: 1.4em; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 1px solid #777; padding: 3px 5px; text-align: left; vertical-align: top; }
th { background: #eee; }
td.figure { text-align: right; }
figure { margin: 0 0 1em 0; }
@media print { thead { display: table-header-group; } tr, figure { page-break-inside: avoid; } }
"""
"""How a page of ours looks in a browser; on paper the program sets its own type."""


def text(words: str) -> str:
    """Words as they were typed, line ends kept."""
    return escape(words).replace("\n", "<br>")


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
) -> str:
    """A table whose heading is repeated on each page; cells are HTML already.

    ``figures`` are the numbers of the columns that stand to the right.
    """
    head = "".join(f'<th scope="col">{text(one)}</th>' for one in headings)
    lines = []
    for row in rows:
        cells = "".join(
            f'<td class="figure" align="right">{cell}</td>'
            if number in figures
            else f"<td>{cell}</td>"
            for number, cell in enumerate(row)
        )
        lines.append(f"<tr>{cells}</tr>")
    return (
        '<table width="100%" cellspacing="0" cellpadding="3" border="1" '
        f'style="border-collapse:collapse"><thead><tr bgcolor="#eeeeee">{head}</tr></thead>'
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
    """A cell with true minus signs; a code, a size or a date does not break in two."""
    told = text(shown(cell, column, point=point))
    if column.sort is Sort.TEXT:
        return told.replace("-", "\N{NON-BREAKING HYPHEN}") if column.head == "Code" else told
    if column.sort is Sort.DATE:
        return told.replace("-", "\N{NON-BREAKING HYPHEN}")
    return told.replace("-", "−")
