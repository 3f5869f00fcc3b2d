"""The Match place: the part at the left, what serves it at the right, closest first."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QPushButton

from bindery_stock.bench.books.part_list import as_matched
from bindery_stock.bench.colour_room.side_by_side import held_by
from bindery_stock.bench.match.candidates import MatchAnswer
from bindery_stock.bench.shelf.count_of_size import LAST_PART, kept
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.look import TypeSize
from bindery_stock.desktop.match.answer_list import AnswerList
from bindery_stock.desktop.match.commands import match_commands
from bindery_stock.desktop.match.cutter import A_PART, Cutter
from bindery_stock.desktop.match.errand import Errand, Reserved
from bindery_stock.desktop.match.lay_over import LayOver
from bindery_stock.desktop.match.layout import button_row, laid_out
from bindery_stock.desktop.match.line_up_road import LineUpRoad, Sought
from bindery_stock.desktop.match.model import AnswerModel, CandidateRow, RowKind, answer_words
from bindery_stock.desktop.match.part_drawing import PartDrawing
from bindery_stock.desktop.match.part_form import PartForm
from bindery_stock.desktop.match.reason_line import ReasonLine
from bindery_stock.desktop.match.seeker import Seeker
from bindery_stock.desktop.match.target import SoughtPanel
from bindery_stock.desktop.match.trust import Trust
from bindery_stock.desktop.match.want_offer import WantOffer
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.row_list import ROW_ROLE
from bindery_stock.desktop.screen import EitherOr, EmptyState, Screen, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.matching import Part
from bindery_stock.stock import BookPart, Changes

_SETTLE_MS = 200
"""A pause in typing before the shelf is searched again."""
_WHAT_FOR = (
    "Give the size of the part at the left, and the colour sought: typed, or read from a "
    "photograph of the book. Every piece that truly holds the part is then shown here, "
    "closest first."
)


class MatchScreen(Screen):
    """Seeks the closest piece that is large enough, and cuts it."""

    title = "Match"
    icon = "match"

    def __init__(self, session: Session, previews: Previews) -> None:
        """Build the part and the answer."""
        super().__init__(session)
        self._part: Part | None = None
        self._reserved: Reserved | None = None
        """The piece reserved for what is sought: it stays in the hand until it is cut."""
        self._is_new = False
        """Whether something else is sought than before: the closest comes into the hand."""
        self._seeker = Seeker(session, self)
        self.errand = Errand(session)
        self.cutter = Cutter(session, previews, self.errand, self)
        self.target = SoughtPanel(session)
        self.form = PartForm(session.settings.lengths)
        self.drawing = PartDrawing()
        self.model = AnswerModel(self)
        self.list = AnswerList(self.model, previews)
        self.lay_over = LayOver(previews, self)
        self.lay_over.closed.connect(self.list.setFocus)
        self.cutter.closed.connect(self.list.setFocus)
        self.errand.dropped.connect(self.form.ask_purpose_anew)
        self.errand.uncut.connect(self._match_part)
        self.answer_line = plain_label(size=TypeSize.TITLE)
        self.empty = EmptyState("What has to be cut?", _WHAT_FOR, [])
        self.body = EitherOr(self.empty, self.list)
        self.trust = Trust(session, self)
        self.reason_line = ReasonLine(session)
        self.want_offer = WantOffer(session)
        self.want_button = self.want_offer.button
        self.over_button = QPushButton("Lay over the target")
        self.reserve_button = QPushButton("Reserve")
        self.cut_button = next_button("Cut…")
        self.road = LineUpRoad(session, previews, self, self.cut_button, self._sought)
        self._settle = QTimer(self, singleShot=True, interval=_SETTLE_MS)
        self._lay_out()
        self._listen()
        self._refresh_buttons()

    def _lay_out(self) -> None:
        # The part stands first: however small the window, it is seen while it is described.
        part = (self.errand, self.drawing, self.form, self.target)
        deeds = (self.want_button, self.reserve_button, self.road.button, self.cut_button)
        buttons = button_row((self.over_button, self.trust.button), deeds)
        answer = (self.answer_line, self.trust.note, self.body, self.reason_line)
        self.setLayout(laid_out(part, self.drawing, answer, self.body, buttons))

    def _listen(self) -> None:
        self._settle.timeout.connect(self.seek)
        self._seeker.answered.connect(self._show_answer)
        self._seeker.placed.connect(self._show_answer)
        for entries in (self.form, self.target):
            entries.changed.connect(self._settle.start)
            entries.changed.connect(self.errand.forget_cut)
        self.form.purpose.textEdited.connect(self.errand.forget_cut)
        self.list.over_wanted.connect(self.lay_chosen_over)
        self.list.reserve_wanted.connect(self.reserve_chosen)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._refresh_buttons())
        self.list.doubleClicked.connect(lambda _index: self.cut_chosen())
        self.want_button.clicked.connect(self.want)
        self.over_button.clicked.connect(self.lay_chosen_over)
        self.trust.button.clicked.connect(self.hold_chosen_beside)
        self.reserve_button.clicked.connect(self.reserve_chosen)
        self.reason_line.entered.connect(self.reserve_chosen)
        self.cut_button.clicked.connect(self.cut_chosen)
        self.road.cut_wanted.connect(self._cut_piece)
        self.session.match_wanted.connect(self._match_piece)
        self.session.part_wanted.connect(self._match_part)

    def commands(self) -> list[Command]:
        """What can be done with the chosen candidate."""
        return match_commands(self)

    def stock_opened(self) -> None:
        """Seek in the other stockroom, in the unit now chosen."""
        self.form.restyle(self.session.settings.lengths)
        self.model.clear()
        self.reason_line.forget()
        self._reserved = None
        self.errand.drop()
        self._settle.start()

    def stock_changed(self, changes: Changes) -> None:
        """Seek again where pieces changed."""
        self.errand.heard()
        if changes.touched.get("piece") or changes.touched.get("reservation"):
            self._settle.start()

    def came_forward(self) -> None:
        """Put the hand on the answer, or on the part while there is none."""
        (self.list if self.model.rowCount() else self.form.across).setFocus()

    def _match_piece(self, code: str) -> None:
        self._is_new = True
        self.reason_line.forget()
        self.target.show_piece(self.session.piece(code))

    def _match_part(self, part: BookPart) -> None:
        """Seek cloth for a part of a volume."""
        self._is_new = True
        self.reason_line.forget()
        self.errand.take(part)
        self.form.ask_purpose(wanted=False)
        self.form.show_part(as_matched(part))
        if part.lab is not None:
            self.target.show_sought(
                part.lab, part.u or 0.0, part.read_by, f"The colour of {part.purpose}."
            )

    # Seeking

    def seek(self) -> None:
        """Hold the part against the shelf, off the GUI thread."""
        self._settle.stop()
        self._seeker.stop()
        if not self.session.is_open:
            return
        try:
            lab = self.target.lab()
            part = self.form.part(lab, self.target.u, self.target.read_by)
        except BinderyError as error:
            self._say_nothing_found(str(error))
            return
        self._part = part
        self.errand.holds(part)
        self.drawing.show_part(part)
        if part is None or (lab is None and part.shown):
            self._say_nothing_found("")
            return
        self.session.settings.set_text(LAST_PART, kept(part))
        if self._reserved is not None and not self._reserved.is_for(part):
            self._reserved = None
        now, use = self._sought(), self.errand.use
        self._seeker.seek(part, use=use, reserved=now.with_reserved, in_hand=now.in_hand)

    def _sought(self) -> Sought:
        named = self.form.purpose.text().strip()
        return Sought(named, self._reserved, self.form.reserved.isChecked())

    def _show_answer(self, answer: MatchAnswer) -> None:
        ranking = answer.ranking
        kept = None if self._is_new else self.chosen()
        # What is new stays so until the cloth under it was looked at: that settles the closest.
        self._is_new = self._is_new and not answer.looked
        pieces = {piece.code: piece for piece in self.session.pieces}
        held = held_by(self.session.stockroom, (match.code for match in ranking.matches))
        lengths = self.session.settings.lengths
        self.model.show(ranking, pieces, lengths, self.session.rules, held, answer.rulings)
        self.trust.show_answer(ranking)
        self.road.show_answer(ranking, held)
        self.want_offer.show_answer(ranking)
        rows = self.model.rows
        matches = [row for row in rows if row.kind is RowKind.MATCH]
        self.answer_line.setText(answer_words(ranking))
        if not rows:
            self._say_nothing_found("No piece on the shelf is of this stuff.")
            self.want_offer.show_answer(ranking)
            return
        self.body.show_only(self.list)
        hand = kept.piece.code if kept and kept.piece else ""
        if matches or kept:
            self.list.setCurrentIndex(self.model.index(self.model.place_of(hand) or 0))
        self._refresh_buttons()

    def _say_nothing_found(self, words: str) -> None:
        self.model.clear()
        self.trust.show_answer(None)
        self.road.show_answer(None, {})
        self.want_offer.show_answer(None)
        self.answer_line.setText("")
        if words:
            self.empty.say("Nothing to show", words)
        else:
            self.empty.say("What has to be cut?", _WHAT_FOR)
        self.body.show_only(self.empty)
        self._refresh_buttons()

    def want(self) -> None:
        """Put the part on the wanted list."""
        if self._part is not None:
            self.want_offer.put(self._part, self.form.purpose.text().strip())

    # The chosen candidate

    def chosen(self) -> CandidateRow | None:
        """The candidate in hand."""
        index = self.list.currentIndex()
        row = index.data(ROW_ROLE) if index.isValid() else None
        return row if isinstance(row, CandidateRow) and row.piece is not None else None

    def may_use(self) -> bool:
        """Whether the candidate in hand can be reserved or cut."""
        row = self.chosen()
        return row is not None and row.match is not None and not self.session.stockroom.read_only

    def _refresh_buttons(self) -> None:
        row = self.chosen()
        self.reason_line.show_row(row)
        self.errand.show_cost(row.piece.code if row and row.piece and row.match else "")
        self.over_button.setEnabled(self.chosen() is not None)
        self.reserve_button.setEnabled(self.may_use())
        self.trust.button.setEnabled(self.may_use())
        self.cut_button.setEnabled(self.may_use())

    def lay_chosen_over(self) -> None:
        """Show the candidate on the colour sought, full size."""
        row = self.chosen()
        if row is not None:
            self.lay_over.show_row(row)

    def hold_chosen_beside(self) -> None:
        """Compare the candidate with the book in one photograph."""
        row = self.chosen()
        if row is not None and row.piece is not None and self.may_use():
            purpose = row.piece.reserved_for or self.form.purpose.text().strip()
            self.trust.hold_beside(row.piece.code, purpose)

    def reserve_chosen(self) -> None:
        """Keep the chosen piece for this part."""
        row = self.chosen()
        if row is None or row.piece is None or row.match is None or not self.may_use():
            return
        purpose = self.form.purpose.text().strip() or A_PART
        if self.errand.has_kept(row.piece.code, purpose):
            return
        chosen = Reserved(row.match.part, row.match, purpose)

        def reserved(_changes: Changes) -> None:
            self._reserved = chosen

        self.errand.reserve(chosen, self.reason_line.reason, reserved, self.reason_line.refuse)

    def line_up(self) -> None:
        """Lay the first six beside the book."""
        self.road.open()

    def _cut_piece(self, code: str) -> None:
        place = self.model.place_of(code)
        if place is not None:
            self.list.setCurrentIndex(self.model.index(place))
            self.cut_chosen()

    def cut_chosen(self) -> None:
        """Show where the part lies, to be confirmed."""
        row = self.chosen()
        if row is None or row.piece is None or row.match is None or not self.may_use():
            return
        match, purpose = row.match, self.form.purpose.text().strip()
        held = self._reserved
        if held is not None and held.match.code == row.piece.code and held.is_for(match.part):
            # What was reserved is what is cut, where it was reserved.
            match, purpose = held.match, purpose or held.purpose
        self.cutter.show_sheet(row.piece, match, purpose, self.reason_line.reason)
