"""The foot of a dialog: the way out at the left, what it does at the right."""

from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QWidget

from bindery_stock.desktop.look import GRID


class DialogFoot(QWidget):
    """The same in every dialog: Esc leaves all as it was, Enter does what the dialog is for."""

    def __init__(
        self,
        dialog: QDialog,
        go: QPushButton,
        *,
        leave: str = "Leave it",
        between: QWidget | None = None,
    ) -> None:
        """``go`` does it, ``leave`` names the way out, ``between`` may tell what is wrong."""
        super().__init__(dialog)
        self.go = go
        self.leave_button = QPushButton(leave)
        self.leave_button.clicked.connect(dialog.reject)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID * 2)
        row.addWidget(self.leave_button)
        if between is not None:
            row.addWidget(between, 1)
        else:
            row.addStretch(1)
        row.addWidget(go)
        go.setDefault(True)
        self.setTabOrder(go, self.leave_button)  # from the last entry on to what is done with it
