"""The front door of the stockroom: a verb for each thing a binder does."""

import threading
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import insert
from sqlalchemy.orm import Session

from bindery_stock.clock import Clock, local_date, system_clock
from bindery_stock.errors import ReadOnly
from bindery_stock.shape import Ring
from bindery_stock.stock import checks
from bindery_stock.stock.books.room import BookVerbs
from bindery_stock.stock.copy_verbs import CopyVerbs
from bindery_stock.stock.exchange.bring_in import BringingIn
from bindery_stock.stock.exchange.room import MergeVerbs
from bindery_stock.stock.keeping import open_folder, photo_archive
from bindery_stock.stock.keeping.disk import connect, engine, told
from bindery_stock.stock.keeping.owner import WriterLock
from bindery_stock.stock.keeping.tables import SettingRow
from bindery_stock.stock.ledger import undo
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.undo import Check, Tell
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots.room import LotVerbs
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.pieces import changes as piece_changes
from bindery_stock.stock.pieces import cut as cuts
from bindery_stock.stock.pieces import reservations as bespoken
from bindery_stock.stock.pieces.confirm_room import ConfirmVerbs
from bindery_stock.stock.pieces.values import Cutting, NewPiece
from bindery_stock.stock.reading import DATABASE, PHOTOS
from bindery_stock.trade.day_counts import written
from bindery_stock.units import format_mm


def _silent(_share: float, _words: str) -> None:
    """Nobody listens."""


def _on() -> None:
    """Nobody stops it."""


