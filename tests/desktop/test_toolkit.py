"""What the windows rest on: faults of the toolkit that would end the program in a long day."""

import sys

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication

_EMITS = 50


class Bell(QObject):
    rung = Signal(str)


def test_emitting_a_signal_gives_up_no_reference_to_true(qapp: QApplication) -> None:
    """PySide6 6.12.0 did, seen here: the interpreter ended after some hundreds of emits.

    From Python 3.12 on ``True`` is never freed, and its count stands still.
    """
    bell, heard = Bell(), []
    bell.rung.connect(heard.append)
    before = sys.getrefcount(True)
    for _ in range(_EMITS):
        bell.rung.emit("ding")
    assert len(heard) == _EMITS
    assert sys.getrefcount(True) > before - _EMITS / 2
