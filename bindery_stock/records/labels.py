"""Labels for scraps, folders, tubes and jars, laid out on any sheet."""

from collections.abc import Sequence

from bindery_stock.errors import EntryError
from bindery_stock.records.label_face import LabelFacts, lay_out_face
from bindery_stock.records.label_sheets import LabelSheet
from bindery_stock.records.page import CHECK_MM, Box, Mark, Page, Words, check_line

_CHECK_ROOM_MM = 5.0
"""Height that the check line and its words take."""
_EDGE_MM = 8.0
"""Few printers reach closer to the edge of the paper."""


def label_pages(
    labels: Sequence[LabelFacts], sheet: LabelSheet, *, start: int = 1
) -> tuple[Page, ...]:
    """The labels in their order, the first at label ``start`` of a half-used sheet (from 1).

    Raises ``EntryError`` where there is nothing to print, where the sheet has no such label, and
    where the labels are too small.
    """
    if not labels:
        raise EntryError("Labels", "Labels: choose at least one piece or lot.")
    if not 1 <= start <= sheet.on_sheet:
        raise EntryError(
            "First label", f"First label: this sheet has labels 1 to {sheet.on_sheet}."
        )
    pages = []
    waiting, first = list(labels), start - 1
    while waiting:
        room = sheet.on_sheet - first
        pages.append(_page(waiting[:room], sheet, first))
        waiting, first = waiting[room:], 0
    return tuple(pages)


def _page(labels: Sequence[LabelFacts], sheet: LabelSheet, first: int) -> Page:
    marks: list[Mark] = []
    size = (sheet.label_width, sheet.label_height)
    for position, facts in enumerate(labels, start=first):
        marks.extend(lay_out_face(facts, sheet.corner_of(position), size))
    marks.extend(_check(sheet))
    return Page(width=sheet.paper_width, height=sheet.paper_height, marks=tuple(marks))


def _check(sheet: LabelSheet) -> tuple[Mark, ...]:
    """The 50 mm line in the wider of the margins above and below, where there is room."""
    below = sheet.corner_of(sheet.on_sheet - 1)[1] + sheet.label_height
    spare_below = sheet.paper_height - below
    room = sheet.paper_width - 2 * _EDGE_MM
    if room < CHECK_MM or max(spare_below, sheet.top) < _CHECK_ROOM_MM:
        return ()
    y = below + spare_below / 2 if spare_below >= sheet.top else sheet.top / 2
    return check_line(_EDGE_MM, y, room)


def trial_page(sheet: LabelSheet) -> Page:
    """The sheet's labels in outline with their numbers, and the 50 mm line: try it on plain paper.

    Hold it against the light with a sheet of labels behind it; what it is off by goes into the
    printer's correction.
    """
    marks: list[Mark] = []
    for number, (x, y) in enumerate(sheet.corners(), start=1):
        marks.append(
            Box(x=x, y=y, width=sheet.label_width, height=sheet.label_height, corner=sheet.corner)
        )
        words = f"{number}" if number > 1 else f"1   {sheet.name}"
        marks.append(
            Words(x=x + 2, y=y + 1, width=sheet.label_width - 4, height=5, text=words, size=2.8)
        )
    if sheet.label_width >= CHECK_MM + 2 * 2:
        x, y = sheet.corner_of(0)
        marks.extend(check_line(x + 2, y + sheet.label_height / 2, CHECK_MM + 2)[:3])
    else:
        marks.extend(_check(sheet))
    return Page(width=sheet.paper_width, height=sheet.paper_height, marks=tuple(marks))
