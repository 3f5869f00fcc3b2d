"""The inbox: a phone's folder is watched, and each new photograph waits at the photo table."""

import json
from collections.abc import Callable, Iterable
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer

from bindery_stock.bench.exchange.phone_folder import FileSeen, copy_in, look, tidy
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, PhotoError

_FOLDER, _KNOWN = "inbox/folder", "inbox/known"
_REST_MS = 1500
"""A file must stay as it is for so long before it is taken for whole."""


class Inbox(QObject):
    """Watches one folder, chosen once and remembered, while a stockroom is open for writing.

    What lay there when watching began is left alone. ``offer`` takes the copies to the table.
    """

    def __init__(self, session: Session, offer: Callable[[list[Path]], None]) -> None:
        """Begin when a stockroom is opened."""
        super().__init__()
        self._session = session
        self._offer = offer
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._rest.timeout.connect(self.look)
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(lambda _path: self._rest.start())
        self._before: set[str] = set()
        session.opened.connect(self.begin)

    @property
    def folder(self) -> Path | None:
        """The folder that is watched."""
        text = self._session.settings.text(_FOLDER)
        return Path(text) if text else None

    def watch(self, folder: Path) -> None:
        """Watch this folder from now on; what lies there already stays there unasked."""
        try:
            here = look(folder)
        except PhotoError as error:
            self._session.tell(error)
            return
        self._session.settings.set_text(_FOLDER, str(folder))
        self._know(seen.key for seen in here)
        self.begin()
        self._session.said.emit(f"New photographs in {folder.name} will wait at the photo table.")

    def stop(self) -> None:
        """Watch nothing any more."""
        self._session.settings.set_text(_FOLDER, "")
        self._unwatch()
        self._session.said.emit("No phone folder is watched any more.")

    def begin(self) -> None:
        """Watch the folder remembered, and look what came while no one watched."""
        self._unwatch()
        folder = self.folder
        if folder is None or not self._session.is_open or self._session.stockroom.read_only:
            return
        if not folder.is_dir():
            self._session.noticed.emit(
                f"The phone folder {folder} is not there. It is watched again when the stockroom "
                "is next opened."
            )
            return
        self._watcher.addPath(str(folder))
        self._before = set()
        self._rest.start()

    def _unwatch(self) -> None:
        self._rest.stop()
        watched = self._watcher.directories()
        if watched:
            self._watcher.removePaths(watched)

    def _known(self) -> set[str]:
        return set(json.loads(self._session.settings.text(_KNOWN, "[]")))

    def _know(self, keys: Iterable[str]) -> None:
        self._session.settings.set_text(_KNOWN, json.dumps(sorted(set(keys))))

    def look(self) -> None:
        """Take in what is new and has rested since the last look."""
        folder = self.folder
        if folder is None or not self._session.is_open:
            return
        try:
            here = look(folder)
        except PhotoError as error:
            self._session.tell(error)
            return
        new = [seen for seen in here if seen.key not in self._known()]
        rested = [seen for seen in new if seen.key in self._before]
        self._before = {seen.key for seen in new}
        if len(rested) < len(new):
            self._rest.start()
        if rested:
            self._copy(rested)

    def _copy(self, rested: list[FileSeen]) -> None:
        stockroom = self._session.stockroom

        def work(job: Job) -> tuple[list[FileSeen], list[Path], list[str]]:
            done: list[FileSeen] = []
            copies: list[Path] = []
            troubles: list[str] = []
            for seen in rested:
                job.check()
                try:
                    copy = copy_in(stockroom, seen)
                except BinderyError as error:
                    troubles.append(str(error))
                    continue
                done.append(seen)
                if copy is not None:
                    copies.append(copy)
            tidy(stockroom)
            return done, copies, troubles

        self._session.jobs.run(work, owner=self, done=self._copied)

    def _copied(self, outcome: tuple[list[FileSeen], list[Path], list[str]]) -> None:
        done, copies, troubles = outcome
        self._know({*self._known(), *(seen.key for seen in done)})
        for trouble in troubles:
            self._session.tell(PhotoError(trouble))
        if copies:
            self._offer(copies)
            count = len(copies)
            what = "photograph waits" if count == 1 else "photographs wait"
            self._session.said.emit(f"{count} {what} at the photo table.")
