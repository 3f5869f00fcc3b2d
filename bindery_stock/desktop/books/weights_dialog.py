"""What a sharing-out counts, to be seen and changed: each price, what it does, what it cost."""

from collections.abc import Mapping
from dataclasses import asdict

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from bindery_stock.bench.books.share_prices import GREATEST, PRICES, spent_words
from bindery_stock.desktop.books.share_weights import ShareWeights
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.forms.form_dialog import FormDialog
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.errors import EntryError
from bindery_stock.matching import Prices, Reckoning

_MOST_TO_COME = 200
_BROAD = GRID * 170


class WeightsDialog(FormDialog):
    """Emits ``weighed(object)`` with the ``ShareWeights`` where they differ."""

    weighed = Signal(object)

    def __init__(self, weights: ShareWeights, told: Reckoning | None, parent: QWidget) -> None:
        """Begin with these; ``told`` is the reckoning of the plan in hand, if there is one."""
        super().__init__("What sharing out counts", "Share out by this", parent)
        self.setMinimumWidth(_BROAD)
        self._weights = weights
        spent: Mapping[str, str] = spent_words(told) if told is not None else {}
        self.remark(
            "Less is better. Every price is in ΔE00 of a spine that is wholly seen: a price of 4 "
            "is worth 4 ΔE00 of shade.",
            whole_width=True,
        )
        self.entries: dict[str, NumberEntry] = {}
        for one in PRICES:
            entry = NumberEntry(one.name, 0.0, GREATEST)
            self.add(one.name, entry, one.key)
            cost = f"\nIn this plan: {spent[one.key]}" if one.key in spent else ""
            self.remark(f"{one.does}{cost}")
            self.entries[one.key] = entry
        self._show(weights.prices)
        self.own_button = quiet_button("Our own prices again")
        self.own_button.clicked.connect(lambda: self._show(Prices()))
        self.form.addRow("", self.own_button)
        self.to_come = NumberEntry("Volumes to come", 0.0, _MOST_TO_COME)
        self.to_come.show_number(weights.to_come or None, 0)
        self.to_come.setPlaceholderText("none")
        self.add("Volumes to come", self.to_come)
        self.remark(
            "Volumes of this set that are not surveyed yet. Cloth is kept free for the spine of "
            "each: as large as the largest here and 3 mm more, at half its weight. Nothing of it "
            "is reserved."
        )
        self.spare = QCheckBox("Keep cloth for a spare strip, too")
        self.spare.setChecked(weights.spare)
        self.form.addRow("", self.spare)

    def _show(self, prices: Prices) -> None:
        for key, value in asdict(prices).items():
            self.entries[key].setText(f"{value:g}")
            self.entries[key].check()

    def take(self) -> None:
        """Tell what stands here, where it differs. Raises ``EntryError``."""
        own = asdict(Prices())
        values = {key: entry.value() for key, entry in self.entries.items()}
        prices = Prices(**{k: own[k] if v is None else v for k, v in values.items()})
        count = self.to_come.value() or 0.0
        if not count.is_integer():
            raise EntryError("Volumes to come", "Volumes to come: count whole volumes only.")
        found = ShareWeights(prices, int(count), self.spare.isChecked())
        if found != self._weights:
            self.weighed.emit(found)
