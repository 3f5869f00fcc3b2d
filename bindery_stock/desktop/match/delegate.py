"""How one candidate is drawn: swatch against target, words, and its outline with the part in it."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QTransform
from PySide6.QtWidgets import (
    QApplication,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from bindery_stock.desktop.drawing import (
    bounds_rect,
    cosmetic,
    lab_colour,
    outline_path,
    paint_edge,
    paint_flaws,
    paint_part,
    paint_scrap,
    surround,
)
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.match.model import ROW_ROLE, Index, Row, RowKind
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.wrapping import wrapped
from bindery_stock.stock import Lab, Piece

MATCH_HEIGHT = GRID * 40
NEAR_HEIGHT = GRID * 20
_RULE_HEIGHT = GRID * 12
_CAUTION_LINES = 3
_NOTE_HEIGHT = GRID * 5
_CAUTION_HEIGHT = GRID * 12
_BRACKET = GRID * 5
_SWATCH = GRID * 28
_DRAWING = GRID * 60


class CandidateDelegate(QStyledItemDelegate):
    """Draws the rows of an answer."""

    def __init__(self, previews: Previews, parent: QWidget) -> None:
        """Take the photographs from ``previews``."""
        super().__init__(parent)
        self._previews = previews

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """Tall for a match, low for a near miss."""
        heights = {
            RowKind.MATCH: MATCH_HEIGHT,
            RowKind.NEAR: NEAR_HEIGHT,
            RowKind.RULE: _RULE_HEIGHT,
        }
        row: Row = index.data(ROW_ROLE)
        more = _NOTE_HEIGHT * len(row.notes) + (_CAUTION_HEIGHT if row.caution else 0)
        return QSize(GRID * 120, heights[row.kind] + more)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one row."""
        row: Row = index.data(ROW_ROLE)
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

    def _paint_rule(self, painter: QPainter, area: QRectF, row: Row) -> None:
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

    def _paint_candidate(self, painter: QPainter, area: QRectF, row: Row) -> None:
        body = area.adjusted(GRID * 2, GRID * 2, -GRID * 3, -GRID * 2)
        self._paint_bracket(painter, area, row)
        body.setLeft(body.left() + _BRACKET)
        swatch = QRectF(body.left(), body.top(), _SWATCH, body.height())
        self._paint_swatch(painter, swatch, row)
        wide = min(float(_DRAWING), body.width() * 0.34)
        drawing = QRectF(body.right() - wide, body.top(), wide, body.height())
        self._paint_drawing(painter, drawing, row)
        words = QRectF(swatch.right() + GRID * 4, body.top(), 0, body.height())
        words.setRight(drawing.left() - GRID * 3)
        self._paint_words(painter, words, row)

    def _paint_bracket(self, painter: QPainter, area: QRectF, row: Row) -> None:
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

    def _paint_swatch(self, painter: QPainter, area: QRectF, row: Row) -> None:
        painter.fillRect(area, surround())
        labs = [lab for lab in (row.target, _matched_lab(row)) if lab is not None]
        inner = area.adjusted(GRID * 2, GRID * 2, -GRID * 2, -GRID * 2)
        for place, lab in enumerate(labs):
            width = inner.width() / len(labs)
            cell = QRectF(inner.left() + place * width, inner.top(), width, inner.height())
            painter.fillRect(cell, lab_colour(lab))

    def _paint_words(self, painter: QPainter, area: QRectF, row: Row) -> None:
        steps = greys()
        y = area.top()
        for number, line in enumerate(row.lines):
            font = QFont(QApplication.font())
            font.setBold(number == 0 or (row.kind is RowKind.MATCH and number == 1))
            painter.setFont(font)
            quiet = number > 1
            painter.setPen(grey(steps.muted if quiet else steps.text))
            metrics = painter.fontMetrics()
            for shown in wrapped(line, metrics, int(area.width()), 2 if quiet else 1):
                painter.drawText(QPointF(area.left(), y + metrics.ascent()), shown)
                y += metrics.height()
            y += GRID
        painter.setFont(QApplication.font())
        painter.setPen(grey(steps.text))
        metrics = painter.fontMetrics()
        told = [(note, 1) for note in row.notes]
        told += [(row.caution, _CAUTION_LINES)] if row.caution else []
        for words, most in told:
            for piece in wrapped(words, metrics, int(area.width()), most):
                painter.drawText(QPointF(area.left(), y + metrics.ascent()), piece)
                y += metrics.height()

    def _paint_drawing(self, painter: QPainter, area: QRectF, row: Row) -> None:
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


def fitted(scene: QRectF, area: QRectF) -> QTransform:
    """The transform that shows ``scene`` as large as ``area`` allows, in its middle."""
    scale = min(area.width() / scene.width(), area.height() / scene.height())
    transform = QTransform()
    transform.translate(area.center().x(), area.center().y())
    transform.scale(scale, scale)
    transform.translate(-scene.center().x(), -scene.center().y())
    return transform


def _matched_lab(row: Row) -> Lab | None:
    if row.piece is None:
        return None
    if row.match is None:
        return row.piece.colour.lab if row.piece.colour else None
    return face_lab(row.piece, row.match.face)


def face_lab(piece: Piece, face: str) -> Lab | None:
    """The colour of one face of a piece."""
    return next((c.lab for c in piece.colours if c.face.value == face), None)
