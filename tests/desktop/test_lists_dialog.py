"""Lists seen, printed and saved from the window."""

from pathlib import Path

import pandas as pd
import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.exchange.lists_dialog import ListsDialog
from bindery_stock.desktop.session import Session
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece
from bindery_stock.trade.vocabulary import Kind


@pytest.fixture
def dialog(qtbot: QtBot, session: Session) -> ListsDialog:
    scrap = NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(((0, 0), (58, 0), (58, 228), (0, 228))),
        pattern="rib",
        place="=drawer(2)",
    )
    session.stockroom.pieces.shelve_many([scrap] * 90)
    made = ListsDialog(session, None)
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_long_list_breaks_into_pages_with_its_heading_on_each(
    dialog: ListsDialog, tmp_path: Path
) -> None:
    dialog.paper.save(tmp_path / "stock.pdf")
    pages = [page.extract_text() for page in PdfReader(tmp_path / "stock.pdf").pages]
    assert len(pages) > 2
    assert all("Grain pattern" in text for text in pages if "C-00" in text)
    assert f"Page 2 of {len(pages)}" in pages[1]
    assert sum(text.count("cloth") for text in pages) == 90


def test_a_list_is_saved_as_csv_and_as_a_workbook(dialog: ListsDialog, tmp_path: Path) -> None:
    dialog.save(tmp_path / "stock.csv")
    dialog.save(tmp_path / "stock.xlsx")
    assert "Saved 90 lines" in dialog.paper.said.text()
    frame = pd.read_csv(tmp_path / "stock.csv")
    assert len(frame) == 90
    assert frame["Place"][0] == "'=drawer(2)"
    assert pd.read_excel(tmp_path / "stock.xlsx")["Place"][0] == "=drawer(2)"


def test_the_signs_of_a_csv_are_remembered(
    qtbot: QtBot, dialog: ListsDialog, session: Session, tmp_path: Path
) -> None:
    dialog.signs.setFocus()
    qtbot.keyClick(dialog.signs, Qt.Key.Key_Down)
    dialog.mark.setFocus()
    qtbot.keyClick(dialog.mark, Qt.Key.Key_Space)
    dialog.save(tmp_path / "stock.csv")
    assert (tmp_path / "stock.csv").read_bytes().startswith(b"Code;Kind;")
    again = ListsDialog(session, None)
    qtbot.addWidget(again)
    assert again.signs.currentIndex() == 1
    assert not again.mark.isChecked()
