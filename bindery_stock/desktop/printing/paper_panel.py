"""Pages on the screen as they will lie on paper, to be saved as a PDF or printed."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.drawn_shapes import surround
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.sheaf import Sheaf
from bindery_stock.desktop.screen import next_button, quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records.files import write_whole

_PREVIEW_DOTS_PER_MM = 6.0
_FOLDER = "papers/folder"


class PagePreview(QWidget):
    """One page, white on the neutral ground, as large as there is room for."""

    def __init__(self) -> None:
        """Begin with nothing to show."""
        super().__init__()
        self._page = QPixmap()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Preview of the page")

    def sizeHint(self) -> QSize:
        """Room for an upright page."""
        return QSize(440, 560)

    def show_page(self, page: QPixmap) -> None:
        """Show a page; a null pixmap for none."""
        self._page = page
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground and the page."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        if self._page.isNull():
            return
        inner = self.rect().adjusted(GRID * 4, GRID * 4, -GRID * 4, -GRID * 4)
        ratio = self.devicePixelRatioF()
        shown = self._page.scaled(
            inner.size() * ratio,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        shown.setDevicePixelRatio(ratio)
        size = shown.deviceIndependentSize()
        painter.drawPixmap(
            round(inner.center().x() - size.width() / 2),
            round(inner.center().y() - size.height() / 2),
            shown,
        )


class PaperPanel(QWidget):
    """The preview with its pages turned, and the two ways out: a PDF, or the printer."""

    def __init__(self, session: Session, *, file_name: str) -> None:
        """Suggest this name for the PDF."""
        super().__init__()
        self._session = session
        self.file_name = file_name
        self._sheaf: Sheaf | None = None
        self._number = 0
        self.preview = PagePreview()
        self.page = QLabel()
        self.page.setTextFormat(Qt.TextFormat.PlainText)
        self.back = quiet_button("Page before")
        self.forth = quiet_button("Next page")
        self.back.clicked.connect(lambda: self._turn(-1))
        self.forth.clicked.connect(lambda: self._turn(1))
        self.print_button = QPushButton("&Print…")
        self.print_button.clicked.connect(self.ask_printer)
        self.save_button = next_button("&Save as PDF…")
        self.save_button.clicked.connect(self.ask_file)
        self.said = QLabel()
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        for button in (self.back, self.forth, self.print_button, self.save_button):
            button.setAutoDefault(False)  # Enter ends an entry of the dialog, and nothing else
        turning = QHBoxLayout()
        for widget in (self.back, self.page, self.forth):
            turning.addWidget(widget)
        turning.addStretch(1)
        turning.addWidget(self.print_button)
        turning.addWidget(self.save_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.preview, 1)
        column.addWidget(self.said)
        column.addLayout(turning)
        self.show_sheaf(None)

    def show_sheaf(self, sheaf: Sheaf | None, why_not: str = "") -> None:
        """Show these pages, or say why there are none."""
        self._sheaf = sheaf
        self._number = min(self._number, sheaf.count - 1) if sheaf else 0
        self.say(why_not)
        self._turn(0)

    def say(self, words: str) -> None:
        """Say something under the page."""
        self.said.setText(words)
        self.said.setVisible(bool(words))

    def _turn(self, by: int) -> None:
        sheaf = self._sheaf
        for button in (self.print_button, self.save_button):
            button.setEnabled(sheaf is not None)
        if sheaf is None:
            self.page.setText("")
            self.preview.show_page(QPixmap())
            self.back.setEnabled(False)
            self.forth.setEnabled(False)
            return
        self._number = max(0, min(sheaf.count - 1, self._number + by))
        self.page.setText(f"Page {self._number + 1} of {sheaf.count}")
        self.back.setEnabled(self._number > 0)
        self.forth.setEnabled(self._number + 1 < sheaf.count)
        image = sheaf.image(self._number, _PREVIEW_DOTS_PER_MM)
        self.preview.show_page(QPixmap.fromImage(image))

    def ask_file(self) -> None:
        """Ask where the PDF goes, and write it."""
        settings = self._session.settings
        folder = settings.text(_FOLDER) or str(Path.home())
        ask_save(self, "Save as PDF", Path(folder) / self.file_name, "PDF (*.pdf)", self.save)

    def save(self, path: Path) -> None:
        """Write the PDF."""
        if self._sheaf is None:
            return
        try:
            write_whole(path, self._sheaf.pdf())
        except BinderyError as error:
            self.say(str(error))
            return
        self._session.settings.set_text(_FOLDER, str(path.parent))
        self.say(f"Saved as {path}. Print it at 100 %, without “fit to page”.")

    def ask_printer(self) -> None:
        """Ask for a printer, and print."""
        if not QPrinterInfo.availablePrinterNames():
            self.say("No printer is set up on this computer. Save a PDF and print that.")
            return
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        dialog = QPrintDialog(printer, self)
        dialog.setMinMax(1, self._sheaf.count if self._sheaf else 1)
        dialog.accepted.connect(lambda: self.print_on(printer))
        dialog.finished.connect(dialog.deleteLater)
        QDialog.open(dialog)  # the stubs of QPrintDialog know only the form with a receiver

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages."""
        if self._sheaf is None:
            return
        try:
            self._sheaf.print_on(printer)
        except BinderyError as error:
            self.say(str(error))
            return
        self.say(f"Sent to {printer.printerName() or 'the printer'}.")


def ask_save(
    over: QWidget, caption: str, suggested: Path, kinds: str, chosen: Callable[[Path], None]
) -> QFileDialog:
    """Ask where a file goes; a missing ending is added."""
    dialog = QFileDialog(over, caption, str(suggested.parent), kinds)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix(suggested.suffix.lstrip("."))
    dialog.selectFile(suggested.name)
    dialog.fileSelected.connect(lambda path: chosen(Path(path)))
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    return dialog
