"""The front door of the stockroom: one group for each subject, and the step that holds a deed."""

from contextlib import AbstractContextManager
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import Self

from bindery_stock.clock import Clock, system_clock
from bindery_stock.errors import RulesError
from bindery_stock.stock.books.door import Books
from bindery_stock.stock.door import Door, OpenStep
from bindery_stock.stock.evidence.door import Evidences
from bindery_stock.stock.exchange.door import Exchange
from bindery_stock.stock.keeping import old_readings, open_folder
from bindery_stock.stock.keeping.disk import connect, engine, told
from bindery_stock.stock.keeping.door import Keeping
from bindery_stock.stock.keeping.layout import DATABASE, OWN_RULES, PREVIEWS
from bindery_stock.stock.keeping.owner import WriterLock
from bindery_stock.stock.ledger.door import Ledger
from bindery_stock.stock.ledger.values import Verb
from bindery_stock.stock.lots.door import Lots
from bindery_stock.stock.photos.door import Photos
from bindery_stock.stock.pieces.door import Pieces
from bindery_stock.stock.rulings.door import Rulings
from bindery_stock.stock.wants.door import Wants
from bindery_stock.trade import Rules, load_rules, shipped_rules


class Stockroom:
    """An open stock folder.

    Made by ``create`` or ``open``, which are context managers too; ``close`` it otherwise. What is
    asked and done stands in groups: ``room.pieces.shelve(…)``, ``room.lots.listed()``. Each
    changing verb is one transaction and one step of the ledger, and returns ``Changes``; within
    ``with room.step(…)`` the verbs of a deed are one step together. What raises has changed
    nothing. There is one writer to a folder: a second one is refused with ``StockroomInUse`` and
    may open for reading.

    Threads: verbs may be called from any thread and wait for one another; questions may be asked
    from any thread at any time. ``close`` when no one is asking.

    ``folder`` is the stock folder, ``read_only`` whether verbs raise ``ReadOnly``, and ``notice``
    a sentence the user should see about how it was opened, or empty.
    """

    def __init__(self, folder: Path, clock: Clock, lock: WriterLock | None, notice: str) -> None:
        """Use ``create`` or ``open``. Without a lock the stockroom is for reading only."""
        self.folder = folder
        self.read_only = lock is None
        self.notice = notice
        self.rules_trouble = ""
        self._lock = lock
        writer = None if lock is None else engine(folder / DATABASE, writing=True)
        self._door = door = Door(folder, clock, engine(folder / DATABASE), writer)
        self.pieces = Pieces(door)
        self.photos = Photos(door)
        self.lots = Lots(door)
        self.tests = Evidences(door)
        self.wants = Wants(door)
        self.books = Books(door)
        self.ledger = Ledger(door)
        self.exchange = Exchange(door)
        self.keeping = Keeping(door)
        self.rulings = Rulings(door)
        self.read_rules()
        if lock is None:
            return
        try:
            door.latest = self.ledger.latest()
            self._settle_old_readings()
        except BaseException:  # the ledger cannot be read: let go of the folder again
            door.close()
            lock.release()
            raise

    def _settle_old_readings(self) -> None:
        """Told in the ledger as a step, for it changes what the ledger says of the colours."""
        if self._door.ask(old_readings.are_there):
            self._door.do(Verb.CORRECTED, lambda draft: old_readings.bring_up(draft.session))

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
        return self._door.today

    @property
    def own_rules(self) -> Path:
        """Where the binder's own rules file lies, if there is one."""
        return self.folder / OWN_RULES

    def read_rules(self) -> None:
        """Read the binder's own rules file again; the shipped rules count where it is wrong.

        ``rules`` are the rules that count now, ``rules_trouble`` what is wrong with the file, with
        its line, or empty.
        """
        own = self.own_rules
        self._door.rules, self.rules_trouble = shipped_rules(), ""
        if not own.is_file():
            return
        try:
            self._door.rules = load_rules(own)
        except RulesError as error:
            self.rules_trouble = f"{error} Until then the rules shipped with the program count."

    @property
    def rules(self) -> Rules:
        """The rules that count: the shipped ones with the binder's own on top."""
        return self._door.rules

    def step(self, verb: Verb, name: str = "") -> AbstractContextManager[OpenStep]:
        """One transaction and one step around everything in the block; see ``Door.step``."""
        return self._door.step(verb, name)

    @property
    def previews(self) -> Path:
        """The folder of the preview cache, which may be emptied at any time."""
        return self.folder / PREVIEWS

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
        with self._door.writing:
            writer = self._door.close()
            if writer is None or self._lock is None:
                return
            try:
                with told(self.folder):
                    last = connect(self.folder / DATABASE, writing=True)
                    try:
                        last.execute("PRAGMA optimize")
                        last.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                    finally:
                        writer.dispose()
                        last.close()
            finally:
                self._lock.release()
                self._lock = None
                self.read_only = True