class Stockroom(LotVerbs, BookVerbs, ConfirmVerbs, BringingIn, MergeVerbs, CopyVerbs):
    """An open stock folder.

    Made by ``create`` or ``open``, which are context managers too; ``close`` it otherwise. Each
    changing verb is one transaction and one step of the ledger, and returns ``Changes``; a verb
    that raises has changed nothing. There is one writer to a folder: a second one is refused with
    ``StockroomInUse`` and may open for reading.

    Threads: verbs may be called from any thread and wait for one another; questions (see
    ``Reading``) may be asked from any thread at any time. ``close`` when no one is asking.

    ``folder`` is the stock folder, ``read_only`` whether verbs raise ``ReadOnly``, and ``notice``
    a sentence the user should see about how it was opened, or empty. The verbs of adhesives,
    tests and the wanted list stand in ``LotVerbs``, those of the volumes in ``BookVerbs``,
    confirming a match in ``ConfirmVerbs``.
    """

    def __init__(self, folder: Path, clock: Clock, lock: WriterLock | None, notice: str) -> None:
        """Use ``create`` or ``open``. Without a lock the stockroom is for reading only."""
        super().__init__(folder, engine(folder / DATABASE))
        self.read_only = lock is None
        self.notice = notice
        self._clock = clock
        try:
            self._latest = None if lock is None else self._last_time()
        except BaseException:  # the ledger cannot be read: let go of the folder again
            self._reader.dispose()
            if lock is not None:
                lock.release()
            raise
        self._lock = lock
        self._writer = None if lock is None else engine(folder / DATABASE, writing=True)
        self._writing = threading.RLock()

    @classmethod
    def create(cls, folder: Path | str, *, clock: Clock = system_clock) -> Self:
        """Lay out a new stockroom in ``folder``, which is made if need be, and open it.

        Raises ``StockError`` where it holds one already, ``DiskTrouble`` where it cannot be made.
        """
        folder = Path(folder).resolve()
        return cls(folder, clock, open_folder.make(folder), "")

    @classmethod
    def open(
        cls, folder: Path | str, *, clock: Clock = system_clock, read_only: bool = False
    ) -> Self:
        """Open the stockroom in ``folder``; it is never made here.

        For writing, an older schema is backed up and brought up to date first. Raises
        ``NotAStockroom``, ``NewerStockroom``, ``StockroomInUse``, ``DamagedStockroom`` or
        ``DiskTrouble``, with the file untouched. Read-only opening works beside a writer, on a
        disk that cannot be written, and with a newer schema (see ``notice``).
        """
        folder = Path(folder).resolve()
        if read_only:
            return cls(folder, clock, None, open_folder.look_in(folder))
        lock, notice = open_folder.take_over(folder, clock())
        return cls(folder, clock, lock, notice)

    @property
    def today(self) -> date:
        """The calendar date at the bench."""
        return local_date(self._clock())

    def _last_time(self) -> datetime | None:
        last = self.steps(limit=1)
        return last[0].at if last else None

    def _clock_notice(self, at: datetime) -> str:
        """What to say, once, where a step is dated before the one that went before it."""
        before, self._latest = self._latest, at
        if before is None or at >= before:
            return ""
        return (
            f"The computer's clock stands at {written(local_date(at))}, before the last step, "
            f"which was made on {written(local_date(before))}. Steps keep their order, but ages "
            "are counted by this clock: set it right."
        )

    def __enter__(self) -> Self:
        """Hold it open for a block."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    def close(self) -> None:
        """Fold the journal into the file and let go of it. Closing twice does no harm."""
        with self._writing:
            self._reader.dispose()
            if self._writer is None or self._lock is None:
                return
            try:
                with told(self.folder):
                    last = connect(self.folder / DATABASE, writing=True)
                    try:
                        last.execute("PRAGMA optimize")
                        last.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                    finally:
                        self._writer.dispose()
                        last.close()
            finally:
                self._lock.release()
                self._writer = self._lock = None
                self.read_only = True

    # -- the pieces ------------------------------------------------------------------------------

    def shelve(self, new: NewPiece, *, name: str | None = None) -> Changes:
        """Put a piece on the shelf; ``Changes.born`` has its code.

        Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a parent or a photograph
        that is not there (``archive_photo`` first).
        """
        return self.shelve_many([new], name=name)

    def shelve_many(self, news: Sequence[NewPiece], *, name: str | None = None) -> Changes:
        """Put several pieces on the shelf in one step; raises as ``shelve``."""

        def work(draft: Draft) -> str:
            for new in news:
                piece_changes.place_on_shelf(draft, new)
            return name or f"Shelved {_listed(draft.born)}"

        return self._do(Verb.SHELVED, work)

    def correct(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a piece: any fields of ``NewPiece`` but the parent.

        Raises ``EntryError`` where nothing would change, ``StockError`` where the outline of a
        reserved or cut-up piece would.
        """

        def work(draft: Draft) -> str:
            piece_changes.correct(draft, code, fields)
            return f"Corrected {', '.join(fields).replace('_', ' ')} of {code}"

        return self._do(Verb.CORRECTED, work)

    def move(self, codes: Iterable[str], place: str) -> Changes:
        """Say where pieces lie now. Raises ``EntryError`` where they lie there already."""

        def work(draft: Draft) -> str:
            piece_changes.move(draft, codes, place)
            return f"Moved {_listed(draft.codes)} to {place or 'no place'}"

        return self._do(Verb.MOVED, work)

    def cut(self, cutting: Cutting) -> Changes:
        """Cut parts from a piece, which is then cut up; ``Changes.born`` has the offcuts' codes.

        Offcuts inherit kind, pattern, backing, fibre, form, colours, photographs, source and
        place, and the flaws that lie in them. A reservation for the same purpose is fulfilled; any
        other goes to the offcut it lies in. Raises ``ShapeError`` where part, offcuts and slivers
        leave the piece or overlap, ``StockError`` where the piece is gone or another reservation
        would be spoilt.
        """

        def work(draft: Draft) -> str:
            cuts.cut(draft, cutting)
            return cuts.cut_words(cutting)

        return self._do(Verb.CUT, work)

    def cut_length(
        self, code: str, length: float, purpose: str, *, shelve: bool = False
    ) -> Changes:
        """Take a length (mm) off the upper end of a roll, sheet or board, which keeps its code.

        With ``shelve`` the length goes on the shelf as a sheet of its own, in ``Changes.born``.
        Raises ``ShapeError`` where the piece is no plain rectangle or is shorter, ``StockError``
        where the piece is gone or the cut would spoil what is reserved.
        """

        def work(draft: Draft) -> str:
            rest = cuts.take_length(draft, code, length, purpose, shelve=shelve)
            left = f"{format_mm(rest.height)} are left" if rest else "nothing is left"
            return f"Cut {format_mm(length)} off {code} for {purpose.strip()}; {left}"

        return self._do(Verb.CUT, work)

    def photograph_anew(self, code: str, seen: NewPiece) -> Changes:
        """Replace what a new photograph shows of a piece: its outline, flaws, colours and marks.

        The facts of ``seen`` are taken over too; kind, parent, and what was tested stay, and the
        colour family where ``seen`` says none. Raises as ``correct``.
        """
        fields = {name: getattr(seen, name) for name in piece_changes.SEEN}
        if seen.colour_family:
            fields["colour_family"] = seen.colour_family

        def work(draft: Draft) -> str:
            piece_changes.correct(draft, code, fields)
            return f"Photographed {code} anew"

        return self._do(Verb.CORRECTED, work)

    def discard(self, code: str, reason: str) -> Changes:
        """Take a piece out of stock. Raises ``StockError`` where it is reserved or gone."""

        def work(draft: Draft) -> str:
            piece_changes.discard(draft, code, reason)
            return f"Discarded {code}: {reason.strip()}"

        return self._do(Verb.DISCARDED, work)

    def reserve(
        self, code: str, purpose: str, *, width: float, height: float, corners: Ring = ()
    ) -> Changes:
        """Keep a part of a piece (mm) for a purpose; ``corners`` where its place is chosen.

        Raises ``StockError`` where the piece is gone, is reserved for this purpose already, or
        the part leaves the piece or overlaps another reserved part.
        """

        def work(draft: Draft) -> str:
            bespoken.reserve(draft, code, purpose, (width, height), corners)
            return f"Reserved {code} for {purpose.strip()}"

        return self._do(Verb.RESERVED, work)

    def release(self, code: str, purpose: str | None = None) -> Changes:
        """Give up what a piece is reserved for: one purpose, or all. Raises ``NotFound``."""

        def work(draft: Draft) -> str:
            bespoken.release(draft, code, purpose)
            return f"Released {code}{f' from {purpose}' if purpose else ''}"

        return self._do(Verb.RELEASED, work)

    # -- the ledger ------------------------------------------------------------------------------

    def undo(self, step: int | None = None, *, tell: Tell = _silent, check: Check = _on) -> Changes:
        """Take back a step by a new one: the latest that stands, or the one with this number.

        ``tell`` hears how far a long one is, and ``check`` may raise to stop: nothing is changed
        then. Raises ``UndoRefused`` where there is none, or later steps rest on it (naming them).
        """

        def work(draft: Draft) -> str:
            return f"Undo: {undo.undo(draft, step, tell, check).name}"

        return self._do(Verb.UNDONE, work)

    def redo(self, *, tell: Tell = _silent, check: Check = _on) -> Changes:
        """Do again what was taken back last. Raises ``UndoRefused`` where there is nothing."""

        def work(draft: Draft) -> str:
            return f"Redo: {undo.redo(draft, tell, check).name}"

        return self._do(Verb.REDONE, work)

    def _do(self, verb: Verb, work: Callable[[Draft], str]) -> Changes:
        """One verb, one transaction, one step. ``work`` returns the name of the step."""
        with self._writing, told(self.folder), self._session() as session, session.begin():
            draft = Draft(session, verb, self._clock())
            draft.name = checks.words(work(draft), "Name")
            changes = draft.finish()
        self._changed = True
        return replace(changes, notice=self._clock_notice(draft.at))

    def _session(self) -> Session:
        if self._writer is None:
            raise ReadOnly(
                f"{self.folder} is open for reading only, so nothing in it can be changed. "
                "Open it for writing first."
            )
        return Session(self._writer)

    # -- photographs, settings, backups ----------------------------------------------------------

    def archive_photo(self, source: Path | bytes, *, name: str, width: int, height: int) -> Photo:
        """Keep an original for good, named by the SHA-256 of its content.

        ``name`` is the file's name as the user knows it; ``width`` and ``height`` are the pixels
        of the upright photograph. It is no step of the ledger: taking back a step leaves the
        original where it is. The same content is kept once; a missing original is put back.
        Raises ``PhotoError`` where the source cannot be read, ``DiskTrouble``.
        """
        checks.words(name, "Photograph")
        for value, side in ((width, "Width"), (height, "Height")):
            checks.size(value, f"{side} of {name}")
        photos = self.folder / PHOTOS
        with (
            self._writing,
            told(self.folder),
            self._session() as session,
            photo_archive.taken_in(photos, source, name) as (incoming, sha256),
            session.begin(),
        ):
            photo = photo_questions.photo_or_none(session.connection(), sha256)
            new = photo is None
            photo = photo or Photo(sha256, name, width, height, photo_archive.suffix_of(name))
            photo_archive.put_away(incoming, photos, photo)
            if new:
                at = self._clock().isoformat()
                session.execute(
                    insert(PhotoRow).values(**photo_rows.photo_columns(photo), archived_at=at)
                )
        self._changed = self._changed or new
        return photo

    def set_setting(self, key: str, value: str) -> None:
        """Keep a setting that travels with the stock. It cannot be undone."""
        with self._writing, told(self.folder), self._session() as session, session.begin():
            session.merge(
                SettingRow(key=checks.words(key, "Setting"), value=checks.text(value, "Setting"))
            )
        self._changed = True


def _listed(codes: Sequence[str]) -> str:
    """``C-0042``, or ``C-0042 and 11 others``."""
    if len(codes) == 1:
        return codes[0]
    if len(codes) == 2:
        return " and ".join(codes)
    return f"{codes[0]} and {len(codes) - 1} others"
