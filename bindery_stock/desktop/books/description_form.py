"""How a volume and its binding are described: imprint, shelfmark, and a row for each feature."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QWidget

from bindery_stock.bench.books.description_entries import Feature, features
from bindery_stock.desktop.books.form_rows import few_lines
from bindery_stock.desktop.column import entry_name
from bindery_stock.desktop.forms.form_dialog import typed_or_chosen
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.trade.description import NOT_DESCRIBED, Description


class DescriptionForm(QWidget):
    """Filled in with a survey, or for a whole set."""

    def __init__(self, *, of_set: bool = False) -> None:
        """Begin with nothing said; ``of_set`` leaves out what is each copy's own."""
        super().__init__()
        self._was = NOT_DESCRIBED
        self.imprint, self.imprint_date = QLineEdit(), QLineEdit()
        self.shelfmark = QLineEdit()
        self.former_repairs = few_lines("Former repairs")
        self.features = {one.field: _offered(one) for one in features()}
        self.imprint.setPlaceholderText("place and publisher")
        self.imprint_date.setPlaceholderText("1868")
        self.imprint_date.setMaximumWidth(GRID * 24)
        for entry, name in (
            (self.imprint, "Imprint"),
            (self.imprint_date, "Date of the imprint"),
            (self.shelfmark, "Shelfmark"),
        ):
            entry.setAccessibleName(name)
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setHorizontalSpacing(GRID * 3)
        form.setVerticalSpacing(GRID + 2)
        imprint = QHBoxLayout()
        imprint.setSpacing(GRID * 3)
        imprint.addWidget(self.imprint, 1)
        imprint.addWidget(entry_name("of"))
        imprint.addWidget(self.imprint_date)
        form.addRow("Imprint", imprint)
        form.addRow("Shelfmark", self.shelfmark)
        for one in features():
            form.addRow(_name(one, self.features[one.field]), self.features[one.field])
        form.addRow("Former repairs", self.former_repairs)
        for own in (self.shelfmark, self.former_repairs):
            form.setRowVisible(own, not of_set)

    def show_description(self, description: Description) -> None:
        """Show what is known; nothing of the one before stays."""
        self._was = description
        self.imprint.setText(description.imprint)
        self.imprint_date.setText(description.imprint_date)
        self.shelfmark.setText(description.shelfmark)
        self.former_repairs.setPlainText(description.former_repairs)
        for field, box in self.features.items():
            box.setCurrentText(getattr(description, field))

    def description(self) -> Description:
        """What stands in the entries."""
        return replace(
            self._was,
            imprint=self.imprint.text().strip(),
            imprint_date=self.imprint_date.text().strip(),
            shelfmark=self.shelfmark.text().strip(),
            former_repairs=self.former_repairs.toPlainText().strip(),
            **{field: box.currentText().strip() for field, box in self.features.items()},
        )


def _offered(feature: Feature) -> QComboBox:
    """The words of a feature, each with its help; any other may be typed."""
    box = typed_or_chosen(feature.offered)
    for row, (_word, told) in enumerate(feature.terms):
        box.setItemData(row, plain_tip(told), Qt.ItemDataRole.ToolTipRole)
    box.setToolTip(plain_tip(feature.tip))
    box.setAccessibleName(feature.words)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(20)
    return box


def _name(feature: Feature, box: QComboBox) -> QLabel:
    label = entry_name(feature.words)
    label.setBuddy(box)
    label.setToolTip(plain_tip(feature.tip))
    return label
