"""What every screen shares: the open stockroom, the jobs, the settings, and the news of changes."""

import gc
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QObject

from bindery_stock.bench.ledger.snapshot import LEDGER
from bindery_stock.bench.ledger.undo import redo, undo
from bindery_stock.bench.question import Question
from bindery_stock.bench.shelf.colour_maps import ColourMaps
from bindery_stock.bench.shelf.usable_rectangles import UsableRectangles
from bindery_stock.desktop import stock_views
from bindery_stock.desktop.daily_copy import DailyCopy
from bindery_stock.desktop.jobs import Job, Jobs, Pool
from bindery_stock.desktop.news import News, Turn
from bindery_stock.desktop.settings import Settings
from bindery_stock.desktop.snapshot import ScreenSnapshot
from bindery_stock.desktop.touched import Touched, touched_by
from bindery_stock.errors import BinderyError, NotFound
from bindery_stock.stock import Changes, Step, StockPiece, Stockroom, Verb
from bindery_stock.trade import Rules, shipped_rules

V = TypeVar("V")
_LONG_STEP = 500
"""A step about so many things takes a while to be taken back."""


class Session(News):
    """The open stockroom as the windows see it."""

    maps: ColourMaps
    """Of its pieces, as soon as one is open."""

    def __init__(self, settings: Settings, parent: QObject | None = None) -> None:
        """Begin with no stockroom open."""
        super().__init__(parent)
        self.settings = settings
        self.jobs = Jobs(self)
        self.jobs.failed.connect(self.tell)
        self._daily = DailyCopy(self.jobs, self)
        self._stockroom: Stockroom | None = None
        self._coming: Stockroom | None = None
        self._pieces: dict[int, StockPiece] = {}
        self._snapshots = stock_views.Snapshots(lambda: self.stockroom)
        self.snapshot(LEDGER)
        self.undoable: Step | None = None
        """The step that undo would take back: told by the last change, never asked for."""
        self.redoable: Step | None = None
        """The step that redo would do again."""
        self.refused: Path | None = None
        """The stock folder that was to be used and could not be opened, while none is in use."""
        self.usable = UsableRectangles()

    @property
    def stockroom(self) -> Stockroom:
        """The open stockroom."""
        if self._stockroom is None:
            raise NotFound("No stockroom is open. Open or make one from the Stockroom menu.")
        return self._stockroom

    @property
    def is_open(self) -> bool:
        """Whether a stockroom is open."""
        return self._stockroom is not None

    @property
    def pieces(self) -> list[StockPiece]:
        """The pieces on the shelf, in the order they were shelved."""
        return sorted(self._pieces.values(), key=lambda piece: piece.id)

    def piece(self, code: str) -> StockPiece:
        """A piece by its code, on the shelf or gone. Raises ``NotFound``."""
        here = next((piece for piece in self._pieces.values() if piece.code == code), None)
        return here if here is not None else self.stockroom.pieces.get(code)

    def snapshot(self, question: Question[V]) -> ScreenSnapshot[V]:
        """The answer to a question, kept up with every step. Who asks the same shares it."""
        return self._snapshots.of(question)

    @property
    def rules(self) -> Rules:
        """The rules that count: the shipped ones and the binder's own in the stock folder."""
        return self._stockroom.rules if self._stockroom is not None else shipped_rules()

    def show_code(self, code: str) -> None:
        """Have the piece, lot, want or volume with this code shown. Raises ``NotFound``."""
        if code.startswith("A-"):
            self.stockroom.lots.get(code)
            self.lot_wanted.emit(code)
        elif code.startswith("W-"):
            if all(want.code != code for want in self.stockroom.wants.listed(closed=True)):
                raise NotFound(f"There is no want {code}. Check the code on the wanted list.")
            self.lot_wanted.emit(code)
        elif code.startswith("V-"):
            self.stockroom.books.repair(code)
            self.volume_wanted.emit(code)
        else:
            self.piece(code)
            self.piece_wanted.emit(code)

    @property
    def is_opening(self) -> bool:
        """Whether a stockroom is being read, to be used as soon as that is done."""
        return self._coming is not None

    def take(self, stockroom: Stockroom, then: Callable[[], None] | None = None) -> None:
        """Work with this stockroom once it has been read in the background; ``then`` do this."""
        self._drop_coming()
        self._coming = stockroom

        def read(found: stock_views.Opened) -> None:
            self._coming = None
            self.use(stockroom, found)
            if then is not None:
                then()

        def failed(error: Exception) -> None:
            self._drop_coming()
            if self.is_open:  # the one before is shown again
                self.opened.emit()
            self.refuse(Path(stockroom.folder), error)

        self.opening.emit()
        self.jobs.run(
            lambda _job: self._snapshots.read(stockroom),
            owner=self,
            done=read,
            failed=failed,
        )

    def _drop_coming(self) -> None:
        if self._coming is not None:
            self.jobs.close()
            self._coming.close()
            self._coming = None

    def use(self, stockroom: Stockroom, read: stock_views.Opened | None = None) -> None:
        """Work with this stockroom from now on, closing the one before.

        ``read`` is what was read of it already. One that cannot be read is not used:
        ``DamagedStockroom``, and the one before stays.
        """
        if read is None:
            with stock_views.closed_on_refusal(stockroom):
                read = self._snapshots.read(stockroom)
        self.close_stockroom()
        self._stockroom, self.refused = stockroom, None
        self.maps = ColourMaps.of_room(stockroom)
        stock_views.take(read.views)
        ledger = self.snapshot(LEDGER).view
        self.undoable, self.redoable = ledger.undoable, ledger.redoable
        self.usable.begin(Path(stockroom.folder))
        self._pieces = {piece.id: piece for piece in read.pieces}
        # They live as long as the stockroom is open: walking ten thousand of them each time would
        # hold the window up for a fifth of a second.
        gc.freeze()
        self.settings.opened(Path(stockroom.folder))
        self.opened.emit()
        for notice in (stockroom.notice, stockroom.rules_trouble):
            if notice:
                self.noticed.emit(notice)

    def close_stockroom(self) -> None:
        """Finish what is under way and close the stockroom, if one is open."""
        self._drop_coming()
        if self._stockroom is not None:
            self.jobs.close()
            closing, self._stockroom, self._pieces = self._stockroom, None, {}
            self.undoable = self.redoable = None
            self._snapshots.forget()
            gc.unfreeze()
            with ThreadPoolExecutor(1) as aside:
                trouble = aside.submit(stock_views.copied_and_closed, closing).result()
            if trouble:
                self.noticed.emit(trouble)

    def refuse(self, folder: Path, error: Exception) -> None:
        """Tell why a stock folder could not be opened; where none is in use, none is shown."""
        self.tell(error)
        if not self.is_open:
            self.refused = folder
            known = isinstance(error, BinderyError)
            self.unread.emit(str(error) if known else f"{folder} could not be opened.")

    def do(
        self,
        verb: Callable[[Stockroom], Changes],
        *,
        done: Callable[[Changes], None] | None = None,
        failed: Callable[[Exception], None] | None = None,
    ) -> None:
        """Change the stockroom: run ``verb`` on the stock thread, then tell every window."""
        self.follow(lambda stockroom, _job: verb(stockroom), done=done, failed=failed)

    def follow(
        self,
        verb: Callable[[Stockroom, Job], Changes],
        *,
        done: Callable[[Changes], None] | None = None,
        failed: Callable[[Exception], None] | None = None,
        progress: Callable[[float, str], None] | None = None,
    ) -> Job:
        """Change the stockroom as ``do``, by a verb that reports to its job and may be stopped."""
        stockroom = self.stockroom

        def work(job: Job) -> tuple[Changes, Touched, stock_views.Views]:
            changes = verb(stockroom, job)
            views = self._snapshots.again(stockroom, changes)
            return changes, touched_by(changes, stockroom), views

        def finished(found: tuple[Changes, Touched, stock_views.Views]) -> None:
            changes, touched, views = found
            self._tell_changes(changes, touched, views)
            if done is not None:
                done(changes)

        return self.jobs.run(
            work,
            owner=self,
            done=finished,
            failed=failed or self.tell,
            progress=progress,
            pool=Pool.STOCK,
        )

    def heard(self, changes: Changes) -> None:
        """A step was made: take it in and tell every window."""
        room = self.stockroom
        views = self._snapshots.again(room, changes)
        self._tell_changes(changes, touched_by(changes, room), views)

    def _tell_changes(self, changes: Changes, touched: Touched, views: stock_views.Views) -> None:
        if changes.nothing:
            self.said.emit(changes.step.name)
            return
        self._pieces = touched.taken_into(self._pieces)
        stock_views.take(views)
        self.undoable, self.redoable = changes.undo, changes.redo
        self.changed.emit(changes)
        self.stepped.emit(changes.step)
        if changes.notice:
            self.noticed.emit(changes.notice)
        self._daily.keep(self.stockroom)

    def undo(self, step: Step | None = None) -> None:
        """Take back the last step, or this one and no other."""
        number = step.number if step is not None else None
        self._turn(
            step or self.undoable,
            lambda room, job: undo(room, number=number, tell=job.report, check=job.check),
        )

    def redo(self, step: Step | None = None) -> None:
        """Do the last step that was taken back again, or this one and no other."""
        number = step.number if step is not None else None
        self._turn(
            step or self.redoable,
            lambda room, job: redo(room, number=number, tell=job.report, check=job.check),
        )

    def way_on(self, step: Step) -> tuple[Step | None, Step | None]:
        """What can be taken back and what done again beside a sentence about this step.

        After an undo that is the step taken back, to be done again; else the step itself, or the
        one it did again, to be taken back. Neither, where something has been done since.
        """
        about = step.number if step.undoes is None else step.undoes
        if step.verb is Verb.UNDONE:
            found = self.redoable
            return None, found if found is not None and found.number == about else None
        found = self.undoable
        return (found if found is not None and found.number == about else None), None

    def _turn(self, step: Step | None, verb: Callable[[Stockroom, Job], Changes]) -> None:
        """Take a step back or do it again; one that is about many things can be followed."""
        if step is None or len(step.codes) < _LONG_STEP:
            self.follow(verb)
            return
        turn = Turn(self, self.tell)
        turn.job = self.follow(
            verb,
            done=lambda _changes: turn.ended.emit(),
            failed=turn.failed,
            progress=turn.progressed.emit,
        )
        self.turn_began.emit(turn)

    def tell(self, error: Exception) -> None:
        """Show an error: its own sentence if the user can mend it, else as a fault."""
        if isinstance(error, BinderyError):
            self.trouble.emit(str(error))
        else:
            self.fault.emit(error)
