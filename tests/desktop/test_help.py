"""The help pages name only what is there: keys give a command, words stand on a screen."""

import ast
import re
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

import bindery_stock
from bindery_stock import places
from bindery_stock.desktop.app import build
from bindery_stock.desktop.help import HelpWindow
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.session import Session

PAGES = sorted((places.resources() / "help").glob("*.md"))
PACKAGE = Path(bindery_stock.__file__).parent
HELD = re.compile(r"Ctrl\+(?:Shift\+)?(?:[A-Z0-9]\b|Return|Backspace)")
SLANTED = re.compile(r"(?<![*\w])\*([^*\n]+)\*(?!\*)")


def plain(text: str) -> str:
    """Words as they are read: without mnemonics, ellipses and case."""
    return text.replace("&", "").replace("…", "").strip().casefold()


def words_of_the_program() -> str:
    """Every text in the sources, one a line."""
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")]
    return "\n".join(
        plain(node.value)
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def test_every_key_held_with_ctrl_in_the_help_gives_a_command(
    qtbot: QtBot, session: Session
) -> None:
    window, _desk = build(session)
    qtbot.addWidget(window)
    given = {
        keys.toString(QKeySequence.SequenceFormat.PortableText)
        for place in window.places
        for keys in _live_in(window, place)
    }
    told = {keys for page in PAGES for keys in HELD.findall(page.read_text(encoding="utf-8"))}
    assert told <= given, told - given


def _live_in(window, place) -> list[QKeySequence]:
    window.go_to(place)
    window.refresh_commands()
    return [keys for _c, action, _p in window._actions for keys in action.shortcuts()]


def test_every_word_set_slanting_in_the_help_stands_in_the_program() -> None:
    told = words_of_the_program()
    missing = [
        (page.stem, words)
        for page in PAGES
        for words in SLANTED.findall(page.read_text(encoding="utf-8"))
        if plain(words) not in told
    ]
    # An example of what a table may hold, not a word of the program.
    assert missing in ([], [("8-records", "About 1868")])


def test_the_keys_to_the_places_are_as_many_as_the_places(qtbot: QtBot, session: Session) -> None:
    window, _desk = build(session)
    qtbot.addWidget(window)
    keys = (places.resources() / "help" / "4-keys.md").read_text(encoding="utf-8")
    assert f"Ctrl+1 … {len(window.places)}" in keys


@pytest.mark.parametrize("scheme", [Scheme.LIGHT, Scheme.DARK])
def test_no_line_of_the_list_of_pages_covers_the_next(
    qtbot: QtBot, qapp: QApplication, scheme: Scheme
) -> None:
    dress(qapp, scheme)
    window = HelpWindow(None)
    qtbot.addWidget(window)
    window.show()
    lines = [window.pages.visualItemRect(window.pages.item(n)) for n in range(window.pages.count())]
    for above, below in pairwise(lines):
        assert above.bottom() < below.top()
    assert window.pages.sizeHintForRow(0) <= lines[0].height()
    room = window.pages.viewport().width()
    for number in range(window.pages.count()):
        words = window.pages.item(number).text()
        assert window.pages.fontMetrics().horizontalAdvance(words) < room - 24, words
    window.close()
    dress(qapp, Scheme.LIGHT)
