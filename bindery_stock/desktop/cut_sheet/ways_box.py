"""How far cuts are taken and what counts as a sliver: chosen here, and remembered."""

from PySide6.QtWidgets import QComboBox

from bindery_stock.bench.match.cut_words import way_words
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.shape import KnifeWay
from bindery_stock.shape.knife_way import SLIVER_MM
from bindery_stock.stock import StockPiece

SLIVER = "cut/sliver"
WAY = "cut/way"


def saved_sliver(session: Session) -> float:
    """The width below which remains are slivers, as set the last time, mm."""
    text = session.settings.text(SLIVER)
    try:
        return float(text)
    except ValueError:  # never set, or the file was edited by hand
        return SLIVER_MM


def saved_way(session: Session) -> KnifeWay:
    """How the knife went the last time; at first in from the edge, which leaves no frame."""
    text = session.settings.text(WAY)
    return KnifeWay(text) if text in set(KnifeWay) else KnifeWay.IN


def ways_box(piece: StockPiece, way: KnifeWay) -> QComboBox:
    """The ways in words; for boards and sheets the last is that of board shears."""
    box = QComboBox()
    for one in (KnifeWay.IN, KnifeWay.THROUGH, KnifeWay.ROUND):
        box.addItem(way_words(piece, one), one)
    box.setCurrentIndex(box.findData(way))
    box.setToolTip(
        plain_tip(
            "In from the edge: what is thin between part and edge comes off too, so that no frame "
            "is left. To the end: every cut runs on, so that all that is left has straight edges."
        )
    )
    return box
