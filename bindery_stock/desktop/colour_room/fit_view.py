"""What a photograph of a target came to: the verdict, the 24 patches, and what was tried."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.colour_room.target_fit import (
    dropped_words,
    model_words,
    patch_words,
    trust_words,
)
from bindery_stock.colour import CAPTURE_ADVICE, PhotoVerdict, TargetReport
from bindery_stock.desktop.colour_room.fit_chart import FitChart
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.tips import plain_tip

_HEADS = {
    PhotoVerdict.GOOD: "Good",
    PhotoVerdict.USABLE: "Usable",
    PhotoVerdict.RETAKE: "Retake",
}


class FitView(QWidget):
    """Shows one report."""

    def __init__(self) -> None:
        """Begin with nothing to show."""
        super().__init__()
        self._report: TargetReport | None = None
        self.verdict = plain_label(size=TypeSize.TITLE)
        self.sentence = plain_label()
        self.advice = plain_label()
        self.chart = FitChart()
        self.chart.chosen.connect(self._tell_patch)
        self.legend = plain_label(size=TypeSize.SMALL, muted=True)
        self.legend.setText(
            "Each pair: the reference, then what was found while the patch was left out. Under it "
            "that ΔE00."
        )
        self.patch = plain_label()
        self.dropped = plain_label()
        self.trust = plain_label(muted=True)
        self.models = QWidget()
        self._rows = QGridLayout(self.models)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setHorizontalSpacing(GRID * 3)
        self._rows.setVerticalSpacing(2)
        self._rows.setColumnStretch(0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        for widget in (
            self.verdict,
            self.sentence,
            self.advice,
            self.chart,
            self.patch,
            self.legend,
            self.dropped,
            _heading("How far to trust it"),
            self.trust,
            _heading("Corrections tried, by the mean ΔE00 of the patches that served"),
            self.models,
        ):
            column.addWidget(widget)

    def show_report(self, report: TargetReport) -> None:
        """Show this report."""
        self._report = report
        self.verdict.setText(_HEADS[report.verdict])
        self.sentence.setText(report.sentence.split(". ", 1)[-1])
        self.sentence.setToolTip(plain_tip(report.sentence))
        self.advice.setText("\n".join(f"– {line}" for line in what_to_change(report)))
        self.advice.setVisible(bool(self.advice.text()))
        self.chart.show_report(report)
        dropped = dropped_words(report)
        self.dropped.setText("Dropped.  " + ".  ".join(dropped) + "." if dropped else "")
        self.dropped.setVisible(bool(dropped))
        self.trust.setText("\n".join(trust_words(report)))
        self._show_models(report)

    def _show_models(self, report: TargetReport) -> None:
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for row, (name, error, chosen) in enumerate(model_words(report)):
            label = plain_label(muted=not chosen)
            label.setText(f"{name}  (chosen)" if chosen else name)
            figure = QLabel(f"{error:.1f}")
            figure.setTextFormat(Qt.TextFormat.PlainText)
            if not chosen:
                figure.setProperty("role", "muted")
            self._rows.addWidget(label, row, 0)
            self._rows.addWidget(figure, row, 1, Qt.AlignmentFlag.AlignRight)

    def _tell_patch(self, number: int) -> None:
        if self._report is not None:
            self.patch.setText(patch_words(self._report, number))


def what_to_change(report: TargetReport) -> tuple[str, ...]:
    """The advice that this photograph calls for; where it must be retaken, all of it."""
    if report.verdict is PhotoVerdict.RETAKE:
        return (*report.advice, *CAPTURE_ADVICE)
    return report.advice


def _heading(text: str) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    sized(label, TypeSize.BODY, bold=True)
    return label
