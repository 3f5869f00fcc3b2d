"""The line of a piece: what it was cut from, and what was cut from it, each in its outline."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from bindery_stock.bench.shelf.shortened import shortened
from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    outline_path,
    paint_edge,
    plain_fill,
    surround,
)
from bindery_stock.desktop.look import GRID
from bindery_stock.stock import PieceState, StockPiece

_ICON = QSize(72, 56)
_A_ROW = 3
_STATE_WORDS = {
    PieceState.ON_SHELF: "",
    PieceState.CUT_UP: "cut up",
    PieceState.DISCARDED: "discarded",
}


class FamilyLine(QWidget):
    """Buttons for the relations of a piece. Emits ``piece_wanted(code)`` when one is pressed."""

    piece_wanted = Signal(str)

    def __init__(self) -> None:
        """Begin with no family."""
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)

    def show_family(self, ancestors: Sequence[StockPiece], children: Sequence[StockPiece]) -> None:
        """Show the pieces it was cut from, the nearest first, and its own offcuts."""
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        largest = max(
            (max(b.width(), b.height()) for b in map(_bounds, (*ancestors, *children))), default=1.0
        )
        self._add("Cut from", ancestors, largest)
        self._add("Offcuts", children, largest)
        self.setVisible(bool(ancestors or children))

    def _add(self, heading: str, pieces: Sequence[StockPiece], largest: float) -> None:
        if not pieces:
            return
        label = QLabel(heading)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setProperty("role", "muted")
        self._column.addWidget(label)
        block = QWidget()
        grid = QGridLayout(block)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GRID)
        for number, piece in enumerate(pieces):
            grid.addWidget(self._button(piece, largest), number // _A_ROW, number % _A_ROW)
        grid.setColumnStretch(_A_ROW, 1)
        self._column.addWidget(block)

    def _button(self, piece: StockPiece, largest: float) -> QToolButton:
        button = QToolButton()
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        button.setIconSize(_ICON)
        button.setIcon(QIcon(_picture(piece, largest)))
        state = _STATE_WORDS[piece.state]
        button.setText(f"{piece.code}\n{state}" if state else piece.code)
        button.setAccessibleName(f"{piece.code} {state}".strip())
        button.clicked.connect(lambda: self.piece_wanted.emit(piece.code))
        return button


def _bounds(piece: StockPiece) -> QRectF:
    return bounds_rect(shortened(piece.outline).outline)


def _picture(piece: StockPiece, largest: float) -> QPixmap:
    """The outline in its colour, at the scale it shares with its relations."""
    pixmap = QPixmap(_ICON)
    pixmap.fill(surround())
    outline = shortened(piece.outline).outline
    bounds = bounds_rect(outline)
    scale = (_ICON.height() - GRID * 2) / largest
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(QPointF(_ICON.width() / 2, _ICON.height() / 2))
    painter.scale(scale, scale)
    painter.translate(-bounds.center())
    path = outline_path(outline)
    painter.fillPath(path, plain_fill(piece))
    paint_edge(painter, path)
    painter.end()
    return pixmap
