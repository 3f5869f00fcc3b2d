"""Hands for the desktop's tests: what is dropped, drawn, typed and pressed."""

import warnings
from itertools import pairwise
from pathlib import Path

from PySide6 import QtGui
from PySide6.QtCore import QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QTextDocumentFragment
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier
Spot = tuple[float, float]


def drop_on(widget: QWidget, *photos: Path) -> None:
    """Let go of files over a widget, as a file manager does."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo)) for photo in photos])
    over, copy = widget.rect().center(), Qt.DropAction.CopyAction
    none = Qt.KeyboardModifier.NoModifier
    with warnings.catch_warnings():
        # Qt 6.12 would rather have a QPointF, which earlier versions do not take.
        warnings.simplefilter("ignore", DeprecationWarning)
        entered = QDragEnterEvent(over, copy, data, LEFT, none)
    QApplication.sendEvent(widget, entered)
    assert entered.isAccepted()
    QApplication.sendEvent(widget, QDropEvent(over.toPointF(), copy, data, LEFT, none))


def draw(qtbot: QtBot, canvas: PhotoCanvas, *spots: Spot) -> None:
    """Press at the first spot of the photograph, go by way of the others, let go at the last."""

    def on_canvas() -> list[QPoint]:
        return [canvas.to_widget(spot).toPoint() for spot in spots]

    qtbot.waitUntil(lambda: all(canvas.rect().contains(p) for p in on_canvas()))
    pixels = on_canvas()
    qtbot.mousePress(canvas, LEFT, pos=pixels[0])
    for start, end in pairwise(pixels):
        qtbot.mouseMove(canvas, QPoint((start.x() + end.x()) // 2, (start.y() + end.y()) // 2))
        qtbot.mouseMove(canvas, end)
    qtbot.mouseRelease(canvas, LEFT, pos=pixels[-1])


def in_hand() -> QWidget:
    """What has the keyboard."""
    focus = QApplication.focusWidget()
    assert focus is not None
    return focus


def write(qtbot: QtBot, text: str) -> None:
    qtbot.keyClicks(in_hand(), text)


def press(qtbot: QtBot, key: Qt.Key, times: int = 1) -> None:
    for _ in range(times):
        qtbot.keyClick(in_hand(), key)


def shown_tip(tip: str) -> str:
    """The words a tip shows, as Qt reads them."""
    return (
        QTextDocumentFragment.fromHtml(tip).toPlainText() if QtGui.Qt.mightBeRichText(tip) else tip
    )
