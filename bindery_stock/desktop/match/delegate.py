"""How one candidate is drawn: swatch against target, words, and its outline with the part in it."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    cosmetic,
    fitted,
    outline_path,
    paint_edge,
    paint_flaws,
    paint_part,
    paint_scrap,
    surround,
)
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.match.model import CandidateRow, RowKind
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.row_list import ROW_ROLE, Index
from bindery_stock.desktop.swatch import paint_swatches
from bindery_stock.desktop.wrapped_words import wrapped
from bindery_stock.stock import Lab, StockPiece

_MATCH_HEIGHT = (GRID * 40, GRID * 54)
"""The least height of a match, in a narrow window and in a wide one: there the cloth has it."""
_SHARE = 0.16
"""Of the width of the list, between the two."""
_NEAR_HEIGHT = GRID * 20
_RULE_HEIGHT = GRID * 12
_HEADING_LINES, _TOLD_LINES, _CAUTION_LINES = 2, 2, 24
"""Lines a part of the words may take; a caution or a ruling is never cut short."""
_BRACKET = GRID * 5
_SWATCH = 0.78
"""Width of the swatch, of a match's least height."""
_DRAWING, _DRAWING_SHARE = GRID * 96, 0.34


class CandidateDelegate(QStyledItemDelegate):
    """Draws the rows of an answer. A row is as tall as its words and its cloth need."""

    def __init__(self, previews: Previews, parent: QAbstractItemView) -> None:
        """Take the photographs from ``previews``."""
        super().__init__(parent)
        self._previews = previews
        self._view = parent

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """Tall for a match, low for a near miss."""
        row: CandidateRow = index.data(ROW_ROLE)
        if row.kind is RowKind.RULE:
            return QSize(GRID * 120, _RULE_HEIGHT)
        area = QRectF(0, 0, self._view.viewport().width(), 0)
        _swatch, words, _drawing = self._columns(area)
        tall = self._match_height() if row.kind is RowKind.MATCH else _NEAR_HEIGHT
        needed = sum(line.height for line in told_in_lines(row, words.width())) + GRID * 4
        return QSize(GRID * 120, max(tall, round(needed)))

    def _match_height(self) -> int:
        least, most = _MATCH_HEIGHT
        return round(min(max(least, self._view.viewport().width() * _SHARE), most))

    def _columns(self, area: QRectF) -> tuple[QRectF, QRectF, QRectF]:
        """Where a row has its swatch, its words and its drawing."""
        body = area.adjusted(GRID * 2 + _BRACKET, GRID * 2, -GRID * 3, -GRID * 2)
        swatch = QRectF(body)
        swatch.setWidth(self._match_height() * _SWATCH)
        drawing = QRectF(body)
        drawing.setLeft(body.right() - min(float(_DRAWING), body.width() * _DRAWING_SHARE))
        words = QRectF(body)
        words.setLeft(swatch.right() + GRID * 4)
        words.setRight(drawing.left() - GRID * 3)
        return swatch, words, drawing

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one row."""
        row: CandidateRow = index.data(ROW_ROLE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = QRectF(option.rect)
        if row.kind is RowKind.RULE:
            self._paint_rule(painter, area, row)
        else:
            chosen = bool(option.state & QStyle.StateFlag.State_Selected)
            focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
            self._paint_ground(painter, area, chosen=chosen, focused=focused)
            self._paint_candidate(painter, area, row)
        painter.restore()

    def _paint_rule(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        steps = greys()
        painter.setPen(cosmetic(grey(steps.line), 1))
        y = area.top() + GRID * 2
        painter.drawLine(QPointF(area.left() + GRID * 2, y), QPointF(area.right() - GRID * 2, y))
        painter.setPen(grey(steps.muted))
        words = area.adjusted(GRID * 3, 12, 0, 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter), row.lines[0])

    def _paint_ground(
        self, painter: QPainter, area: QRectF, *, chosen: bool, focused: bool
    ) -> None:
        steps = greys()
        inner = area.adjusted(2, 2, -2, -2)
        if chosen:
            painter.fillRect(inner, grey(steps.faint))
            painter.setPen(cosmetic(grey(steps.text), 2 if focused else 1))
            painter.drawRect(inner)

    def _paint_candidate(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        swatch, words, drawing = self._columns(area)
        self._paint_bracket(painter, area, row)
        self._paint_swatch(painter, swatch, row)
        self._paint_drawing(painter, drawing, row)
        self._paint_words(painter, words, row)

    def _paint_bracket(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        """A bracket down the left of candidates that colour cannot tell apart."""
        if not (row.tied_above or row.tied_below):
            return
        painter.setPen(cosmetic(grey(greys().muted), 1.5))
        x = area.left() + GRID * 2.5
        top = area.top() + (0 if row.tied_above else GRID * 3)
        bottom = area.bottom() - (0 if row.tied_below else GRID * 3)
        painter.drawLine(QPointF(x, top), QPointF(x, bottom))
        for y, shut in ((top, not row.tied_above), (bottom, not row.tied_below)):
            if shut:
                painter.drawLine(QPointF(x, y), QPointF(x + GRID * 1.5, y))
        if not row.tied_above:
            painter.save()
            painter.translate(x + GRID * 2.6, area.bottom() - GRID * 3)
            painter.rotate(-90)
            painter.drawText(QPointF(0, GRID * 1.2), "tie")
            painter.restore()

    def _paint_swatch(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        painter.fillRect(area, surround())
        labs = tuple(lab for lab in (row.target, _matched_lab(row)) if lab is not None)
        inner = area.adjusted(GRID * 2, GRID * 2, -GRID * 2, -GRID * 2)
        paint_swatches(painter, inner, labs)

    def _paint_words(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        steps = greys()
        y = area.top()
        for line in told_in_lines(row, area.width()):
            painter.setFont(_font(bold=line.bold))
            painter.setPen(grey(steps.muted if line.quiet else steps.text))
            painter.drawText(QPointF(area.left(), y + painter.fontMetrics().ascent()), line.text)
            y += line.height

    def _paint_drawing(self, painter: QPainter, area: QRectF, row: CandidateRow) -> None:
        if row.piece is None:
            return
        painter.fillRect(area, surround())
        painter.save()
        transform = fitted(bounds_rect(row.piece.outline), area.adjusted(8, 8, -8, -8))
        painter.setClipRect(area)
        painter.setTransform(transform, True)
        if row.match is None:
            paint_edge(painter, outline_path(row.piece.outline))
        else:
            sharpness = transform.m11() * painter.device().devicePixelRatio()
            paint_scrap(painter, row.piece, self._previews.image(row.piece, sharpness))
            paint_flaws(painter, row.piece.flaws)
            paint_part(painter, row.match.placement.corners)
        painter.restore()


@dataclass(frozen=True, slots=True)
class _TypeLine:
    """One line of type as it is drawn; ``height`` is down to the next."""

    text: str
    height: float
    bold: bool = False
    quiet: bool = False


def told_in_lines(row: CandidateRow, width: float) -> list[_TypeLine]:
    """The words of a row, broken to the width of their column."""
    lines: list[_TypeLine] = []

    def add(words: str, most: int, *, bold: bool, quiet: bool, gap: float) -> None:
        metrics = QFontMetrics(_font(bold=bold))
        shown = wrapped(words, metrics, int(width), most)
        lines.extend(_TypeLine(text, metrics.height(), bold, quiet) for text in shown[:-1])
        lines.append(_TypeLine(shown[-1], metrics.height() + gap, bold, quiet))

    for number, words in enumerate(row.lines):
        bold = number == 0 or (row.kind is RowKind.MATCH and number == 1)
        most = _TOLD_LINES if number else _HEADING_LINES
        add(words, most, bold=bold, quiet=number > 1, gap=GRID)
    for note in row.notes:
        add(note, _TOLD_LINES, bold=False, quiet=False, gap=0)
    if row.ruling_line:
        add(row.ruling_line, _CAUTION_LINES, bold=False, quiet=False, gap=0)
    if row.caution:
        add(row.caution, _CAUTION_LINES, bold=False, quiet=False, gap=0)
    return lines


def _font(*, bold: bool) -> QFont:
    font = QFont(QApplication.font())
    font.setBold(bold)
    return font


def _matched_lab(row: CandidateRow) -> Lab | None:
    if row.piece is None:
        return None
    if row.match is None:
        return row.piece.colour.lab if row.piece.colour else None
    return face_lab(row.piece, row.match.face)


def face_lab(piece: StockPiece, face: str) -> Lab | None:
    """The colour of one face of a piece."""
    return next((c.lab for c in piece.colours if c.face.value == face), None)
