"""Published tables of colour, read from the files they are shipped in.

What a table says, and where it comes from, stands in the module that asks for it.
"""

import csv

from bindery_stock.errors import ColourError
from bindery_stock.places import resources

Row = tuple[str, tuple[float, ...]]


def table(name: str, *columns: str, rows: int) -> tuple[Row, ...]:
    """The rows of ``resources/colour/<name>``: what each is called, and its figures.

    ``columns`` are the headings of the figures. Raises ``ColourError`` naming the file and the line
    where the headings, the number of rows or a figure are not as they should be, and where two rows
    have one name.
    """
    path = resources() / "colour" / name
    try:
        with path.open(encoding="utf-8", newline="") as file:
            heads, *lines = csv.reader(file)
    except (OSError, ValueError) as trouble:
        raise ColourError(f"{name} cannot be read ({trouble}). Install the program anew.") from (
            trouble
        )
    if tuple(heads[1:]) != columns or len(lines) != rows:
        raise ColourError(f"{name} should hold {rows} rows of {', '.join(columns)}.")
    if any(len(line) != len(heads) for line in lines):
        raise ColourError(f"{name}: each row should hold {len(columns)} figures.")
    found = tuple(_row(name, number, line) for number, line in enumerate(lines, start=2))
    if len({called for called, _ in found}) != rows:
        raise ColourError(f"{name}: two of its rows have one name.")
    return found


def _row(file: str, number: int, line: list[str]) -> Row:
    try:
        return line[0], tuple(float(figure) for figure in line[1:])
    except ValueError as trouble:
        raise ColourError(f"{file}, line {number}: {trouble}.") from trouble
