"""Pieces painted once at the present zoom and then only copied to the screen."""

import math
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import perf_counter

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPixmap

from bindery_stock.bench.shelf.cautions import sign_words
from bindery_stock.bench.shelf.shortened import shortened
from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    cosmetic,
    outline_path,
    paint_edge,
    plain_fill,
    plain_fills,
)
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.pictures import reduced
from bindery_stock.desktop.previews import SCALES, Previews
from bindery_stock.stock import StockPiece
from bindery_stock.trade import Rules

LARGEST = 1400.0
"""Pixels of a side above which a piece is painted straight onto the screen."""
_PHOTO_FROM = 14.0  # px of the longer side: in a smaller picture nothing but its colour is seen
_BOX_BELOW = 30.0  # px
_KEPT_BYTES = 160 * 1024 * 1024
_ASKED_AT_ONCE = 24
_FRAME = 0.020  # seconds of new painting in one frame, so that the view stays under the hand
_BREAK_GAP = 16.0  # mm between the two lines of a break


@dataclass(slots=True)
class Drawn:
    """A piece as it is drawn: cut short where it is very long, with its path and its bounds."""

    piece: StockPiece
    """The piece with the outline that is drawn."""
    source: StockPiece
    path: QPainterPath
    bounds: QRectF
    along: bool
    across: bool
    fill: QColor
    """Its colour, for while it has no photograph."""
    sign: str
    """What must be heeded: a sign and a word, or empty."""


@dataclass(slots=True)
class _Sprite:
    pixmap: QPixmap
    scale: float
    photo: bool
    """Whether its picture was as sharp as wanted, or the piece has none."""
    drawn: Drawn


