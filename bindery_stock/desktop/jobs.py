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
from typing import Any, TypeVar

import shiboken6
from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal

T = TypeVar("T")
_TURN_S = 0.001


class JobStopped(Exception):  # noqa: N818 - not an error: the user asked for it
    """The user stopped the job."""


class Pool(Enum):
    """Where a job runs."""

    STOCK = auto()
    GENERAL = auto()


@dataclass(slots=True, eq=False)
class Job:
    """A piece of work under way: what the work reports to, and how it is stopped."""

    _tell: Callable[["Job", float, str], None]
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
            raise JobStopped

    def report(self, share: float, words: str = "") -> None:
        """Tell how far the work is (0 to 1) and what it is at; from any thread."""
        self._tell(self, share, words)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """Who waits for a job. Known to the GUI thread alone, so that nothing of it ends elsewhere.

    A window let go of by the thread of the work would be taken down there, and the program with it.
    """

    owner: QObject
    done: Callable[[Any], None]
    failed: Callable[[Exception], None] | None
    progress: Callable[[float, str], None] | None
    changes_stock: bool
    """What was changed is told even where *Stop* came too late."""


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
    _reported = Signal(object, float, str)
    _ended = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        """Make the two pools."""
        super().__init__(parent)
        # Work in the background holds the interpreter no longer than this when the window wants it.
        sys.setswitchinterval(_TURN_S)
        self._pools = {Pool.STOCK: QThreadPool(self), Pool.GENERAL: QThreadPool(self)}
        self._pools[Pool.STOCK].setMaxThreadCount(1)
        self._pools[Pool.GENERAL].setMaxThreadCount(2)
        self._waiting: dict[Job, _Waiting] = {}
        self._reported.connect(self._progress, Qt.ConnectionType.QueuedConnection)
        self._ended.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

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

        Nothing is delivered once ``owner`` is gone or the job was stopped. Only a change of the
        stock that was done before it could be stopped is told all the same.
        """

        job = Job(self._tell)
        self._waiting[job] = _Waiting(owner, done, failed, progress, pool is Pool.STOCK)

        def run() -> None:
            outcome: T | None = None
            fault: Exception | None = None
            try:
                job.check()
                outcome = work(job)
            except JobStopped as stopped:
                fault = stopped
            except Exception as error:  # noqa: BLE001 - every fault is delivered to the GUI thread
                fault = error
            if shiboken6.isValid(self):
                self._ended.emit(job, outcome, fault)

        self._pools[pool].start(_Runnable(run))
        return job

    def _tell(self, job: Job, share: float, words: str) -> None:
        """From any thread."""
        if shiboken6.isValid(self):
            self._reported.emit(job, share, words)

    def _progress(self, job: Job, share: float, words: str) -> None:
        waiting = self._waiting.get(job)
        if waiting is None or waiting.progress is None or not shiboken6.isValid(waiting.owner):
            return
        waiting.progress(share, words)

    def _deliver(self, job: Job, outcome: Any, fault: Exception | None) -> None:
        waiting = self._waiting.pop(job, None)
        if waiting is None or not shiboken6.isValid(waiting.owner) or isinstance(fault, JobStopped):
            return
        if job.stopped and not (waiting.changes_stock and fault is None):
            return
        if fault is None:
            waiting.done(outcome)
        elif waiting.failed is not None:
            waiting.failed(fault)
        else:
            self.failed.emit(fault)

    @property
    def busy(self) -> bool:
        """Whether any job has not been delivered yet."""
        return bool(self._waiting)

    def close(self) -> None:
        """Stop every job and wait for the threads to end."""
        for job in self._waiting:
            job.stop()
        for pool in self._pools.values():
            pool.clear()
            pool.waitForDone()
        self._waiting.clear()  # what was cleared away before it began is never delivered
