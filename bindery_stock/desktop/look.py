"""The look of the window: neutral greys by L*, four type sizes, one rhythm.

The window has no colour of its own, so that cloth is the only colour in it: every surface, line
and text is a grey with a* = b* = 0, as viewing standards ask of a surround (ISO 3664, from
memory). What matters next is told by weight: the one next action is filled with the text's own
grey, and focus is a firm line of it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QStyleFactory, QToolTip, QWidget

from bindery_stock import places

GRID = 4
"""Every gap is a multiple of this many pixels."""
SURROUND_L = 50.0
"""L* behind every swatch and scrap, the same in both palettes."""


_DRESSED = "has its style"


class Scheme(StrEnum):
    """Which palette is in use."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class TypeSize(StrEnum):
    """The four sizes of type, as multiples of the system's own."""

    SMALL = "small"
    BODY = "body"
    HEAD = "head"
    TITLE = "title"


_SCALE = {TypeSize.SMALL: 0.88, TypeSize.BODY: 1.0, TypeSize.HEAD: 1.25, TypeSize.TITLE: 1.7}


@dataclass(frozen=True, slots=True)
class Greys:
    """L* of each part of the window."""

    window: float
    panel: float
    line: float
    muted: float
    text: float

    @property
    def faint(self) -> float:
        """Between panel and line: hover and alternate rows."""
        return (self.panel * 2 + self.line) / 3

    @property
    def field(self) -> float:
        """The line round an entry or a button: strong enough to be seen as an edge."""
        return (self.line + self.muted) / 2


LIGHT = Greys(window=94, panel=98, line=82, muted=42, text=15)
DARK = Greys(window=17, panel=22, line=34, muted=70, text=93)


def luminance(lightness: float) -> float:
    """Relative luminance Y (0 to 1) of a CIE lightness L* (CIE 15)."""
    return ((lightness + 16) / 116) ** 3 if lightness > 8 else lightness / 903.3


