"""The cut sheet: where the parts lie, what is left, and the word to cut."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QSize, QTimer, Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QPushButton, QWidget

from bindery_stock.bench.match.candidates import Judge, ruling_line
from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.cut_words import (
    Prospect,
    more_words,
    prospect,
    remains_of,
    shear_words,
    told_on_paper,
    waste_told,
)
from bindery_stock.bench.match.placed_part import PartPlaced
from bindery_stock.bench.match.share_used import used_words
from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.cut_sheet.cut_paper_dialog import CutPaperDialog
from bindery_stock.desktop.cut_sheet.layout import laid_out
from bindery_stock.desktop.cut_sheet.parts_panel import PartsPanel
from bindery_stock.desktop.cut_sheet.placement_view import PlacementView
from bindery_stock.desktop.cut_sheet.remains_list import RemainsList
from bindery_stock.desktop.cut_sheet.ways_box import SLIVER, WAY, saved_sliver, saved_way, ways_box
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import BinderyError
from bindery_stock.matching import Lying, Part
from bindery_stock.shape import KnifeWay, is_sheet
from bindery_stock.shape.knife_way import SLIVER_MM
from bindery_stock.stock import Cutting, StockPiece
from bindery_stock.trade import Use
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Form

_SHARE = 0.9
"""Of the window the sheet lies over, each way."""
_SETTLE_MS = 150
"""A pause in dragging before what is left is measured again."""


class CutSheet(StockDialog):
    """One sitting at a piece. Emits ``cut_wanted(Cutting)`` when the word is given, and
    ``length_wanted(float)`` where a length is to be taken off a roll first, in mm.
    """

    cut_wanted = Signal(object)
    length_wanted = Signal(float)

    def __init__(
        self,
        session: Session,
        previews: Previews,
        piece: StockPiece,
        part: Part,
        placement: Lying,
        parent: QWidget,
        *,
        use: Use | None = None,
        reason: str = "",
    ) -> None:
        """Show where the part lies, and what the rules say to cutting it for this ``use``.

        ``reason`` is what the binder has written already for going on against them.
        """
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None
        self.piece = piece
        self.setWindowTitle(f"Cut from {piece.code}")
        lengths = session.settings.lengths
        self.view = PlacementView(self._begun(part, placement), lengths, previews)
        self.parts = PartsPanel(lengths)
        self.purpose = QLineEdit(part.name)
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.knife = LengthEntry("Lost to the knife", lengths, allow_zero=True)
        self.knife.show_length(0)
        self.sliver = LengthEntry("Slivers are under", lengths, allow_zero=True)
        self.sliver.show_length(saved_sliver(session))
        self.ways = ways_box(piece, self.plan.way)
        self.cuts = plain_label("", muted=True)
        self.state = plain_label("")
        self._said = Judge(session.stockroom.today, session.rules, use).ruling(piece)
        self.ruling = plain_label(ruling_line(self._said))
        self.used, self.waste, self.more = (plain_label("", muted=True) for _ in range(3))
        self.remains = RemainsList(lengths)
        self.length_button = QPushButton()
        self.length_button.setVisible(piece.form is Form.ROLL and is_sheet(piece.outline))
        self.cut_button = next_button("Cut")
        self.cut_button.setDefault(True)
        self.paper_button = QPushButton("On &paper…")
        self.paper_button.setToolTip("The plan with its measures, and at full size to lay under.")
        self.cancel_button = QPushButton("Leave it whole")
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self.setLayout(laid_out(self, session.rules))
        self._show_ruling(reason)
        self._listen()
        self.resize((parent.size() * _SHARE).expandedTo(QSize(GRID * 270, GRID * 176)))
        self._refresh()
        self.view.setFocus()

    def _begun(self, part: Part, placement: Lying) -> CutPlan:
        held = self._session.stockroom.pieces.reservations(self.piece.code)
        others = tuple(r for r in held if r.corners and r.purpose != part.name)
        laid = (PartPlaced(part, placement),)
        sliver = saved_sliver(self._session)
        plan = CutPlan(self.piece, laid, held=others, sliver=sliver).settled()
        plan = replace(plan, way=saved_way(self._session))
        return plan if plan.fits else replace(plan, way=KnifeWay.IN)

    def _show_ruling(self, reason: str) -> None:
        self.ruling.setAccessibleName("What the rules say")
        self.ruling.setVisible(bool(self.ruling.text()))
        if self._said.leave is Leave.NEEDS_REASON:
            self.want_reason(reason)

    def _listen(self) -> None:
        self.view.changed.connect(self._refresh)
        self.view.refused.connect(self.state.setText)
        self.purpose.textEdited.connect(self._rename)
        self.knife.understood.connect(self._change_knife)
        self.sliver.understood.connect(self._change_sliver)
        self.remains.ticked.connect(self._tell_waste)
        self.ways.activated.connect(self._change_way)
        self.parts.chosen.connect(lambda row: self.view.show_plan(self.plan, row))
        self.parts.add_wanted.connect(self._add)
        self.parts.out_wanted.connect(self._take_out)
        self.parts.anew_wanted.connect(lambda: self._try(self.plan.laid_anew))
        self.parts.turn_wanted.connect(self.view.turn_on)
        self.parts.small_turn_wanted.connect(self.view.turn_by)
        self.length_button.clicked.connect(self._take_length)
        self.act_on(self.cut_button)
        self.paper_button.clicked.connect(self._on_paper)
        self.cancel_button.clicked.connect(self.reject)
        self._settle.timeout.connect(self._measure)

    @property
    def plan(self) -> CutPlan:
        """The sitting as it stands."""
        return self.view.plan

    @property
    def boxes(self) -> list[QCheckBox]:
        """One tick box for each remain."""
        return self.remains.boxes

    def cutting(self) -> Cutting:
        """The cut as the sheet stands. Raises one of our errors."""
        return self.plan.cutting(self.remains.thrown_away)

    def _refresh(self) -> None:
        plan, active = self.plan, self.view.active
        self.state.setText(self.view.said())
        self.cut_button.setEnabled(plan.fits and not self._said.is_stopped)
        self.parts.show_plan(plan, active, turn=self.view.next_turn())
        name = plan.laid[active].part.name
        if self.purpose.text().strip() != name:  # blanks at the end are being typed
            self.purpose.setText(name)
        lengths = self._session.settings.lengths
        sheared = plan.sheared if plan.by_shears else None
        self.cuts.setText("\n".join(shear_words(sheared.cuts, lengths) if sheared else []))
        self.cuts.setVisible(bool(self.cuts.text()))
        self.length_button.setText(f"Take {lengths.show(self._length())} off the roll first")
        self.used.setText(used_words(plan.used) if plan.fits else "")
        self.used.setVisible(plan.fits)
        sliver = self._sliver()
        if not plan.fits:
            self.remains.show_waiting()
            self.more.setText("")
        elif self.remains.show_remains(remains_of(plan, sliver), lengths.show(sliver)):
            self.more.setText("")
            self.view.show_trims(())
            self._settle.start()
        self._tell_waste()

    def _tell_waste(self) -> None:
        """What is neither part nor goes back: the slivers thrown away, and what the knife takes."""
        self.waste.setText(waste_told(self.plan, self.remains.thrown_away))
        self.waste.setVisible(bool(self.waste.text()))

    def _measure(self) -> None:
        """What can still be got out of what is left: worked out away from the window."""
        if self._job is not None:
            self._job.stop()
        plan, part = self.plan, self.plan.laid[self.view.active].part
        if not plan.fits:
            return

        def done(found: Prospect) -> None:
            self._job = None
            self.remains.show_prospect(found)
            self.view.show_trims(found.trims)
            self.more.setText(more_words(found, part, self._session.settings.lengths))

        self._job = self._session.jobs.run(
            lambda _job: prospect(plan.remains, plan.piece.flaws, part), owner=self, done=done
        )

    # Changing the plan

    def _try(self, change: Callable[[], CutPlan]) -> None:
        """Make a change; what stands in its way is said."""
        try:
            plan = change()
        except BinderyError as error:
            self.state.setText(str(error))
            return
        self.view.show_plan(plan)

    def _add(self, width: float, height: float) -> None:
        model = self.plan.laid[self.view.active].part
        same = (model.width, model.height) == (width, height)
        part = replace(model, width=width, height=height, zones=model.zones if same else ())
        count = len(self.plan.laid)
        self._try(lambda: self.plan.with_more(part))
        if len(self.plan.laid) > count:
            self.view.show_plan(self.plan, count)

    def _take_out(self) -> None:
        self._try(lambda: self.plan.without(self.view.active))

    def _rename(self, text: str) -> None:
        plan, active = self.plan, self.view.active
        laid = list(plan.laid)
        laid[active] = replace(laid[active], part=replace(laid[active].part, name=text.strip()))
        self.view.show_plan(replace(plan, laid=tuple(laid)))

    def _change_knife(self) -> None:
        self.view.show_plan(replace(self.plan, knife=self.knife.value() or 0.0))

    def _change_sliver(self) -> None:
        self._session.settings.set_text(SLIVER, f"{self._sliver():g}")
        self.view.show_plan(replace(self.plan, sliver=self._sliver()))

    def _change_way(self, _row: int) -> None:
        wanted = KnifeWay(self.ways.currentData())
        self._try(lambda: self.plan.cut_by(wanted))
        self.ways.setCurrentIndex(self.ways.findData(self.plan.way))  # as it was where refused
        if self.plan.way is wanted:
            self._session.settings.set_text(WAY, wanted.value)

    def _sliver(self) -> float:
        value = SLIVER_MM if self.sliver.check() else self.sliver.value()
        return SLIVER_MM if value is None else value

    def _length(self) -> float:
        """The length of the roll that the part in hand takes, its margin included."""
        laid = self.plan.laid[self.view.active]
        _left, low, _right, high = laid.placement.polygon.bounds
        return float(high - low + 2 * laid.part.margin)

    # The word

    def _take_length(self) -> None:
        self.tell_by(self._tell_length)

    def _tell_length(self) -> None:
        self.length_wanted.emit(self._length())

    def _on_paper(self) -> None:
        try:
            cutting, lengths = self.cutting(), self._session.settings.lengths
            told = told_on_paper(self.plan, self.remains.thrown_away, lengths)
            dialog = CutPaperDialog(self._session, self.piece, cutting, told, self)
        except BinderyError as error:
            self.state.setText(str(error))
            return
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def take(self) -> None:
        """Tell the cut as the sheet stands. Raises one of our errors."""
        self.cut_wanted.emit(self.cutting())

    def say_wrong(self, words: str, field: str = "") -> None:
        """A refusal is said where the state of the plan stands; the plan stays as it was laid.

        What wants a written reason is said over the line for it.
        """
        entry = self.reason_entry
        if field == "Reason" and entry is not None:
            self.ruling.setText(f"{SIGN} {words}")
            self.ruling.show()
            entry.setFocus()
        elif words:
            self.state.setText(words)
        if field == "Purpose":
            self.purpose.setFocus()
