"""A code scanned anywhere goes to its piece; in an entry it stays text."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QLineEdit, QListWidget, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.scanner import Scanner


class Bench(QWidget):
    def __init__(self) -> None:
        super().__init__()
        self.list = QListWidget()
        self.list.addItems(["Alder", "Cherry", "4 ash", "0 oak"])
        self.entry = QLineEdit()
        self.digit = QShortcut(QKeySequence("4"), self)
        self.given: list[str] = []
        self.digit.activated.connect(lambda: self.given.append("4"))
        column = QVBoxLayout(self)
        column.addWidget(self.list)
        column.addWidget(self.entry)


@pytest.fixture
def scans(qapp: QApplication) -> Iterator[list[str]]:
    scanner = Scanner(qapp, qapp)
    heard: list[str] = []
    scanner.scanned.connect(heard.append)
    yield heard
    qapp.removeEventFilter(scanner)
    scanner.deleteLater()


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = Bench()
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.list.setFocus()
    return made


def test_a_code_scanned_over_a_list_is_heard(qtbot: QtBot, bench: Bench, scans: list[str]) -> None:
    qtbot.keyClicks(bench.list, "C-0042")
    qtbot.keyClick(bench.list, Qt.Key.Key_Return)
    assert scans == ["C-0042"]
    assert bench.given == [], "its figures gave no command"


def test_a_code_typed_in_small_letters_is_heard_too(
    qtbot: QtBot, bench: Bench, scans: list[str]
) -> None:
    qtbot.keyClicks(bench.list, "a-0007")
    qtbot.keyClick(bench.list, Qt.Key.Key_Enter)
    assert scans == ["A-0007"]


def test_two_scans_one_after_the_other_are_two_codes(
    qtbot: QtBot, bench: Bench, scans: list[str]
) -> None:
    for code in ("C-0042", "L-0003"):
        qtbot.keyClicks(bench.list, code)
        qtbot.keyClick(bench.list, Qt.Key.Key_Return)
    assert scans == ["C-0042", "L-0003"]


def test_a_code_typed_into_an_entry_stays_text(
    qtbot: QtBot, bench: Bench, scans: list[str]
) -> None:
    bench.entry.setFocus()
    qtbot.keyClicks(bench.entry, "C-0042")
    qtbot.keyClick(bench.entry, Qt.Key.Key_Return)
    assert bench.entry.text() == "C-0042"
    assert scans == []


def test_other_keys_do_what_they_always_do(qtbot: QtBot, bench: Bench, scans: list[str]) -> None:
    qtbot.keyClicks(bench.list, "4")
    assert bench.given == ["4"]
    qtbot.keyClicks(bench.list, "ch")
    assert bench.list.currentItem().text() == "Cherry"
    qtbot.keyClicks(bench.list, "C-")
    qtbot.keyClick(bench.list, Qt.Key.Key_Return)
    qtbot.keyClick(bench.list, Qt.Key.Key_X)
    qtbot.keyClicks(bench.list, "42")
    qtbot.keyClick(bench.list, Qt.Key.Key_Return)
    assert scans == []
