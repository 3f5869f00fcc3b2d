"""Rows of a table that would be parted by the end of a page go to the next one whole."""

from PySide6.QtGui import QTextCursor, QTextDocument, QTextTable

MOST_PAGES = 12
"""In a longer text rows may be parted: each that is moved has the whole text laid out again."""
_TALLEST = 0.5
"""A row taller than this share of a page is parted rather than leave the page half empty."""
_PADDING_DPI = 96
"""Dots per inch in which Qt takes the padding of a cell."""


def keep_rows_whole(document: QTextDocument) -> None:
    """Move each row that lies on two pages to the second, from the first page to the last."""
    if not 1 < document.pageCount() <= MOST_PAGES:
        return
    for table in document.rootFrame().childFrames():
        if isinstance(table, QTextTable):
            # A heading is never padded: it stands on every page.
            first = table.format().toTableFormat().headerRowCount() + 1
            for row in range(first, table.rows()):
                _keep_whole(document, table, row)


def _keep_whole(document: QTextDocument, table: QTextTable, row: int) -> None:
    page = document.pageSize().height()
    layout = document.documentLayout()
    cells = [table.cellAt(row, column) for column in range(table.columns())]
    spots = [
        layout.blockBoundingRect(block)
        for cell in cells
        for block in (cell.firstCursorPosition().block(), cell.lastCursorPosition().block())
    ]
    top, bottom = min(spot.top() for spot in spots), max(spot.bottom() for spot in spots)
    if int(top // page) == int((bottom - 1) // page) or bottom - top > _TALLEST * page:
        return
    # Qt moves a row whole where not one line of it has room: the row above takes up what is left.
    room = page - top % page - 1.0
    scale = layout.paintDevice().logicalDpiY() / _PADDING_DPI
    padding = table.format().toTableFormat().cellPadding() + room / scale
    cursor = QTextCursor(document)
    cursor.beginEditBlock()  # laid out again once, not for each cell
    for column in range(table.columns()):
        above = table.cellAt(row - 1, column)
        padded = above.format().toTableCellFormat()
        padded.setBottomPadding(padding)
        above.setFormat(padded)
    cursor.endEditBlock()
