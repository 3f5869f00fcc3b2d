"""Pictures of cloth in a table, never tinted in a chosen row: their colour is what matters."""

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem


class PictureDelegate(QStyledItemDelegate):
    """Paints the row's ground as the style does, and the picture as it is."""

    def __init__(self, role: int, parent: QObject) -> None:
        """Take the picture from this role; as a decoration the style would tint it."""
        super().__init__(parent)
        self._role = role

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """The ground, then the picture in its middle."""
        super().paint(painter, option, index)
        image = index.data(self._role)
        if isinstance(image, QImage):
            size = image.deviceIndependentSize()
            middle = QPointF(option.rect.center())
            painter.drawImage(middle - QPointF(size.width() / 2, size.height() / 2), image)
