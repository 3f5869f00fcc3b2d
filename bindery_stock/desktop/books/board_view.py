"""The board of a set as a table, its cells drawn as cloth."""

from PySide6.QtCore import QModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QFrame,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.board_model import (
    CELL_ROLE,
    BoardModel,
    Cell,
    Index,
)
from bindery_stock.desktop.books.cloth import paint_state
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.previews import Previews

ROW_HEIGHT = GRID * 12
_WORDS_SIZE = 0.85
_LEAST_COLUMN = GRID * 24
_NUMBER_WIDTH = GRID * 9
_TITLE_WIDTH = GRID * 46


class BoardView(QTableView):
    """Volumes × parts. Emits ``volume_wanted(str)`` for Enter or a double click."""

    volume_wanted = Signal(str)

    def __init__(self, model: BoardModel, books: BenchBooks, previews: Previews) -> None:
        """Show the rows of ``model``."""
        super().__init__()
        self.setModel(model)
        self._model = model
        self.setItemDelegate(_CellDelegate(books, previews, self))
        self.setVerticalHeader(_VolumeHeader(model, self))
        self.setAccessibleName("Volumes by parts")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        header = self.horizontalHeader()
        header.setProperty("role", "roomy")
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(_LEAST_COLUMN)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        self.verticalHeader().sectionDoubleClicked.connect(self._open_row)
        self.doubleClicked.connect(self._open)
        previews.ready.connect(self._picture_ready)

    def _picture_ready(self, _code: str) -> None:
        self.viewport().update()

    def chosen(self) -> Cell | None:
        """The cell in hand."""
        found = self.currentIndex().data(CELL_ROLE)
        return found if isinstance(found, Cell) else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the volume."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def _open(self, index: QModelIndex) -> None:
        if index.isValid():
            self._open_row(index.row())

    def _open_row(self, row: int) -> None:
        if 0 <= row < len(self._model.volumes):
            self.volume_wanted.emit(self._model.volumes[row].code)


class _VolumeHeader(QHeaderView):
    """The number, the title and how far a volume is."""

    def __init__(self, model: BoardModel, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._model = model
        self.setSectionsClickable(True)

    def sizeHint(self) -> QSize:
        return QSize(_NUMBER_WIDTH + _TITLE_WIDTH, 0)

    def paintSection(self, painter: QPainter, rect: object, section: int) -> None:  # noqa: N802
        area = QRectF(rect)  # type: ignore[call-overload]
        steps = greys()
        painter.save()
        painter.fillRect(area, grey(steps.window))
        painter.setPen(cosmetic(grey(steps.line), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        repair = self._model.volumes[section]
        font = QFont(QApplication.font())
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(grey(steps.text))
        left = area.left() + GRID * 2
        metrics = painter.fontMetrics()
        baseline = area.center().y() - 2
        wide = area.right() - left - GRID * 2
        if repair.volume is not None:
            painter.drawText(int(left), int(baseline), str(repair.volume))
            left += _NUMBER_WIDTH - GRID * 2
            wide -= _NUMBER_WIDTH - GRID * 2
        font.setBold(False)
        painter.setFont(font)
        title = repair.title or repair.name
        painter.drawText(int(left), int(baseline), _elided(metrics, title, wide))
        painter.setPen(grey(steps.muted))
        font.setPointSizeF(font.pointSizeF() * _WORDS_SIZE)
        painter.setFont(font)
        below = int(baseline + metrics.height())
        painter.drawText(
            int(left), below, _elided(painter.fontMetrics(), self._model.standing(repair), wide)
        )
        painter.restore()


def _elided(metrics: object, text: str, wide: float) -> str:
    return str(metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(wide)))  # type: ignore[attr-defined]


class _CellDelegate(QStyledItemDelegate):
    """Draws the parts of a cell side by side, with their word below."""

    def __init__(self, books: BenchBooks, previews: Previews, parent: QWidget) -> None:
        super().__init__(parent)
        self._books, self._previews = books, previews

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        return QSize(_LEAST_COLUMN, ROW_HEIGHT)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell = index.data(CELL_ROLE)
        steps = greys()
        area = QRectF(option.rect)
        painter.save()
        painter.fillRect(area, grey(steps.panel))
        painter.setPen(cosmetic(grey(steps.line), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        if isinstance(cell, Cell):
            self._paint_cell(painter, area, cell)
        else:
            painter.setPen(grey(steps.muted))
            words = str(index.data() or "")
            painter.drawText(
                area.adjusted(0, 0, -GRID * 2, 0),
                int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter),
                words,
            )
        if option.state & QStyle.StateFlag.State_Selected:
            firm = 2 if option.state & QStyle.StateFlag.State_HasFocus else 1
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(cosmetic(grey(steps.text), firm))
            painter.drawRect(area.adjusted(1, 1, -2, -2))
        painter.restore()

    def _paint_cell(self, painter: QPainter, area: QRectF, cell: Cell) -> None:
        if not cell.parts:
            return
        font = QFont(QApplication.font())
        font.setPointSizeF(font.pointSizeF() * _WORDS_SIZE)
        painter.setFont(font)
        metrics = painter.fontMetrics()
        inner = area.adjusted(GRID * 2, GRID * 1.5, -GRID * 2, -GRID)
        words_high = metrics.height() + 2
        swatches = inner.adjusted(0, 0, 0, -words_high)
        gap = 3.0
        count = len(cell.parts)
        wide = (swatches.width() - gap * (count - 1)) / count
        for place, part in enumerate(cell.parts):
            box = QRectF(
                swatches.left() + place * (wide + gap), swatches.top(), wide, swatches.height()
            )
            paint_state(painter, box, part, self._books.piece(part.piece), self._previews)
        painter.setPen(grey(greys().muted))
        words = metrics.elidedText(cell.words, Qt.TextElideMode.ElideRight, int(inner.width()))
        painter.drawText(
            inner, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom), words
        )
