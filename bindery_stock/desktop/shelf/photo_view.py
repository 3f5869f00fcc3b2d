"""The photograph of a piece with its outline, flaws and patches drawn over it."""

from collections.abc import Iterable
from math import atan2, degrees

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from bindery_stock.bench.colour_room.archive_photos import archived_draft
from bindery_stock.desktop.drawn_shapes import FLAW_HATCH, cosmetic, paint_warp_arrow, surround
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.pictures import qimage, reduced
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.shape import FlawKind, PhotoScale
from bindery_stock.stock import StockPiece

_LONGEST = 1600
_HEIGHT = 240
_ARROW = GRID * 8
_MARGIN = 0.08  # of the piece's extent in the photograph, shown around it
Points = Iterable[tuple[float, float]]


class PhotoView(QWidget):
    """Shows the piece close up in its photograph; a press or Space shows the whole photograph."""

    def __init__(self, session: Session) -> None:
        """Begin with nothing to show."""
        super().__init__()
        self._session = session
        self._piece: StockPiece | None = None
        self._image = QImage()
        self._reduced = (QSize(), QImage())
        self._job: Job | None = None
        self._trouble = ""
        self._whole = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Photograph with the outline drawn over it")
        self.setToolTip("Press, or Space, for the whole photograph and back.")

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(_HEIGHT * 4 // 3, _HEIGHT)

    @property
    def words(self) -> str:
        """What stands in place of the photograph while there is none to show."""
        if self.is_loaded:
            return ""
        has_photo = self._piece is not None and bool(self._piece.marks)
        waiting = "The photograph is being opened…" if has_photo else "No photograph of this piece."
        return self._trouble or waiting

    @property
    def is_loaded(self) -> bool:
        """Whether the photograph of the piece is shown."""
        return not self._image.isNull()

    def show_piece(self, piece: StockPiece | None) -> None:
        """Show a piece's first photograph; it is decoded off the GUI thread."""
        before = self._sha(self._piece)
        self._piece = piece
        wanted = self._sha(piece)
        if wanted != before or (wanted and self._image.isNull() and self._job is None):
            self._load(wanted)
        self.update()

    def _sha(self, piece: StockPiece | None) -> str:
        return piece.marks[0].photo.sha256 if piece is not None and piece.marks else ""

    def _load(self, sha: str) -> None:
        if self._job is not None:
            self._job.stop()
            self._job = None
        self._image, self._trouble = QImage(), ""
        if not sha:
            return
        stockroom = self._session.stockroom
        self._job = self._session.jobs.run(
            lambda _job: qimage(archived_draft(stockroom, sha, _LONGEST).image),
            owner=self,
            done=self._loaded,
            failed=self._failed,
        )

    def _loaded(self, image: QImage) -> None:
        self._job = None
        self._image = image
        self._reduced = (QSize(), QImage())
        self.update()

    def _failed(self, error: Exception) -> None:
        self._job = None
        self._trouble = str(error)
        if not isinstance(error, BinderyError):
            self._session.tell(error)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the photograph and what was marked on it."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        piece = self._piece
        if piece is None or self._image.isNull():
            self._paint_words(painter)
        else:
            self._paint_photo(painter, piece)
        if self.hasFocus():
            painter.resetTransform()
            painter.setPen(cosmetic(grey(98), 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _paint_words(self, painter: QPainter) -> None:
        inner = self.rect().adjusted(GRID * 4, GRID * 4, -GRID * 4, -GRID * 4)
        painter.setPen(grey(98))
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(inner, flags, self.words)

    def _paint_photo(self, painter: QPainter, piece: StockPiece) -> None:
        mark = piece.marks[0]
        scale = PhotoScale(mark.to_mm, 0.0, None, mark.scale_note)
        rings = (piece.outline.exterior, *piece.outline.holes)
        outlines = [_polygon(scale.to_px(ring)) for ring in rings]
        whole = QRectF(0, 0, mark.photo.width, mark.photo.height)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setTransform(self._seen(whole if self._whole else _around(outlines[0], whole)))
        painter.drawImage(whole, self._sharp_enough(painter.deviceTransform().mapRect(whole)))
        for width, lightness in ((3.5, 10.0), (1.5, 98.0)):
            painter.setPen(cosmetic(grey(lightness), width))
            for outline in outlines:
                painter.drawPolygon(outline)
        painter.setPen(cosmetic(grey(98), 1.5, Qt.PenStyle.DashLine))
        for flaw in piece.flaws:
            seen_itself = flaw.kind is FlawKind.HOLE
            brush = QBrush() if seen_itself else QBrush(grey(98), FLAW_HATCH[flaw.kind])
            brush.setTransform(painter.transform().inverted()[0])
            painter.setBrush(brush)
            painter.drawPolygon(_polygon(scale.to_px(flaw.ring)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour in piece.colours:
            if colour.patch and colour.photo == mark.photo.sha256:
                painter.setPen(cosmetic(grey(98), 1.5, Qt.PenStyle.DotLine))
                painter.drawPolygon(_polygon(colour.patch))
        self._paint_warp(painter, warp_turn(scale, piece.outline.polygon.centroid.coords[0]))

    def _sharp_enough(self, seen: QRectF) -> QImage:
        """The photograph reduced to the pixels it is seen in; made once for each size."""
        wanted = seen.size().toSize()
        if self._reduced[0] != wanted:
            self._reduced = (wanted, reduced(self._image, wanted))
        return self._reduced[1]

    def _paint_warp(self, painter: QPainter, turn: float) -> None:
        """An arrow in the corner: a piece may lie in its photograph any way round."""
        painter.resetTransform()
        painter.translate(GRID * 2 + _ARROW / 2, self.height() - GRID * 2 - _ARROW / 2)
        painter.rotate(turn)
        paint_warp_arrow(painter, QPointF(0, _ARROW / 2), _ARROW)

    def _seen(self, wanted: QRectF) -> QTransform:
        """From pixels of the photograph to this widget, so that ``wanted`` fills it."""
        scale = min(self.width() / wanted.width(), self.height() / wanted.height())
        seen = QTransform()
        seen.translate(self.width() / 2, self.height() / 2)
        seen.scale(scale, scale)
        seen.translate(-wanted.center().x(), -wanted.center().y())
        return seen

    def _turn(self) -> None:
        self._whole = not self._whole
        self.update()

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        """Close up or whole."""
        self._turn()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close up or whole."""
        if event.key() == Qt.Key.Key_Space:
            self._turn()
        else:
            super().keyPressEvent(event)


def warp_turn(scale: PhotoScale, at: tuple[float, ...]) -> float:
    """How far the warp, at a place in mm, is turned from the photograph's up; degrees clockwise."""
    x, y = at
    foot, tip = scale.to_px(((x, y), (x, y + 1.0)))
    return degrees(atan2(tip[0] - foot[0], foot[1] - tip[1]))


def _polygon(points: Points) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points])


def _around(outline: QPolygonF, whole: QRectF) -> QRectF:
    box = outline.boundingRect()
    margin = max(box.width(), box.height()) * _MARGIN
    return box.adjusted(-margin, -margin, margin, margin).intersected(whole)