class Sprites:
    """Paints pieces, within a share of time for each frame, and keeps what it painted."""

    def __init__(self, previews: Previews) -> None:
        """Begin with nothing painted."""
        self._previews = previews
        self._drawn: dict[int, Drawn] = {}
        self._kept: OrderedDict[int, _Sprite] = OrderedDict()
        self._bytes = 0
        self._asked: set[str] = set()
        self._left = 0.0

    def begin_frame(self) -> None:
        """Allow new painting for a frame's share of time."""
        self._left = _FRAME

    def drawn(self, piece: StockPiece) -> Drawn:
        """The piece as it is drawn, worked out once while it stays unchanged.

        Any thread may ask; at worst two work out the same, to the same end.
        """
        known = self._drawn.get(piece.id)
        if known is None or known.source is not piece:
            known = _drawn(piece, plain_fill(piece), self._previews.rules)
            self._drawn[piece.id] = known
        return known

    def make_ready(self, pieces: Sequence[StockPiece], check: Callable[[], None]) -> None:
        """Work that out for many pieces, on any thread; ``check`` raises where it is to end."""
        for piece, fill in zip(pieces, plain_fills(pieces), strict=True):
            check()
            self._drawn[piece.id] = _drawn(piece, fill, self._previews.rules)

    def is_drawn(self, piece: StockPiece) -> bool:
        """Whether that is worked out already."""
        known = self._drawn.get(piece.id)
        return known is not None and known.source is piece

    def forget(self, code: str) -> None:
        """A sharper picture of a piece is at hand: paint it anew."""
        self._asked.discard(code)
        for sprite in self._kept.values():
            if sprite.drawn.piece.code == code:
                sprite.photo = False

    def clear(self) -> None:
        """Forget everything."""
        self._drawn.clear()
        self._kept.clear()
        self._asked.clear()
        self._bytes = 0

    def paint(self, painter: QPainter, piece: StockPiece, place: QRectF, scale: float) -> bool:
        """Paint a piece into ``place`` (device-independent pixels) at ``scale`` px/mm.

        Returns whether the piece stands as it should; False asks for another frame.
        """
        drawn = self.drawn(piece)
        if max(place.width(), place.height()) > LARGEST:
            return self._paint_straight(painter, drawn, place, scale)
        sprite = self._kept.get(piece.id)
        fresh = sprite is not None and self._is_fresh(sprite, drawn, scale)
        if not fresh and self._left > 0.0:
            started = perf_counter()
            sprite = self._make(drawn, scale, painter.device().devicePixelRatioF())
            self._left -= perf_counter() - started
            fresh = self._is_done(sprite)
        if sprite is None or sprite.drawn is not drawn:
            self._paint_plain(painter, drawn, place, scale)
            return False
        if sprite.scale == scale:
            painter.drawPixmap(place.topLeft() - QPointF(1, 1), sprite.pixmap)
        else:
            painter.drawPixmap(place, sprite.pixmap, QRectF(sprite.pixmap.rect()))
        return fresh

    def _is_fresh(self, sprite: _Sprite, drawn: Drawn, scale: float) -> bool:
        return sprite.drawn is drawn and sprite.scale == scale and self._is_done(sprite)

    def _is_done(self, sprite: _Sprite) -> bool:
        """Whether nothing is gained by painting again before another picture is made."""
        full = len(self._asked) >= _ASKED_AT_ONCE
        return sprite.photo or full or self._is_waiting(sprite.drawn)

    def _is_waiting(self, drawn: Drawn) -> bool:
        return drawn.piece.code in self._asked

    def _make(self, drawn: Drawn, scale: float, ratio: float) -> _Sprite:
        width = math.ceil(drawn.bounds.width() * scale) + 2
        height = math.ceil(drawn.bounds.height() * scale) + 2
        pixmap = QPixmap(math.ceil(width * ratio), math.ceil(height * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.translate(1, 1)
        painter.scale(scale, scale)
        painter.translate(-drawn.bounds.topLeft())
        photo = self._paint_piece(painter, drawn, scale * ratio)
        painter.end()
        sprite = _Sprite(pixmap, scale, photo, drawn)
        self._keep(drawn.piece.id, sprite)
        return sprite

    def _keep(self, piece: int, sprite: _Sprite) -> None:
        old = self._kept.pop(piece, None)
        self._bytes += _bytes(sprite) - (_bytes(old) if old else 0)
        self._kept[piece] = sprite
        while self._bytes > _KEPT_BYTES and len(self._kept) > 1:
            _, dropped = self._kept.popitem(last=False)
            self._bytes -= _bytes(dropped)

    def _paint_plain(self, painter: QPainter, drawn: Drawn, place: QRectF, scale: float) -> None:
        """The plain colour, until its turn comes; in thousands at once a box must do."""
        if max(place.width(), place.height()) < _BOX_BELOW:
            painter.fillRect(place, drawn.fill)
            return
        painter.save()
        painter.translate(place.topLeft())
        painter.scale(scale, scale)
        painter.translate(-drawn.bounds.topLeft())
        painter.fillPath(drawn.path, drawn.fill)
        painter.restore()

    def _paint_straight(self, painter: QPainter, drawn: Drawn, place: QRectF, scale: float) -> bool:
        painter.save()
        painter.translate(place.topLeft())
        painter.scale(scale, scale)
        painter.translate(-drawn.bounds.topLeft())
        photo = self._paint_piece(painter, drawn, scale * painter.device().devicePixelRatioF())
        painter.restore()
        return photo or len(self._asked) >= _ASKED_AT_ONCE or self._is_waiting(drawn)

    def _paint_piece(self, painter: QPainter, drawn: Drawn, scale: float) -> bool:
        """Paint in scene millimetres; returns whether the picture is as sharp as wanted."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        longest = max(drawn.bounds.width(), drawn.bounds.height()) * scale
        wants = bool(drawn.piece.marks) and longest >= _PHOTO_FROM
        image = None
        if wants and (self._is_waiting(drawn) or len(self._asked) < _ASKED_AT_ONCE):
            image = self._previews.image(drawn.piece, scale)
        if image is not None:
            painter.drawImage(drawn.bounds, reduced(image, (drawn.bounds.size() * scale).toSize()))
        else:
            painter.fillPath(drawn.path, drawn.fill)
        if longest >= _PHOTO_FROM / 2:
            paint_edge(painter, drawn.path)
        if drawn.along or drawn.across:
            _paint_break(painter, drawn)
        return self._settled(drawn, scale, image) if wants else True

    def _settled(self, drawn: Drawn, scale: float, image: QImage | None) -> bool:
        if self._previews.why_missing(drawn.piece):
            return True
        needed = drawn.bounds.width() * min(scale * 0.9, SCALES[-1])
        sharp = image is not None and image.width() >= needed - 1
        if not sharp and len(self._asked) < _ASKED_AT_ONCE:
            self._asked.add(drawn.piece.code)
        return sharp


def _drawn(piece: StockPiece, fill: QColor, rules: Rules) -> Drawn:
    short = shortened(piece.outline)
    is_short = short.along or short.across
    return Drawn(
        piece=replace(piece, outline=short.outline) if is_short else piece,
        source=piece,
        path=outline_path(short.outline),
        bounds=bounds_rect(short.outline),
        along=short.along,
        across=short.across,
        fill=fill,
        sign=sign_words(piece, rules),
    )


def _bytes(sprite: _Sprite) -> int:
    return sprite.pixmap.width() * sprite.pixmap.height() * 4


def _paint_break(painter: QPainter, drawn: Drawn) -> None:
    """A second broken line beyond the first: the piece goes on."""
    painter.setPen(cosmetic(grey(25), 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setClipRect(drawn.bounds)
    if drawn.along:
        painter.drawPath(drawn.path.translated(0, _BREAK_GAP))
    if drawn.across:
        painter.drawPath(drawn.path.translated(-_BREAK_GAP, 0))
    painter.setClipping(False)
