"""How large a photograph is shown on the canvas, and where."""

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QTransform

from bindery_stock.shape import Point

_CLOSEST = 16.0
"""Screen pixels to a pixel of the photograph at the closest."""
_MARGIN = 16


class Zoom:
    """``scale`` is screen pixels to a pixel of the photograph, ``offset`` where its corner lies,
    ``fitted`` whether the whole is to be kept in view.
    """

    def __init__(self) -> None:
        """Begin with the whole photograph."""
        self.scale = 1.0
        self.offset = QPointF()
        self.fitted = True

    def fit(self, size: tuple[int, int], view: QSize) -> bool:
        """Show all of a photograph of this size in the view; False where there is none."""
        self.fitted = True
        width, height = size
        if not (width and height):
            return False
        across, down = view.width() - 2 * _MARGIN, view.height() - 2 * _MARGIN
        self.scale = max(min(across / width, down / height), 1e-4)
        self.offset = QPointF(
            (view.width() - width * self.scale) / 2, (view.height() - height * self.scale) / 2
        )
        return True

    def by(self, factor: float, about: QPointF | None, size: tuple[int, int], view: QSize) -> None:
        """Zoom about a point of the view, by default its middle."""
        fixed = about or QPointF(view.width() / 2, view.height() / 2)
        least = min(view.width(), view.height()) / max(size) / 4
        wanted = min(max(self.scale * factor, least), _CLOSEST)
        self.offset = fixed - (fixed - self.offset) * (wanted / self.scale)
        self.scale = wanted
        self.fitted = False

    def to_photo(self, spot: QPointF, size: tuple[int, int]) -> Point:
        """The pixel of the photograph under a spot of the view, kept inside the photograph."""
        x = (spot.x() - self.offset.x()) / self.scale
        y = (spot.y() - self.offset.y()) / self.scale
        return (min(max(x, 0.0), float(size[0])), min(max(y, 0.0), float(size[1])))

    def to_widget(self, point: Point) -> QPointF:
        """Where a pixel of the photograph is shown."""
        return QPointF(point[0], point[1]) * self.scale + self.offset

    def transform(self) -> QTransform:
        """From pixels of the photograph to those of the view."""
        return QTransform(self.scale, 0, 0, self.scale, self.offset.x(), self.offset.y())
