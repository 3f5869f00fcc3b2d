"""What is looked for on the shelf: words, and filters beside them."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from bindery_stock.bench.shelf.fits import NARROWEST
from bindery_stock.bench.shelf.search import Catalogue, Looking, natural_key
from bindery_stock.colour import FAMILIES
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import StockPiece
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle

_ENTRY_CHARACTERS = 9
_COMBO_CHARACTERS = 9


class Choices(QComboBox):
    """One word of several, or any. Emits ``currentIndexChanged`` as every combo box does."""

    def __init__(self, name: str, any_text: str) -> None:
        """Begin with any."""
        super().__init__()
        self._any = any_text
        self.setAccessibleName(name)
        self.setToolTip(plain_tip(name))
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(_COMBO_CHARACTERS)
        self.addItem(any_text, None)

    @property
    def value(self) -> str | None:
        """The word chosen; None for any."""
        chosen = self.currentData()
        return None if chosen is None else str(chosen)

    def offer(self, words: Iterable[tuple[str, str]]) -> None:
        """Offer these words, each with its text; the one chosen stays, even if no piece has it."""
        chosen = self.value
        wanted = list(words)
        if chosen is not None and chosen not in [word for word, _ in wanted]:
            wanted.append((chosen, chosen or self.currentText()))
        self.blockSignals(True)
        self.clear()
        self.addItem(self._any, None)
        for word, text in wanted:
            self.addItem(text, word)
        self.choose(chosen)
        self.blockSignals(False)

    def choose(self, word: str | None) -> None:
        """Choose a word that is offered, or any."""
        known = [self.itemData(index) for index in range(self.count())]
        self.setCurrentIndex(known.index(word) if word in known else 0)


class Finder(QWidget):
    """The search line and the filters. Emits ``changed()`` at every touch."""

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Ask for nothing."""
        super().__init__()
        self.words = QLineEdit()
        self.words.setPlaceholderText("Find: red rib, tin 2, C-0042 …")
        self.words.setAccessibleName("Find pieces by words")
        self.words.setClearButtonEnabled(True)
        self.kind = Choices("Kind", "Any kind")
        self.family = Choices("Colour family", "Any colour")
        self.pattern = Choices("Grain pattern", "Any grain")
        self.place = Choices("Place", "Any place")
        self.height_entry = self._size_entry("Least height", "tall", lengths)
        self.width_entry = self._size_entry("Least width", "wide", lengths)
        self.clear_button = quiet_button("Clear")
        self.clear_button.setToolTip("Show every piece again.")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID * 2)
        row.addWidget(self.words, 1)
        for widget in (*self._combos, self.height_entry, self.width_entry, self.clear_button):
            row.addWidget(widget)
        self._listen()
        self._show_clear()

    def _size_entry(self, field: str, word: str, lengths: LengthStyle) -> LengthEntry:
        entry = LengthEntry(field, lengths, allow_zero=True)
        entry.setPlaceholderText(f"≥ {word}")
        metrics = entry.fontMetrics()
        entry.setMaximumWidth(metrics.averageCharWidth() * _ENTRY_CHARACTERS + GRID * 6)
        axis = "along the warp" if word == "tall" else "across it"
        entry.setToolTip(
            plain_tip(
                f"{field}: a part at least this {word} {axis} can be cut from the piece in one, "
                "clear of holes and flaws. With only one of the two given, the strip is "
                f"{NARROWEST:g} mm."
            )
        )
        return entry

    @property
    def _combos(self) -> Sequence[Choices]:
        return (self.kind, self.family, self.pattern, self.place)

    def _listen(self) -> None:
        self.words.textChanged.connect(self._touched)
        for combo in self._combos:
            combo.currentIndexChanged.connect(self._touched)
        for entry in (self.height_entry, self.width_entry):
            entry.textChanged.connect(self._touched)
        self.clear_button.clicked.connect(self.clear)

    def _touched(self) -> None:
        self._show_clear()
        self.changed.emit()

    def _show_clear(self) -> None:
        self.clear_button.setEnabled(self.looking.asks)

    @property
    def looking(self) -> Looking:
        """What is asked for now. A size that cannot be read asks for nothing and shows as wrong."""
        kind = self.kind.value
        return Looking(
            words=self.words.text(),
            kind=Kind(kind) if kind else None,
            family=self.family.value,
            pattern=self.pattern.value,
            place=self.place.value,
            height=_length(self.height_entry),
            width=_length(self.width_entry),
        )

    def clear(self) -> None:
        """Ask for nothing."""
        self.blockSignals(True)
        for entry in (self.words, self.height_entry, self.width_entry):
            entry.clear()
        for combo in self._combos:
            combo.choose(None)
        self.blockSignals(False)
        self._touched()

    def restyle(self, lengths: LengthStyle) -> None:
        """Read lengths in another unit."""
        for entry in (self.height_entry, self.width_entry):
            entry.restyle(lengths)

    def offer(self, pieces: Sequence[StockPiece], catalogue: Catalogue) -> None:
        """Offer what there is among these pieces."""
        kinds = {piece.kind for piece in pieces}
        self.kind.offer([(str(kind), str(kind)) for kind in Kind if kind in kinds])
        families = {catalogue.family(piece) for piece in pieces}
        offered = [(name, name) for name in FAMILIES if name in families]
        self.family.offer(offered + [("", "not read")] * ("" in families))
        self.pattern.offer(_sorted({piece.pattern for piece in pieces}, "no grain noted"))
        self.place.offer(_sorted({piece.place for piece in pieces}, "no place noted"))


def _length(entry: LengthEntry) -> float:
    return 0.0 if entry.check() else entry.value() or 0.0


def _sorted(words: set[str], without: str) -> list[tuple[str, str]]:
    named = [(word, word) for word in sorted(words - {""}, key=natural_key)]
    return named + [("", without)] * ("" in words)