def contrast(first: float, second: float) -> float:
    """Contrast ratio of two L* values as WCAG 2.1 defines it: (Y1 + 0.05) / (Y2 + 0.05)."""
    bright, dim = sorted((luminance(first), luminance(second)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def grey(lightness: float) -> QColor:
    """The sRGB grey of a CIE lightness (IEC 61966-2-1 transfer curve)."""
    y = luminance(lightness)
    code = 12.92 * y if y <= 0.0031308 else 1.055 * y ** (1 / 2.4) - 0.055
    level = round(255 * code)
    return QColor(level, level, level)


def is_dark() -> bool:
    """Whether the palette in use is the dark one."""
    return QGuiApplication.palette().color(QPalette.ColorRole.Window).lightness() < 128


def greys() -> Greys:
    """The grey steps in use."""
    return DARK if is_dark() else LIGHT


def palette(steps: Greys) -> QPalette:
    """The Qt palette of these grey steps."""
    role = QPalette.ColorRole
    made = QPalette()
    for which, lightness in (
        (role.Window, steps.window),
        (role.WindowText, steps.text),
        (role.Base, steps.panel),
        (role.AlternateBase, steps.faint),
        (role.Text, steps.text),
        (role.PlaceholderText, steps.muted),
        (role.Button, steps.panel),
        (role.ButtonText, steps.text),
        (role.BrightText, steps.panel),
        (role.ToolTipBase, steps.text),
        (role.ToolTipText, steps.panel),
        (role.Highlight, steps.text),
        (role.HighlightedText, steps.panel),
        (role.Link, steps.text),
        (role.LinkVisited, steps.text),
        (role.Accent, steps.text),
        (role.Light, steps.panel),
        (role.Midlight, steps.faint),
        (role.Mid, steps.line),
        (role.Dark, steps.field),
        (role.Shadow, steps.line),
    ):
        made.setColor(which, grey(lightness))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, grey(steps.field))
    made.setColor(QPalette.ColorGroup.Disabled, role.Highlight, grey(steps.line))
    return made


def style_sheet(steps: Greys) -> str:
    """What the palette cannot say: edges, the next action, focus."""
    names = {
        k: grey(getattr(steps, k)).name() for k in ("window", "panel", "line", "muted", "text")
    }
    names["icons"] = (places.resources() / "icons").as_posix()
    names["tone"] = "on_dark" if steps is DARK else "on_light"
    names |= {"faint": grey(steps.faint).name(), "field": grey(steps.field).name()}
    return _SHEET.format(**names)


def dress(app: QApplication, scheme: Scheme) -> None:
    """Give the whole program its palette. ``SYSTEM`` follows the desktop's own choice."""
    if app.property(_DRESSED) is None:  # a new style would have every widget polished once more
        app.setStyle(QStyleFactory.create("Fusion"))
        app.setProperty(_DRESSED, True)
    wanted = scheme
    if scheme is Scheme.SYSTEM:
        dark = app.styleHints().colorScheme() is Qt.ColorScheme.Dark
        wanted = Scheme.DARK if dark else Scheme.LIGHT
    steps = DARK if wanted is Scheme.DARK else LIGHT
    app.setPalette(palette(steps))
    QToolTip.setPalette(palette(steps))  # tips keep a palette of their own beside the program's
    app.setStyleSheet(style_sheet(steps))


@contextmanager
def dressed_at_last() -> Iterator[None]:
    """Dress what is made in the block once, when all of it stands together.

    Under a style sheet each widget that is put into another is dressed anew with all it holds: a
    whole window then takes four times as long to make. Where there are widgets already the sheet
    stays: to take it off and put it back would dress them twice.
    """
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    if app.allWidgets():
        yield
        return
    sheet = app.styleSheet()
    app.setStyleSheet("")
    try:
        yield
    finally:
        app.setStyleSheet(sheet)


def sized(widget: QWidget, size: TypeSize, *, bold: bool = False) -> None:
    """Set a widget's type to one of the four sizes, in the system's own face."""
    font = QFont(QApplication.font())
    font.setPointSizeF(QApplication.font().pointSizeF() * _SCALE[size])
    font.setBold(bold)
    widget.setFont(font)


_SHEET = """
QToolTip {{
    border: 1px solid {text}; padding: 4px; background: {text}; color: {panel};
}}
QMainWindow::separator {{ background: {line}; width: 1px; height: 1px; }}
QSplitter::handle {{ background: {line}; }}
QSplitter::handle:horizontal {{ width: 1px; }}
QSplitter::handle:vertical {{ height: 1px; }}
QStatusBar::item {{ border: none; }}
QLabel[role="muted"] {{ color: {muted}; }}
QLabel[role="panel"] {{ background: {panel}; }}
QFrame[role="panel"] {{ background: {panel}; }}
QFrame[role="rule"] {{ background: {line}; max-height: 1px; min-height: 1px; border: none; }}
QFrame[role="upright-rule"] {{
    background: {line}; max-width: 1px; min-width: 1px; border: none;
}}
QPushButton, QToolButton {{
    border: 1px solid {field}; border-radius: 4px; padding: 4px 12px; background: {panel};
    color: {text};
}}
QToolButton {{ padding: 4px 8px; }}
QToolButton[popupMode="2"] {{ padding-right: 26px; }}
QToolButton[popupMode="2"]:focus {{ padding-right: 25px; }}
QToolButton::menu-indicator {{
    image: url("{icons}/down_{tone}.svg"); width: 12px; height: 12px;
    subcontrol-origin: border; subcontrol-position: right center; right: 8px;
}}
QPushButton:hover, QToolButton:hover {{ background: {faint}; }}
QPushButton:pressed, QToolButton:pressed, QToolButton:checked {{ background: {line}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {text}; padding: 3px 11px; }}
QToolButton:focus {{ padding: 3px 7px; }}
QPushButton:disabled, QToolButton:disabled {{ color: {field}; border-color: {line}; }}
QPushButton[role="next"] {{
    background: {text}; color: {panel}; border: 1px solid {text}; font-weight: 600;
}}
QPushButton[role="next"]:hover {{ background: {muted}; border-color: {muted}; }}
QPushButton[role="next"]:focus {{
    background: {text}; border: 2px solid {field}; text-decoration: underline;
}}
QPushButton[role="next"]:disabled {{
    background: {line}; color: {muted}; border-color: {line};
}}
QPushButton[role="quiet"], QToolButton[role="quiet"] {{
    border-color: transparent; background: transparent; text-decoration: underline;
}}
QPushButton[role="quiet"]:focus, QToolButton[role="quiet"]:focus {{ border: 2px solid {text}; }}
QPushButton[role="line"] {{
    border-color: transparent; background: transparent; text-align: left; padding: 2px 0px;
    text-decoration: underline;
}}
QPushButton[role="line"]:focus {{ border: 2px solid {text}; padding: 1px; }}
QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
QLineEdit, QPlainTextEdit, QComboBox, QAbstractSpinBox {{
    border: 1px solid {field}; border-radius: 4px; padding: 3px 6px; background: {panel};
    color: {text}; selection-background-color: {text}; selection-color: {panel};
}}
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {{
    border: 2px solid {text}; padding: 2px 5px;
}}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{ width: 0px; border: none; }}
QLineEdit[wrong="true"], QPlainTextEdit[wrong="true"], QComboBox[wrong="true"] {{
    border: 2px dashed {text}; padding: 2px 5px;
}}
QComboBox::drop-down {{ border: none; width: 20px; }}
QComboBox::down-arrow {{ image: url("{icons}/down_{tone}.svg"); width: 12px; height: 12px; }}
QComboBox QAbstractItemView {{ border: 1px solid {field}; padding: 4px; }}
QCheckBox, QRadioButton {{ spacing: 6px; }}
QCheckBox::indicator, QRadioButton::indicator {{
    width: 14px; height: 14px; border: 1px solid {field}; background: {panel};
}}
QCheckBox::indicator {{ border-radius: 3px; }}
QRadioButton::indicator {{ border-radius: 8px; }}
QCheckBox::indicator:focus, QRadioButton::indicator:focus {{ border: 2px solid {text}; }}
QCheckBox::indicator:checked {{
    border-color: {text}; background: {text}; image: url("{icons}/tick_{tone}.svg");
}}
QRadioButton::indicator:checked {{
    border: 5px solid {text}; width: 6px; height: 6px; background: {panel};
}}
QCheckBox:focus, QRadioButton:focus {{ text-decoration: underline; }}
QListWidget[role="places"] {{
    background: {window}; border: none; outline: none; padding: 4px;
}}
QListWidget[role="places"]::item {{ padding: 8px 12px; border-radius: 4px; color: {text}; }}
QListWidget[role="places"]::item:hover {{ background: {faint}; }}
QListWidget[role="places"]::item:selected {{ background: {line}; color: {text}; }}
QListWidget[role="places"]::item:selected:focus {{ border: 2px solid {text}; }}
QListWidget[role="parts"]::item:selected {{ background: {line}; color: {text}; }}
QListWidget[role="parts"]::item:selected:focus {{ border: 2px solid {text}; }}
QTableView, QListView, QTreeView {{
    background: {panel}; alternate-background-color: {window}; border: 1px solid {line};
    gridline-color: {line};
}}
QHeaderView::section {{
    background: {window}; color: {muted}; border: none; border-bottom: 1px solid {line};
    padding: 4px 3px;
}}
QHeaderView[role="roomy"]::section {{ padding: 4px 8px; }}
QTableCornerButton::section {{
    background: {window}; border: none; border-bottom: 1px solid {line};
}}
QScrollArea {{ border: none; background: transparent; }}
"""
