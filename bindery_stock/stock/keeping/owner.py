"""The one writer of a stockroom: a lock file beside the database.

The lock is the operating system's, held as long as the file is open, so a program that was killed
leaves none behind. What is written in the file only says who holds it.
"""

import os
import socket
import sys
from pathlib import Path
from types import TracebackType

from bindery_stock.errors import StockroomInUse

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        # A byte far behind the text, so that others can still read who holds the lock.
        os.lseek(handle, 4096, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        os.lseek(handle, 0, os.SEEK_SET)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class WriterLock:
    """Held from opening to ``release``. Raises ``StockroomInUse`` where another holds it."""

    def __init__(self, database: Path) -> None:
        """Take the lock beside the resolved path, so that links lead to the same lock."""
        path = database.resolve().with_suffix(".lock")
        self._handle: int | None = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _take(self._handle)
        except OSError as fault:
            held_by = os.read(self._handle, 200).decode(errors="replace").strip()
            self._drop()
            raise StockroomInUse(
                f"{path.parent} is open for writing in another window"
                f"{f' ({held_by})' if held_by else ''}. "
                "Go on there, or open it here for reading only."
            ) from fault
        try:
            os.ftruncate(self._handle, 0)
            os.write(self._handle, f"process {os.getpid()} on {socket.gethostname()}\n".encode())
        except BaseException:
            self._drop()
            raise

    def _drop(self) -> None:
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    def release(self) -> None:
        """Let the next window write."""
        if self._handle is not None:
            os.ftruncate(self._handle, 0)
        self._drop()

    def __enter__(self) -> "WriterLock":
        """Hold it for a block."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Let go at the end of the block."""
        self.release()
