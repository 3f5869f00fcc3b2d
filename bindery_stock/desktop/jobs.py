"""Work off the GUI thread, with progress and cancel.

Two pools: one single thread for whatever changes the stockroom, so that changes happen in the
order they were asked for, and a small one for photographs, fits and reports. Results come back as
calls on the GUI thread, and are dropped when the widget that asked is gone or the job was stopped.
"""

import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum, auto
from typing import TypeVar

import shiboken6
from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal

T = TypeVar("T")
_TURN_S = 0.001


class Stopped(Exception):  # noqa: N818 - not an error: the user asked for it
    """The user stopped the job."""


class Pool(Enum):
    """Where a job runs."""

    STOCK = auto()
    GENERAL = auto()


@dataclass(slots=True)
class Job:
    """A piece of work under way: what the work reports to, and how it is stopped."""

    _post: Callable[[Callable[[], None]], None]
    _on_progress: Callable[[float, str], None] | None
    _stop: threading.Event = field(default_factory=threading.Event)

    def stop(self) -> None:
        """Ask the work to end; its result will not be delivered."""
        self._stop.set()

    @property
    def stopped(self) -> bool:
        """Whether the user asked to stop. Long work looks at this often."""
        return self._stop.is_set()

    def check(self) -> None:
        """Raise ``Stopped`` where the user asked to stop."""
        if self.stopped:
            raise Stopped

    def report(self, share: float, words: str = "") -> None:
        """Tell how far the work is (0 to 1) and what it is at; from any thread."""
        listener = self._on_progress
        if listener is not None:
            self._post(lambda: listener(share, words))


class _Runnable(QRunnable):
    def __init__(self, run: Callable[[], None]) -> None:
        super().__init__()
        self._run = run

    def run(self) -> None:
        self._run()


class Jobs(QObject):
    """Runs work in the background and delivers its outcome on the GUI thread.

    Emits ``failed(error)`` for errors that no one asked to hear about.
    """

    failed = Signal(object)
    _posted = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        """Make the two pools."""
        super().__init__(parent)
        # Work in the background holds the interpreter no longer than this when the window wants it.
        sys.setswitchinterval(_TURN_S)
        self._pools = {Pool.STOCK: QThreadPool(self), Pool.GENERAL: QThreadPool(self)}
        self._pools[Pool.STOCK].setMaxThreadCount(1)
        self._pools[Pool.GENERAL].setMaxThreadCount(2)
        self._open: list[Job] = []
        self._posted.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    def run(
        self,
        work: Callable[[Job], T],
        *,
        owner: QObject,
        done: Callable[[T], None],
        failed: Callable[[Exception], None] | None = None,
        progress: Callable[[float, str], None] | None = None,
        pool: Pool = Pool.GENERAL,
    ) -> Job:
        """Run ``work`` in the background; ``done`` or ``failed`` is called on the GUI thread.

        Nothing is delivered once ``owner`` is gone or the job was stopped.
        """

        def post(call: Callable[[], None]) -> None:
            if shiboken6.isValid(self):
                self._posted.emit(lambda: call() if shiboken6.isValid(owner) else None)

        job = Job(post, progress)
        self._open.append(job)

        def finish(call: Callable[[], None]) -> None:
            if job in self._open:
                self._open.remove(job)
            if not job.stopped:
                call()

        def run() -> None:
            try:
                job.check()
                result = work(job)
            except Stopped:
                self._post_finish(finish, lambda: None)
            except Exception as error:  # noqa: BLE001 - every fault is delivered to the GUI thread
                told = error
                tell = failed or self.failed.emit
                self._post_finish(finish, lambda: tell(told) if shiboken6.isValid(owner) else None)
            else:
                self._post_finish(
                    finish, lambda: done(result) if shiboken6.isValid(owner) else None
                )

        self._pools[pool].start(_Runnable(run))
        return job

    def _post_finish(
        self, finish: Callable[[Callable[[], None]], None], call: Callable[[], None]
    ) -> None:
        if shiboken6.isValid(self):
            self._posted.emit(lambda: finish(call))

    def _deliver(self, call: Callable[[], None]) -> None:
        call()

    @property
    def busy(self) -> bool:
        """Whether any job has not been delivered yet."""
        return bool(self._open)

    def close(self) -> None:
        """Stop every job and wait for the threads to end."""
        for job in self._open:
            job.stop()
        for pool in self._pools.values():
            pool.clear()
            pool.waitForDone()
        self._open.clear()  # what was cleared away before it began is never delivered
