"""What was found each time a piece was held beside a book, and the caution that follows."""

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.colour_room.side_by_side import confirmation_words, metamerism
from bindery_stock.bench.match.closeness import threshold_words
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import KeptConfirmation


class HeldList(QWidget):
    """A line for each light, under the purpose it was held against."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self.caution = plain_label()
        self.caution.setAccessibleName("Caution")
        self.lines = plain_label()
        self.lines.setProperty("role", "muted")
        self.lines.setToolTip(plain_tip(threshold_words()))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.caution)
        column.addWidget(self.lines)
        self.show_held(())

    def show_held(self, held: Sequence[KeptConfirmation]) -> None:
        """Show these, or that there is none."""
        caution = metamerism(held)
        self.caution.setText(f"△ {caution}" if caution else "")
        self.caution.setVisible(bool(caution))
        told: dict[str, list[str]] = {}
        for one in held:
            told.setdefault(one.purpose, []).append(confirmation_words(one))
        lines = ["\n".join((f"Against {purpose}", *found)) for purpose, found in told.items()]
        self.lines.setText(
            "\n".join(lines) or "Not yet held beside a book in one photograph. That is surest."
        )
