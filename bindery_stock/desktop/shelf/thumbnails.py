"""Small pictures of pieces for a table's rows, made off the GUI thread when a row is seen."""

from dataclasses import replace

from PySide6.QtCore import QObject, QRectF, QSize, Signal
from PySide6.QtGui import QImage, QPainter

from bindery_stock.bench.shelf.shortened import shortened
from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    outline_path,
    paint_edge,
    plain_fill,
    surround,
)
from bindery_stock.desktop.pictures import reduced
from bindery_stock.desktop.previews import SCALES, Previews
from bindery_stock.stock import StockPiece

SIZE = QSize(56, 40)
_MARGIN = 3
_RATIO = 2.0  # sharp on dense screens too


class Thumbnails(QObject):
    """Hands out pictures of one size. Emits ``ready(code)`` when a better one can be had."""

    ready = Signal(str)

    def __init__(self, previews: Previews, parent: QObject) -> None:
        """Begin empty."""
        super().__init__(parent)
        self._previews = previews
        self._kept: dict[int, tuple[StockPiece, QImage]] = {}
        previews.ready.connect(self._made)

    def image(self, piece: StockPiece) -> QImage:
        """The piece's picture, in its plain colour while its photograph is being laid flat."""
        kept = self._kept.get(piece.id)
        if kept is not None and kept[0] is piece:
            return kept[1]
        short = shortened(piece.outline)
        shown = replace(piece, outline=short.outline)
        image = self._painted(shown, self._previews.image(shown, SCALES[0]))
        self._kept[piece.id] = (piece, image)
        return image

    def clear(self) -> None:
        """Forget every picture."""
        self._kept.clear()

    def _made(self, code: str) -> None:
        for number, (piece, _) in self._kept.items():
            if piece.code == code:
                del self._kept[number]
                break
        self.ready.emit(code)

    def _painted(self, piece: StockPiece, photo: QImage | None) -> QImage:
        image = QImage(SIZE * _RATIO, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(_RATIO)
        image.fill(surround())
        bounds = bounds_rect(piece.outline)
        room = QRectF(0, 0, SIZE.width(), SIZE.height()).adjusted(
            _MARGIN, _MARGIN, -_MARGIN, -_MARGIN
        )
        scale = min(room.width() / bounds.width(), room.height() / bounds.height())
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.translate(room.center())
        painter.scale(scale, scale)
        painter.translate(-bounds.center())
        path = outline_path(piece.outline)
        if photo is not None:
            sharp = bounds.size() * scale * _RATIO
            painter.drawImage(bounds, reduced(photo, sharp.toSize()))
        else:
            painter.fillPath(path, plain_fill(piece))
        paint_edge(painter, path)
        painter.end()
        return image
