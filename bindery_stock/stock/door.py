"""What the groups of the stockroom share: the connection to ask through, and the step to write in.

A verb that is called while its thread holds a step open writes into that step, and a question asked
then sees what the step has written so far. So one deed of the binder is one transaction and one
step, however many verbs it takes.
"""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine
from sqlalchemy.orm import Session

from bindery_stock.clock import Clock, local_date
from bindery_stock.errors import ReadOnly, Unchanged
from bindery_stock.stock import checks
from bindery_stock.stock.keeping.disk import SpoiltText, told
from bindery_stock.stock.keeping.layout import DATABASE
from bindery_stock.stock.keeping.legible import spoilt_texts
from bindery_stock.stock.ledger import questions as ledger_questions
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.standing import Standing
from bindery_stock.stock.ledger.values import Changes, Step, Verb
from bindery_stock.trade import Rules, shipped_rules
from bindery_stock.trade.day_counts import written


class OpenStep:
    """A step while it is written. Give it its ``name`` before it ends; then ask its ``changes``."""

    def __init__(self, name: str) -> None:
        """Begin with this name; where it is empty, the first verb in the step gives its own."""
        self.name = name
        self._draft: Draft | None = None
        self._changes: Changes | None = None

    @property
    def draft(self) -> Draft:
        """What watches its session. Raises ``RuntimeError`` before the step has begun."""
        if self._draft is None:
            raise RuntimeError("the step has not begun")
        return self._draft

    @property
    def changes(self) -> Changes:
        """What the step changed, once its block has ended. Raises ``RuntimeError`` before."""
        if self._changes is None:
            raise RuntimeError("a step tells what it changed after its block, not within it")
        return self._changes

    def begin(self, draft: Draft) -> None:
        """Its session is open."""
        self._draft = draft

    def end(self, changes: Changes) -> None:
        """It has ended so."""
        self._changes = changes


