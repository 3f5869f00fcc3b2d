"""Flat pictures of pieces, made off the GUI thread and kept in the stock folder's ``previews``."""

import hashlib
from collections import OrderedDict
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from bindery_stock.bench.shelf.flat_photo import flatten
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.pictures import qimage
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.stock import StockPiece
from bindery_stock.trade import Rules

SCALES = (0.5, 1.0, 2.0, 4.0)
"""Pixels per millimetre of the pictures that are kept; the nearest at least as sharp is used."""
_MADE = 2
"""Which way of making them: what was made another way before is made anew."""
_KEPT_BYTES = 256 * 1024 * 1024


class Previews(QObject):
    """Hands out flat pictures of pieces. Emits ``ready(code)`` when one has been made.

    Holds the most recently used pictures in memory, and every one made on disk, where they may be
    thrown away at any time.
    """

    ready = Signal(str)

    def __init__(self, session: Session) -> None:
        """Begin empty; forget everything when another stockroom is opened."""
        super().__init__(session)
        self._session = session
        self._images: OrderedDict[str, QImage] = OrderedDict()
        self._bytes = 0
        self._pending: dict[str, Job] = {}
        self._failed: dict[str, str] = {}
        session.opened.connect(self._forget)

    @property
    def rules(self) -> Rules:
        """The rules by which a picture's sign of caution is chosen."""
        return self._session.rules

    def image(self, piece: StockPiece, px_per_mm: float) -> QImage | None:
        """The piece's flat picture, or None while it is being made or where there is none.

        While the sharper picture is being made, a coarser one is handed out if it is at hand.
        """
        if not piece.marks:
            return None
        scale = next((s for s in SCALES if s >= px_per_mm * 0.9), SCALES[-1])
        key = _key(piece, scale)
        if key in self._images:
            self._images.move_to_end(key)
            return self._images[key]
        if key not in self._pending and key not in self._failed:
            self._make(piece, scale, key)
        coarser = (_key(piece, s) for s in reversed(SCALES) if s != scale)
        return next((self._images[k] for k in coarser if k in self._images), None)

    def why_missing(self, piece: StockPiece) -> str:
        """Why a piece's picture could not be made, or empty."""
        return next(
            (self._failed[k] for k in (_key(piece, s) for s in SCALES) if k in self._failed), ""
        )

    def _make(self, piece: StockPiece, scale: float, key: str) -> None:
        stockroom = self._session.stockroom
        mark = piece.marks[0]
        cached = Path(stockroom.folder) / "previews" / f"{key}.png"

        def work(_job: Job) -> QImage:
            image = QImage(str(cached)) if cached.exists() else QImage()
            if not image.isNull():
                return image
            path = stockroom.photos.path(mark.photo)
            size = (mark.photo.width, mark.photo.height)
            flat = flatten(path, size, mark.to_mm, piece.outline, scale)
            made = qimage(flat)
            if not stockroom.read_only:
                cached.parent.mkdir(exist_ok=True)
                made.save(str(cached))  # a cache that cannot be written costs only time
            return made

        def done(image: QImage) -> None:
            self._pending.pop(key, None)
            self._keep(key, image)
            self.ready.emit(piece.code)

        def failed(error: Exception) -> None:
            self._pending.pop(key, None)
            self._failed[key] = str(error)
            if not isinstance(error, BinderyError):
                self._session.tell(error)
            self.ready.emit(piece.code)

        self._pending[key] = self._session.jobs.run(work, owner=self, done=done, failed=failed)

    def _keep(self, key: str, image: QImage) -> None:
        self._images[key] = image
        self._bytes += image.sizeInBytes()
        while self._bytes > _KEPT_BYTES and len(self._images) > 1:
            _, dropped = self._images.popitem(last=False)
            self._bytes -= dropped.sizeInBytes()

    def _forget(self) -> None:
        self._images.clear()
        self._pending.clear()
        self._failed.clear()
        self._bytes = 0


def _key(piece: StockPiece, scale: float) -> str:
    """A name that changes with anything the picture shows."""
    mark = piece.marks[0]
    outline = piece.outline
    seen = repr((_MADE, mark.photo.sha256, mark.to_mm, outline.exterior, outline.holes, scale))
    return hashlib.sha256(seen.encode()).hexdigest()[:32]
