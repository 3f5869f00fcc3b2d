"""The outlines of a line-up under the hand: who is who, and how near each is to the book."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.bench.match.line_up_reading import LineUpAnswer, read_scraps
from bindery_stock.bench.match.line_up_words import NOT_TOLD, alone, told_count, told_words
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.line_up.tagged_photo import DRAW, TaggedPhoto
from bindery_stock.desktop.line_up.tell_strip import BOOK, NONE, TellStrip
from bindery_stock.desktop.session import Session
from bindery_stock.errors import NotFound

_CLICK = "Click a scrap, or come to it with Tab, to say which piece it is."


class ToldDesk(QObject):
    """Emits ``changed()`` when more is known, ``refused(Exception)`` for what cannot be, and
    ``all_told()`` when the hand has nothing left to point at.
    """

    changed = Signal()
    refused = Signal(object)
    all_told = Signal()

    def __init__(self, session: Session, parent: QObject) -> None:
        """Begin with nothing seen."""
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None
        self._unread = ""
        self._kept = False
        self.photo = TaggedPhoto()
        self.strip = TellStrip()
        self.seen: LineUpPhoto | None = None
        self.answer: LineUpAnswer | None = None
        self.photo.chosen.connect(self._show_chosen)
        self.photo.typed.connect(self._typed)
        self.strip.told.connect(self.tell)
        self.strip.draw_wanted.connect(self.begin_outline)

    @property
    def scraps(self) -> tuple[LineUpScrap, ...]:
        """Everything outlined."""
        return self.seen.scraps if self.seen is not None else ()

    @property
    def chosen(self) -> str:
        """The piece in hand, else the closest where it stands alone; empty without either."""
        if self.seen is None or self.answer is None:
            return ""
        number = self.photo.number
        code = self.scraps[number].code if number is not None else ""
        first = alone(self.answer)
        return code or (first.code if first is not None else "")

    @property
    def missing(self) -> str:
        """Why nothing can be kept yet; empty where something can."""
        if self.answer is None:
            return self._unread
        return "" if self.answer.kept else f"No scrap is told yet. {NOT_TOLD}"

    def begin(self, seen: LineUpPhoto, laid: Sequence[str]) -> None:
        """Show what was seen; ``laid`` are the codes to choose from."""
        self._kept = False
        self.photo.end_outline()
        self.strip.code.offer(laid)
        self._show(seen)
        self._read()
        self._take_next()

    def forget(self) -> None:
        """Another photograph is shown."""
        if self._job is not None:
            self._job.stop()
        self.seen = self.answer = None
        self.photo.show_seen(None, None)

    def keep(self, words: str) -> None:
        """All that is told is kept; from now on only what to cut is chosen."""
        self._kept = True
        self._show_chosen()
        self.strip.draw_button.setEnabled(False)
        self.strip.closest.setText(words)

    def tell(self, text: str) -> None:
        """The outline in hand is this piece, ``book``, or none that is known."""
        seen, number, code = self.seen, self.photo.number, text.strip().upper()
        if seen is None or number is None or self._kept:
            return
        was_book = seen.scraps[number].is_book
        if code == BOOK.upper():
            self._show(seen.booked(number))
        elif code in {"", NONE}:
            self._point(seen.pointed_at(number, ""), same=not was_book)
        elif any(piece.code == code for piece in self._session.pieces):
            self._point(seen.pointed_at(number, code), same=not was_book)
        else:
            self.refused.emit(NotFound(f"{code} is not on the shelf. Type the code on its label."))
            return
        if self.answer is None:
            self._read()
        self._take_next()

    def begin_outline(self) -> None:
        """Draw the outline of one scrap by hand."""
        if self.seen is not None and not self._kept:
            self.photo.begin_outline()
            self.strip.words.setText(DRAW)

    def end_outline(self, *, taken: bool) -> None:
        """Take what was drawn for a scrap, or let it go."""
        rings, seen = self.photo.ring_tool.rings, self.seen
        self.photo.end_outline()
        if taken and rings and seen is not None:
            self._show(seen.drawn(rings[0], {piece.code for piece in self._session.pieces}))
            self._read()
            self.photo.tags[-1].setFocus()
        self._show_chosen()

    def _point(self, seen: LineUpPhoto, *, same: bool) -> None:
        """Show it; where the book is the ``same`` the figures are, too."""
        self._show(seen, self.answer.told_as(seen) if self.answer is not None and same else None)

    def _show(self, seen: LineUpPhoto, answer: LineUpAnswer | None = None) -> None:
        self.seen, self.answer = seen, answer
        self.photo.show_seen(seen, answer)
        before: QWidget = self.photo.canvas
        for tag in self.photo.tags:
            QWidget.setTabOrder(before, tag)
            before = tag
        QWidget.setTabOrder(before, self.strip.code)
        self._show_chosen()

    def _show_chosen(self, _number: int = -1) -> None:
        seen, number = self.seen, self.photo.number
        if seen is None:
            return
        mark, words = NONE, " ".join((_CLICK, told_count(seen), *seen.remarks))
        if number is not None:
            mark, words = seen.scraps[number].mark, told_words(seen, self.answer, number)
        self.strip.show_scrap(words, mark, may_tell=number is not None and not self._kept)
        self.strip.draw_button.setEnabled(not self._kept)
        if not self._kept:
            self.strip.closest.setText(self.answer.words if self.answer is not None else "")
        self.changed.emit()

    def _typed(self, begun: str) -> None:
        if not self._kept:
            self.strip.ask(begun)

    def _take_next(self) -> None:
        """Put the hand on what is still to be pointed at after the one in hand."""
        now = self.photo.number
        left = self.seen.not_told if self.seen is not None else ()
        after = [number for number in left if now is None or number > now]
        if after:
            self.photo.tags[after[0]].setFocus()
        else:
            self.all_told.emit()

    def _read(self) -> None:
        """Hold every scrap against the book, in the background."""
        seen = self.seen
        if self._job is not None:
            self._job.stop()
        if seen is None:
            return
        self._unread = "The colours are still being read."
        self.changed.emit()
        self._job = self._session.jobs.run(
            lambda _job: read_scraps(seen), owner=self, done=self._answered, failed=self._failed
        )

    def _answered(self, answer: LineUpAnswer) -> None:
        self._job, self._unread = None, ""
        if self.seen is not None:
            self._show(self.seen, answer.told_as(self.seen))

    def _failed(self, error: Exception) -> None:
        self._unread = str(error)
        self.refused.emit(error)
        self.changed.emit()
