"""What of a set text holds together: its lines, its rows, and its headings with what they head."""

from collections.abc import Iterable, Iterator

from PySide6.QtGui import (
    QTextBlock,
    QTextBlockFormat,
    QTextCursor,
    QTextDocument,
    QTextFrame,
    QTextTable,
)

from bindery_stock.desktop.printing.page_painter import MM_PER_INCH
from bindery_stock.desktop.printing.paper_style import dots_per_mm
from bindery_stock.records.breaks import Keep, Measured, PageCut, TableHead

_FEWEST_LINES = 2
"""Of a paragraph that is parted so many lines stay together at its foot and at its head."""

_SAME_DOTS = 0.5


class Measuring:
    """One pass through a text that was set without pages, from its head to its end.

    Cells are expected to stand at the top of their rows and to reach over one row and one column.
    """

    def __init__(self, document: QTextDocument, room: float) -> None:
        """Measure for pages with so much room, in dots of the text."""
        self._document = document
        self._layout = document.documentLayout()
        self._room = room
        self._lines: list[Keep] = []
        self._whole: list[Keep] = []
        self._joined: list[Keep] = []
        self._heads: list[TableHead] = []
        self._heading: float | None = None
        """Top of a heading whose first line of text is still to come."""
        self._may_part: list[QTextBlock] = []
        self._run()

    def found(self, last: float = 0.0) -> Measured:
        """Everything that was met; ``last`` dots at the end hold together."""
        end = max((keep.bottom for keep in (*self._lines, *self._whole)), default=0.0)
        together = [Keep(end - last, end)] if 0.0 < last < min(end, self._room) else []
        return Measured(
            end=end,
            lines=tuple(self._lines),
            whole=tuple(self._whole),
            joined=(*self._joined, *together),
            heads=tuple(self._heads),
        )

    def part(self, pages: Iterable[PageCut]) -> None:
        """Make two paragraphs of each that goes on on another page.

        Qt writes the line before a cut on both pages, hidden on the second: whoever searches the
        text or has it read aloud would meet it twice.
        """
        tops = [page.top for page in pages]
        for block in reversed(self._may_part):
            for line, keep in reversed(list(enumerate(self._lines_of(block)))):
                if line and any(abs(keep.top - top) < _SAME_DOTS for top in tops):
                    self._part(block, block.layout().lineAt(line).textStart())

    def _part(self, block: QTextBlock, letter: int) -> None:
        style = block.blockFormat()
        above, below = QTextBlockFormat(style), QTextBlockFormat(style)
        above.setBottomMargin(0)
        below.setTopMargin(0)
        cursor = QTextCursor(block)
        cursor.setBlockFormat(above)
        cursor.setPosition(block.position() + letter)
        cursor.insertBlock(below)

    def _run(self) -> None:
        for part in _parts(self._document.rootFrame()):
            if isinstance(part, QTextTable):
                self._table(part)
            else:
                self._paragraph(part)

    def _paragraph(self, block: QTextBlock) -> None:
        lines = self._lines_of(block)
        if not block.text().strip() or not lines:
            return
        self._lines += lines
        self._may_part.append(block)
        whole = Keep(lines[0].top, lines[-1].bottom)
        # A caution is an item of a list, and a heading has few lines: neither is parted.
        if block.textList() is not None or block.blockFormat().headingLevel():
            self._whole.append(whole)
            first = whole
        else:
            first = Keep(whole.top, lines[:_FEWEST_LINES][-1].bottom)
            self._whole += [first, Keep(lines[-_FEWEST_LINES:][0].top, whole.bottom)]
        if block.blockFormat().headingLevel():
            self._heading = whole.top if self._heading is None else self._heading
        else:
            self._head_over(first)

    def _head_over(self, first: Keep) -> None:
        """Join the heading that waits, where there is one, to the first of what it heads."""
        if self._heading is not None:
            self._joined.append(Keep(self._heading, first.bottom))
            self._heading = None

    def _table(self, table: QTextTable) -> None:
        rows = self._rows_of(table)
        self._whole += rows
        heading_rows = table.format().toTableFormat().headerRowCount()
        body = rows[heading_rows:] or rows
        first = self._lines_in_row(table, heading_rows, body[0])
        for number, row in enumerate(body, start=heading_rows):
            if row.bottom - row.top > self._room:
                self._lines += self._lines_in_row(table, number, row)
        if heading_rows and body is not rows:
            head = TableHead(rows[0].top, body[0].top, rows[-1].bottom)
            self._heads.append(head)
            self._joined.append(Keep(head.top, first[0].bottom))
        self._head_over(Keep(rows[0].top, first[0].bottom))

    def _rows_of(self, table: QTextTable) -> list[Keep]:
        """Each row with its padding and the rule below it."""
        scale = self._layout.paintDevice().logicalDpiY() / (dots_per_mm() * MM_PER_INCH)
        padding = table.format().toTableFormat().cellPadding() * scale
        last = [table.cellAt(table.rows() - 1, column) for column in range(table.columns())]
        rule = max(cell.format().toTableCellFormat().bottomBorder() for cell in last) * scale
        words = (self._layout.blockBoundingRect(c.lastCursorPosition().block()) for c in last)
        bottom = max(there.bottom() for there in words) + padding + rule
        tops = [self._top_of(table, row) - padding for row in range(table.rows())]
        return [Keep(a, b) for a, b in zip(tops, [*tops[1:], bottom], strict=True)]

    def _top_of(self, table: QTextTable, row: int) -> float:
        block = table.cellAt(row, 0).firstCursorPosition().block()
        return self._layout.blockBoundingRect(block).top()

    def _lines_in_row(self, table: QTextTable, number: int, row: Keep) -> list[Keep]:
        """The lines of a row that is higher than a page; another row is one line by itself."""
        if row.bottom - row.top <= self._room:
            return [row]
        lines: list[Keep] = []
        for column in range(table.columns()):
            cell = table.cellAt(number, column)
            block, last = cell.firstCursorPosition().block(), cell.lastCursorPosition().block()
            while True:
                lines += self._lines_of(block)
                self._may_part.append(block)
                if block == last:
                    break
                block = block.next()
        lines.sort(key=lambda line: line.top)
        return [Keep(row.top, lines[0].bottom), *lines[1:]]

    def _lines_of(self, block: QTextBlock) -> list[Keep]:
        there = self._layout.blockBoundingRect(block)
        layout = block.layout()
        above = there.top() - layout.boundingRect().top()
        lines = (layout.lineAt(number) for number in range(layout.lineCount()))
        return [Keep(above + line.y(), above + line.y() + line.height()) for line in lines]


def _parts(frame: QTextFrame) -> Iterator[QTextBlock | QTextTable]:
    """The paragraphs and the tables of a text, in their order."""
    here = frame.begin()
    while not here.atEnd():
        block, inner = here.currentBlock(), here.currentFrame()
        if block.isValid():
            yield block
        elif isinstance(inner, QTextTable):
            yield inner
        else:
            yield from _parts(inner)
        here += 1
