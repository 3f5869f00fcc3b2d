"""What to lay beside the book: the bench seen from above, each scrap where it is to lie."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from bindery_stock.bench.match.line_up import HOW, LineUpSheet, ScrapToLay
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    fitted,
    lab_colour,
    paint_scrap,
    surround,
)
from bindery_stock.desktop.look import GRID, TypeSize, grey
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import line_button
from bindery_stock.desktop.session import Session
from bindery_stock.stock import Lab, StockPiece

_MOST = 6


class ScrapPicture(QWidget):
    """One piece as it lies on the shelf, as large as there is room."""

    def __init__(self, piece: StockPiece, previews: Previews) -> None:
        """Show it, with its photograph once that is made."""
        super().__init__()
        self._piece, self._previews = piece, previews
        self.setMinimumSize(GRID * 24, GRID * 18)
        self.setAccessibleName(f"{piece.code}, as it is on the shelf")
        previews.ready.connect(self._made)

    def sizeHint(self) -> QSize:
        """Room to know a scrap by."""
        return QSize(GRID * 44, GRID * 30)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The scrap on the neutral ground."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        area = QRectF(self.rect()).adjusted(GRID * 2, GRID * 2, -GRID * 2, -GRID * 2)
        transform = fitted(bounds_rect(self._piece.outline), area)
        painter.setTransform(transform, combine=True)
        scale = transform.m11() * self.devicePixelRatioF()
        paint_scrap(painter, self._piece, self._previews.image(self._piece, scale))

    def _made(self, code: str) -> None:
        if code == self._piece.code:
            self.update()


class BookPicture(QWidget):
    """The book in the middle, its board in the colour sought where one is known."""

    def __init__(self, lab: Lab | None) -> None:
        """Show a closed book from above."""
        super().__init__()
        self._lab = lab
        self.setMinimumSize(GRID * 36, GRID * 48)
        self.setAccessibleName("The book, in the middle")

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A board with its joint, and the ruler below it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        area = QRectF(self.rect()).adjusted(GRID * 6, GRID * 6, -GRID * 6, -GRID * 16)
        board = fitted(QRectF(0, 0, 130, 200), area).mapRect(QRectF(0, 0, 130, 200))
        painter.setPen(QPen(grey(12), 1.5))
        painter.setBrush(lab_colour(self._lab) if self._lab is not None else grey(70))
        painter.drawRect(board)
        joint = board.left() + board.width() * 0.09
        painter.drawLine(QPointF(joint, board.top()), QPointF(joint, board.bottom()))
        painter.setPen(grey(98))
        painter.drawText(
            QRectF(board.left(), board.bottom(), board.width(), GRID * 5),
            Qt.AlignmentFlag.AlignCenter,
            "the book",
        )
        ruler = QRectF(board.left(), board.bottom() + GRID * 6, board.width(), GRID * 4)
        painter.setPen(QPen(grey(12), 1.0))
        painter.setBrush(grey(90))
        painter.drawRect(ruler)
        for tick in range(1, 20):
            x = ruler.left() + ruler.width() * tick / 20
            down = ruler.height() * (0.6 if tick % 5 == 0 else 0.35)
            painter.drawLine(QPointF(x, ruler.top()), QPointF(x, ruler.top() + down))


class LaySheet(QWidget):
    """Up to six scraps round the book, with their places on the shelf, and how they are laid."""

    def __init__(self, session: Session, previews: Previews) -> None:
        """Begin with nothing to lay."""
        super().__init__()
        self._session, self._previews = session, previews
        self.heading = plain_label(size=TypeSize.TITLE)
        self.how = plain_label(HOW)
        self.note = plain_label()
        self.more_button = line_button("Lay the next six")
        self._bench = QWidget()
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 2, GRID * 2, GRID * 2, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.heading)
        column.addWidget(self.how)
        column.addWidget(self._bench, 1)
        said = QHBoxLayout()
        said.addWidget(self.note, 1)
        said.addWidget(self.more_button)
        column.addLayout(said)
        self._column = column

    def show_sheet(self, sheet: LineUpSheet) -> None:
        """Show these scraps round the book."""
        count = len(sheet.scraps)
        laid = "this scrap" if count == 1 else f"these {count} scraps"
        self.heading.setText(f"Lay {laid} beside the book")
        self.note.setText(sheet.note)
        self.note.setVisible(bool(sheet.note))
        bench = QWidget()
        grid = QGridLayout(bench)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GRID * 3)
        lab = sheet.scraps[0].match.part.lab if sheet.scraps else None
        grid.addWidget(BookPicture(lab), 0, 1, -(-_MOST // 2), 1)
        for number, scrap in enumerate(sheet.scraps):
            row, side = divmod(number, 2)
            grid.addWidget(self._card(scrap), row, 2 * side)
        for column, stretch in enumerate((4, 3, 4)):
            grid.setColumnStretch(column, stretch)
        for row in range(_MOST // 2):
            grid.setRowStretch(row, 1)
        self._column.replaceWidget(self._bench, bench)
        self._bench.hide()
        self._bench.deleteLater()
        self._bench = bench

    def _card(self, scrap: ScrapToLay) -> QWidget:
        card = QWidget()
        card.setAccessibleName(scrap.words)
        row = QHBoxLayout(card)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID * 2)
        told = QVBoxLayout()
        told.setSpacing(GRID)
        place = f"From {scrap.place}" if scrap.place else "Its place is not written down"
        spot = f"{scrap.spot[:1].upper()}{scrap.spot[1:]}"
        told.addWidget(plain_label(scrap.code, TypeSize.HEAD, bold=True))
        told.addWidget(plain_label(place))
        told.addWidget(plain_label(spot, muted=True))
        told.addStretch(1)
        row.addWidget(ScrapPicture(self._session.piece(scrap.code), self._previews), 3)
        row.addLayout(told, 2)
        return card
