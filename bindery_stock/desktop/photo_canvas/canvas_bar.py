"""The line over the photograph: its name, its size, and the zoom."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton

from bindery_stock.desktop.elided import ElidedLabel
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.canvas import ZOOM_STEP, PhotoCanvas
from bindery_stock.desktop.tips import plain_tip


class CanvasBar(QFrame):
    """Names the photograph on the table and zooms it."""

    def __init__(self, canvas: PhotoCanvas) -> None:
        """Serve one canvas."""
        super().__init__()
        # What tells photographs apart stands at the end of their names.
        self.name = ElidedLabel(Qt.TextElideMode.ElideMiddle)
        self.zoom = QLabel()
        self.zoom.setTextFormat(Qt.TextFormat.PlainText)
        self.zoom.setProperty("role", "muted")
        self.zoom.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.zoom.setMinimumWidth(self.fontMetrics().horizontalAdvance("1,600 %"))
        closer = _button("+", "Zoom in (+)")
        farther = _button("−", "Zoom out (−)")
        whole = _button("Whole", "Show the whole photograph (F)")
        closer.clicked.connect(lambda: canvas.zoom_by(ZOOM_STEP))
        farther.clicked.connect(lambda: canvas.zoom_by(1 / ZOOM_STEP))
        whole.clicked.connect(canvas.fit)
        canvas.zoomed.connect(lambda scale: self.zoom.setText(f"{scale:.0%}".replace("%", " %")))
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID, GRID * 3, GRID)
        row.setSpacing(GRID * 2)
        row.addWidget(self.name, 1)
        for widget in (self.zoom, farther, closer, whole):
            row.addWidget(widget)

    def show_photo(self, name: str, size: tuple[int, int], tip: str = "") -> None:
        """Name this photograph of ``size`` pixels."""
        width, height = size
        self.name.setText(f"{name}   {width:,} × {height:,} pixels")
        self.name.setToolTip(plain_tip(tip))


def _button(text: str, tip: str) -> QToolButton:
    made = QToolButton()
    made.setText(text)
    made.setToolTip(plain_tip(tip))
    made.setAccessibleName(tip)
    return made
