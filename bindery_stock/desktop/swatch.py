"""Two colours touching, on neutral ground, always with figures and words beside them."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from bindery_stock.colour import SignedDifference, to_srgb
from bindery_stock.desktop.drawn_shapes import lab_colour, surround
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import Lab

_MARGIN = 8


def lab_text(lab: Lab) -> str:
    """``L* 38.2  a* 31.0  b* 14.6``, with true minus signs."""
    names = ("L*", "a*", "b*")
    parts = [f"{n} {v:.1f}".replace("-", "−") for n, v in zip(names, lab, strict=True)]
    return "  ".join(parts)


def step_text(step: SignedDifference) -> str:
    """``ΔL* +0.7  ΔC* −0.2  ΔH* 0.0``: how the second colour differs from the first."""
    parts = (("ΔL*", step.lightness), ("ΔC*", step.chroma), ("ΔH*", step.hue))
    return "   ".join(f"{name} {_signed(value)}" for name, value in parts)


def _signed(value: float) -> str:
    """With its sign, a true minus; what rounds to nothing has none."""
    told = f"{value:+.1f}".replace("-", "−")
    return told[1:] if told[1:] == "0.0" else told


class Swatch(QWidget):
    """One colour, or a target and a candidate butted together with no gap.

    A colour the screen cannot show is marked with a corner; the figures stand in the tip and the
    accessible description.
    """

    def __init__(self, size: QSize) -> None:
        """Begin with nothing to show."""
        super().__init__()
        self._labs: tuple[Lab, ...] = ()
        self._size = size
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Colour swatch")

    def sizeHint(self) -> QSize:
        """The size given."""
        return self._size

    def show_colours(self, *labs: Lab) -> None:
        """Show these colours side by side, the first at the left."""
        self._labs = labs
        told = " beside ".join(lab_text(lab) for lab in labs)
        self.setToolTip(plain_tip(told))
        self.setAccessibleDescription(told)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground, the colours and the marks."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        inner = QRectF(self.rect()).adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)
        paint_swatches(painter, inner, self._labs)


def paint_swatches(painter: QPainter, area: QRectF, labs: tuple[Lab, ...]) -> None:
    """Fill ``area`` with the colours side by side, no gap between them.

    They meet at a whole pixel: where both covered half of one, a seam would be seen that is not
    in the cloth.
    """
    share = area.width() / max(len(labs), 1)
    edges = [round(area.left() + share * place) for place in range(len(labs) + 1)]
    for left, right, lab in zip(edges, edges[1:], labs, strict=False):
        cell = QRectF(left, round(area.top()), right - left, round(area.height()))
        painter.fillRect(cell, lab_colour(lab))
        _rgb, in_gamut = to_srgb(lab)
        if not in_gamut:
            painter.setPen(Qt.GlobalColor.white)
            painter.drawText(cell, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight, "≠ ")
