"""The choice of paper, the same wherever something is printed: the last one comes first."""

from PySide6.QtWidgets import QComboBox

from bindery_stock.desktop.session import Session
from bindery_stock.records.page import PAPERS

PAPER_KEY = "papers/paper"
"""The setting that holds the name of the paper chosen last."""


def may_be_narrow(box: QComboBox) -> None:
    """A choice with long words gives way to its label; the list that opens shows them whole."""
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(12)


def paper_box(session: Session) -> QComboBox:
    """A choice of paper, the last one chosen first in hand."""
    box = QComboBox()
    for paper in PAPERS:
        box.addItem(paper.name, paper)
    box.setCurrentIndex(max(0, box.findText(session.settings.text(PAPER_KEY, PAPERS[0].name))))
    return box
