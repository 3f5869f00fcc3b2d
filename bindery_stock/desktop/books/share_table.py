"""The table of a plan beside closest-first."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QTableView

from bindery_stock.desktop.books.share_delegate import ROW_HEIGHT, ShareDelegate
from bindery_stock.desktop.books.share_model import ShareColumn, ShareModel


def share_table(model: ShareModel, delegate: ShareDelegate) -> QTableView:
    """One row for each part, one column for each plan."""
    table = QTableView()
    table.setModel(model)
    table.setItemDelegate(delegate)
    table.setAccessibleName("The plan beside closest-first")
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.setFrameShape(QFrame.Shape.NoFrame)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
    header = table.horizontalHeader()
    header.setProperty("role", "roomy")
    header.setHighlightSections(False)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
    for column in ShareColumn:
        header.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
    return table
