"""What this machine remembers: window, palette, unit, last stockroom. Not about the stock itself.

Kept in one INI file under the user's configuration folder; ``BINDERY_STOCK_HOME`` moves it, and
the working copies of the sample, elsewhere.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import platformdirs
from PySide6.QtCore import QByteArray, QLocale, QSettings

from bindery_stock.desktop.look import Scheme
from bindery_stock.units import LengthStyle, Unit

APP_NAME = "bindery-stock"
_RECENT_KEPT = 8


def _home(kind: Callable[[], Path]) -> Path:
    moved = os.environ.get("BINDERY_STOCK_HOME")
    return Path(moved) if moved else kind()


def config_folder() -> Path:
    """Where this machine's settings lie."""
    return _home(lambda: platformdirs.user_config_path(APP_NAME, appauthor=False))


def data_folder() -> Path:
    """Where the program may keep files of its own, such as the working copy of the sample."""
    return _home(lambda: platformdirs.user_data_path(APP_NAME, appauthor=False))


def documents_folder() -> Path:
    """Where the user keeps documents, and the first stockroom is made."""
    return _home(platformdirs.user_documents_path)


def log_folder() -> Path:
    """Where fault reports are written."""
    return _home(lambda: platformdirs.user_log_path(APP_NAME, appauthor=False))


@dataclass(frozen=True, slots=True)
class _Key:
    """One setting: its name in the file."""

    name: str


_SCHEME = _Key("window/scheme")
_UNIT = _Key("entry/unit")
_LAST = _Key("stockroom/last")
_RECENT = _Key("stockroom/recent")


class Settings:
    """This machine's settings, each declared once as a property."""

    def __init__(self, path: Path | None = None) -> None:
        """Read the settings from ``path``, by default in the user's configuration folder."""
        self.path = path or config_folder() / "desktop.ini"
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self._store = QSettings(str(self.path), QSettings.Format.IniFormat)

    def _text(self, key: _Key, default: str = "") -> str:
        value = self._store.value(key.name, default)
        return value if isinstance(value, str) else default

    @property
    def scheme(self) -> Scheme:
        """Light, dark or as the system has it."""
        text = self._text(_SCHEME, Scheme.SYSTEM)
        return Scheme(text) if text in set(Scheme) else Scheme.SYSTEM

    @scheme.setter
    def scheme(self, scheme: Scheme) -> None:
        self._store.setValue(_SCHEME.name, scheme.value)

    @property
    def unit(self) -> Unit:
        """Millimetres or inches; at first as the locale measures."""
        text = self._text(_UNIT)
        if text in set(Unit):
            return Unit(text)
        metric = QLocale().measurementSystem() is QLocale.MeasurementSystem.MetricSystem
        return Unit.MM if metric else Unit.INCH

    @unit.setter
    def unit(self, unit: Unit) -> None:
        self._store.setValue(_UNIT.name, unit.value)

    @property
    def lengths(self) -> LengthStyle:
        """How lengths are read and shown."""
        return LengthStyle(self.unit, QLocale().decimalPoint())

    @property
    def last_stockroom(self) -> Path | None:
        """The stock folder that was open last."""
        text = self._text(_LAST)
        return Path(text) if text else None

    @property
    def recent(self) -> list[Path]:
        """Stock folders opened before, newest first; some may be gone."""
        return [Path(line) for line in self._text(_RECENT).split("\n") if line]

    def opened(self, folder: Path) -> None:
        """Remember a stock folder as the last one opened."""
        others = [p for p in self.recent if p != folder]
        kept = [folder, *others][:_RECENT_KEPT]
        self._store.setValue(_LAST.name, str(folder))
        self._store.setValue(_RECENT.name, "\n".join(str(p) for p in kept))

    def text(self, name: str, default: str = "") -> str:
        """A named choice of one screen, such as ``shelf/order``."""
        return self._text(_Key(f"screens/{name}"), default)

    def set_text(self, name: str, value: str) -> None:
        """Remember a named choice of one screen."""
        self._store.setValue(f"screens/{name}", value)

    def state(self, name: str) -> QByteArray:
        """A saved window, splitter or header state; empty where there is none."""
        value = self._store.value(f"states/{name}")
        return value if isinstance(value, QByteArray) else QByteArray()

    def set_state(self, name: str, state: QByteArray) -> None:
        """Remember a window, splitter or header state."""
        self._store.setValue(f"states/{name}", state)

    def flush(self) -> None:
        """Write what is pending to the file."""
        self._store.sync()
