"""Names that may be longer than their room: cut with an ellipsis, the whole in the tip."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QSizePolicy,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QWidget,
)

from bindery_stock.desktop.tips import plain_tip


class ElidedLabel(QLabel):
    """One line of plain text. What does not go in is told by the tip."""

    def __init__(self, mode: Qt.TextElideMode = Qt.TextElideMode.ElideRight) -> None:
        """Leave out the end, or what ``mode`` says."""
        super().__init__()
        self._mode = mode
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def setText(self, text: str) -> None:  # noqa: N802 - Qt's own name
        """Show this text, as much of it as there is room for."""
        super().setText(text)
        self.setToolTip(plain_tip(text))

    def minimumSizeHint(self) -> QSize:
        """Any width will do."""
        return QSize(0, super().sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The words, shortened to the room."""
        told = self.fontMetrics().elidedText(self.text(), self._mode, self.width())
        QPainter(self).drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter, told)


class ElidedBox(QComboBox):
    """A choice whose long words are cut with an ellipsis while it is closed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin as wide as its words, and give way where there is less room."""
        super().__init__(parent)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setMinimumContentsLength(8)
        self.currentTextChanged.connect(self._tell)

    def _tell(self, text: str) -> None:
        self.setToolTip(plain_tip(text))

    def minimumSizeHint(self) -> QSize:
        """A few letters and the arrow."""
        few = self.fontMetrics().averageCharWidth() * self.minimumContentsLength()
        height = super().minimumSizeHint().height()
        return QSize(few + height, height)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The box as the style draws it, with the words shortened to the room."""
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        room = self.style().subControlRect(
            QStyle.ComplexControl.CC_ComboBox,
            option,
            QStyle.SubControl.SC_ComboBoxEditField,
            self,
        )
        option.currentText = self.fontMetrics().elidedText(
            option.currentText, Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