class Door:
    """The way into one stock folder, for all groups alike. ``writer`` is None for reading only."""

    def __init__(self, folder: Path, clock: Clock, reader: Engine, writer: Engine | None) -> None:
        """Ask through ``reader``, write through ``writer``."""
        self.folder = folder
        self.clock = clock
        self.rules: Rules = shipped_rules()
        self.writing = threading.RLock()
        self._reader = reader
        self._writer = writer
        self._open: tuple[int, OpenStep] | None = None
        self._known = Standing()
        self.latest: datetime | None = None
        """When the last step was made, in UTC."""
        self.changed = False
        """Whether something was changed here since the last copy was made."""

    @property
    def today(self) -> date:
        """The calendar date at the bench."""
        return local_date(self.clock())

    @property
    def reader(self) -> Engine:
        """Connections for reading, for what asks many things at once."""
        return self._reader

    def close(self) -> Engine | None:
        """Let go of the connections; returns the one for writing, if there was one."""
        self._reader.dispose()
        writer, self._writer = self._writer, None
        return writer

    # -- asking ----------------------------------------------------------------------------------

    def ask(self, question: Callable[..., Any], *args: Any, **named: Any) -> Any:
        """Put a question of the tables: ``question(connection, …)``.

        Any thread may ask, also while another thread writes. Raises ``DiskTrouble`` where the disk
        fails and ``DamagedStockroom`` where the file does.
        """
        with self.connection() as connection:
            return question(connection, *args, **named)

    @contextmanager
    def connection(self) -> Iterator[Connection]:
        """A connection to ask through: of the step this thread holds open, if it holds one."""
        held = self._held()
        if held is not None:
            held.draft.session.flush()
            yield held.draft.session.connection()
            return
        try:
            with told(self.folder), self._reader.connect() as connection:
                yield connection
        except SpoiltText as fault:
            with told(self.folder):
                named = next(spoilt_texts(self.folder / DATABASE), fault)
            raise named from fault

    def standing(self, connection: Connection) -> Standing:
        """Counted on from the last time; another thread may count the same at once, unharmed."""
        stands = ledger_questions.standing(connection, self._known)
        if self._held() is None:
            self._known = stands
        return stands

    # -- writing ---------------------------------------------------------------------------------

    @contextmanager
    def step(self, verb: Verb, name: str = "") -> Iterator[OpenStep]:
        """One transaction and one step of the ledger around all that is done in the block.

        If the block raises, nothing is kept; where it raises ``Unchanged``, or nothing in it
        changed anything, the step tells so by its ``changes`` (``Changes.nothing``) instead.
        Steps are not nested: raises ``RuntimeError``.
        """
        with self.writing:
            if self._held() is not None:
                raise RuntimeError("a step is open already: deeds are not made of other deeds")
            step = OpenStep(name)
            at = self.clock()
            try:
                with told(self.folder), self.session() as session, session.begin():
                    draft = Draft(session, verb, at)
                    step.begin(draft)
                    self._open = (threading.get_ident(), step)
                    try:
                        yield step
                    finally:
                        self._open = None
                    draft.name = checks.words(step.name, "Name")
                    changes = self._with_ways_back(draft.finish(), session)
            except Unchanged as told_so:
                step.end(Changes.none(str(told_so), verb, at))
            else:
                self.changed = True
                step.end(replace(changes, notice=self._clock_notice(at)))

    def do(self, verb: Verb, work: Callable[[Draft], str], *, aside: bool = False) -> Changes:
        """One verb: a step of its own, or a part of the step this thread holds open.

        ``work`` returns the name of the step. Within an open step the changes tell only what was
        born; the step itself is told by ``OpenStep.changes``. A verb ``aside`` gives no name to a
        step it is a part of.
        """
        held = self._held()
        if held is None:
            with self.step(verb) as step:
                step.name = work(step.draft)
            return step.changes
        before = len(held.draft.born)
        name = work(held.draft)
        held.draft.session.flush()
        held.name = held.name or ("" if aside else name)
        pending = Step(number=0, at=held.draft.at, verb=verb, name=name, codes=held.draft.codes)
        return Changes(pending, {}, tuple(held.draft.born[before:]))

    @contextmanager
    def unlogged(self) -> Iterator[Session]:
        """A transaction for what is no step of the ledger: photographs and settings."""
        held = self._held()
        if held is not None:
            yield held.draft.session
            return
        with self.writing, told(self.folder), self.session() as session, session.begin():
            yield session
        self.changed = True

    def session(self) -> Session:
        """A session for writing. Raises ``ReadOnly``."""
        if self._writer is None:
            raise ReadOnly(
                f"{self.folder} is open for reading only, so nothing in it can be changed. "
                "Open it for writing first."
            )
        return Session(self._writer)

    def _held(self) -> OpenStep | None:
        """The step that this thread holds open."""
        held = self._open
        return held[1] if held is not None and held[0] == threading.get_ident() else None

    def _with_ways_back(self, changes: Changes, session: Session) -> Changes:
        connection = session.connection()
        stands = ledger_questions.standing(connection, self._known)
        undo, redo = ledger_questions.ways_back(connection, stands)
        return replace(changes, undo=undo, redo=redo)

    # -- the clock -------------------------------------------------------------------------------

    def _clock_notice(self, at: datetime) -> str:
        """What to say, once, where a step is dated before the one that went before it."""
        before, self.latest = self.latest, at
        if before is None or at >= before:
            return ""
        return (
            f"The computer's clock stands at {written(local_date(at))}, before the last step, "
            f"which was made on {written(local_date(before))}. Steps keep their order, but ages "
            "are counted by this clock: set it right."
        )


class Group:
    """The verbs and questions of one subject."""

    def __init__(self, door: Door) -> None:
        """Through this door."""
        self._door = door

    def _ask(self, question: Callable[..., Any], *args: Any, **named: Any) -> Any:
        return self._door.ask(question, *args, **named)

    def _do(self, verb: Verb, work: Callable[[Draft], str], *, aside: bool = False) -> Changes:
        """One verb of the stockroom. ``work`` returns the name of its step."""
        return self._door.do(verb, work, aside=aside)
