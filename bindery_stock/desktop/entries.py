"""Entries for lengths and plain numbers: read strictly, echoed, and marked where wrong."""

import math

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit

from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.units import LengthStyle


class Entry(QLineEdit):
    """A line entry that can be wrong. Emits ``understood()`` when what stands in it can be used.

    A wrong entry is framed with dashes and says in its tip what is wrong and how to mend it.
    """

    understood = Signal()

    def __init__(self, field: str) -> None:
        """Name the entry as the user sees it."""
        super().__init__()
        self.field = field
        self.setAccessibleName(field)
        self.textEdited.connect(self._edited)

    def value(self) -> float | None:
        """What is typed, or None where the entry is empty. Raises ``EntryError``."""
        raise NotImplementedError

    def _tip(self) -> str:
        return ""

    def _edited(self) -> None:
        if self.check() is None:
            self.understood.emit()

    def check(self) -> BinderyError | None:
        """Mark the entry as right or wrong and return what is wrong."""
        trouble: BinderyError | None = None
        try:
            self.value()
        except BinderyError as error:
            trouble = error
        self.setProperty("wrong", trouble is not None)
        self.style().unpolish(self)
        self.style().polish(self)
        self.setToolTip(plain_tip(str(trouble) if trouble else self._tip()))
        self.setAccessibleDescription(str(trouble) if trouble else "")
        return trouble


class LengthEntry(Entry):
    """A length in the user's unit; either unit may be typed. The other unit stands in the tip."""

    def __init__(self, field: str, style: LengthStyle, *, allow_zero: bool = False) -> None:
        """Read and show lengths in this style."""
        super().__init__(field)
        self._style = style
        self._allow_zero = allow_zero
        self._shown: tuple[str, float] | None = None
        """What was put in and the exact length it stands for, so that nothing is rounded twice."""
        self._offer: tuple[str, float] | None = None
        """What was offered, and the length in mm that is needed."""
        self.setPlaceholderText(style.show(0).replace("0", "–"))

    def value(self) -> float | None:
        """The length in mm."""
        if not self.text().strip():
            return None
        if self._shown is not None and self._shown[0] == self.text():
            return self._shown[1]
        return self._style.parse(self.text(), field=self.field, allow_zero=self._allow_zero)

    def show_length(self, mm: float) -> None:
        """Put a length in."""
        self.setText(self._style.show(mm))
        self._shown = (self.text(), mm)
        self._offer = None
        self.check()

    def offer(self, mm: float) -> None:
        """Put in a length to begin with that serves where ``mm`` is needed, as one writes it."""
        self.show_length(self._style.offered(mm))
        self._offer = (self.text(), mm)

    def restyle(self, style: LengthStyle) -> None:
        """Show the same length in another unit; what was only offered is offered anew."""
        mm = None if self.check() else self.value()
        self._style = style
        if self._offer is not None and self._offer[0] == self.text():
            self.offer(self._offer[1])
        elif mm is not None:
            self.show_length(mm)

    def _tip(self) -> str:
        mm = self.value()
        return self._style.other(mm) if mm is not None else ""


class NumberEntry(Entry):
    """A plain number between two bounds."""

    def __init__(self, field: str, least: float, greatest: float) -> None:
        """Accept what lies between the bounds, themselves included."""
        super().__init__(field)
        self._least, self._greatest = least, greatest

    def value(self) -> float | None:
        """The number; both point and comma are decimal signs, both minus signs are minus."""
        text = self.text().strip().replace("−", "-").replace(",", ".")
        if not text:
            return None
        try:
            number = float(text)
        except ValueError:
            number = math.nan
        if not self._least <= number <= self._greatest:
            raise EntryError(
                self.field,
                f"{self.field}: write a number from {self._least:g} to {self._greatest:g}.",
            )
        return number

    def show_number(self, number: float | None, decimals: int = 1) -> None:
        """Put a number in; none empties it."""
        self.setText("" if number is None else f"{number:.{decimals}f}")
        self.check()
