"""The figures of a plan beside those of closest-first, and what they are weighed by."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from bindery_stock.bench.books.share_out import Shared
from bindery_stock.bench.books.share_words import (
    figures_words,
    gain_words,
    kept_for_words,
    sum_words,
    tally,
)
from bindery_stock.bench.books.shelf_order import names
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.share_weights import ShareWeights, keep_weights, kept_weights
from bindery_stock.desktop.books.weights_dialog import WeightsDialog
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.forms.form_dialog import open_over
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip


class ShareFigures(QWidget):
    """Emits ``weighed()`` when the binder has changed what counts."""

    weighed = Signal()

    def __init__(self, books: BenchBooks) -> None:
        """Begin with no plan."""
        super().__init__()
        self._books = books
        self._set: str | None = None
        self._shared: Shared | None = None
        self.weights = ShareWeights()
        self.dialog: WeightsDialog | None = None
        self.gain = plain_label(size=TypeSize.HEAD)
        self.plan = plain_label()
        self.closest = plain_label()
        self.kept_for = plain_label(muted=True)
        self.weights_button = quiet_button("What it counts…")
        self.weights_button.setToolTip(
            plain_tip("The prices by which one plan is better than another, and volumes to come.")
        )
        self.weights_button.clicked.connect(self._show_weights)
        head = QHBoxLayout()
        head.addWidget(self.gain, 1)
        head.addWidget(self.weights_button)
        beside = QHBoxLayout()
        beside.setSpacing(GRID * 6)
        beside.addWidget(self.plan, 1)
        beside.addWidget(self.closest, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 3)
        column.addLayout(head)
        column.addLayout(beside)
        column.addWidget(self.kept_for)

    def begin(self, book_set: str | None) -> None:
        """For this set, weighed as it was last."""
        self._set = book_set
        self.weights = kept_weights(self._books.session, book_set)

    def _show_weights(self) -> None:
        told = self._shared.plan.reckoning if self._shared is not None else None
        self.dialog = WeightsDialog(self.weights, told, self)
        self.dialog.weighed.connect(self._weigh)
        open_over(self.dialog)

    def _weigh(self, weights: ShareWeights) -> None:
        self.weights = weights
        keep_weights(self._books.session, self._set, weights)
        self.weighed.emit()

    def show_shared(self, shared: Shared | None) -> None:
        """Show both ways, or nothing."""
        self._shared = shared
        for label in (self.gain, self.plan, self.closest, self.kept_for):
            label.setText("")
            label.setToolTip("")
        self.kept_for.hide()
        if shared is None:
            return
        called = names(self._books.repairs)
        made, first, unread = shared.plan, shared.plan.closest_first, shared.asked.uncoloured
        plan = tally(shared.choices, made.objective, unread, made.reckoning)
        closest = tally(shared.closest, first.objective, unread, first.reckoning)
        self.gain.setText(gain_words(plan, closest))
        self.plan.setText(f"This plan\n{figures_words(plan, called)}")
        self.closest.setText(f"Closest first\n{figures_words(closest, called)}")
        for label in (self.plan, self.closest):
            label.setToolTip(plain_tip(sum_words(plan, closest, shared.prices)))
        kept = kept_for_words(shared)
        self.kept_for.setText(kept)
        self.kept_for.setVisible(bool(kept))
