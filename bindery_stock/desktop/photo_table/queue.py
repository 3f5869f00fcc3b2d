"""The photographs that wait to be shelved."""

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QClipboard, QImage

from bindery_stock.bench.colour_room.archive_photos import readable_name
from bindery_stock.desktop.drops import photo_paths
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.photo_canvas.read_photo import (
    LONGEST_DRAFT,
    Shown,
    read_draft,
    read_full,
)
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.kept_draft import KeptDrafts
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, PhotoError

_AT_HAND = 6
"""So many photographs keep their pictures in memory, those last on the table first."""
_SOON = 400
"""Milliseconds after a mark until it is written down."""


class WaitingPhotos(QObject):
    """Reads what is offered, refuses what is no photograph, and keeps the rest in order.

    Emits ``changed()`` when a photograph came, was read or went, and ``refused(str)`` with a
    sentence for each file that is no photograph. Drafts set aside keep their marks: the same file
    offered again brings them back. All of it is kept on disk, and is there again at the next start.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        """Begin with none."""
        super().__init__()
        self._session = session
        self.drafts: list[ScrapDraft] = []
        self._aside: dict[Path, ScrapDraft] = {}
        self._at_hand: list[ScrapDraft] = []
        self._keeping = KeptDrafts(session.settings.path)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(_SOON)
        self._soon.timeout.connect(self.keep)
        self.changed.connect(self.keep_soon)

    @property
    def has_aside(self) -> bool:
        """Whether any photograph was set aside."""
        return bool(self._aside)

    def restore(self) -> None:
        """Bring back what waited when the program was closed."""
        try:
            waiting, aside = self._keeping.load()
        except BinderyError as error:
            self._session.tell(error)
            return
        self._aside.update({draft.path: draft for draft in aside})
        self.drafts += waiting
        self.read_again()
        if waiting:
            self.changed.emit()

    def read_again(self) -> None:
        """Read what has not been read, or whose reading was stopped."""
        for draft in self.drafts:
            if not draft.is_ready:
                self._read(draft)

    def keep_soon(self) -> None:
        """Something changed: write it down before long."""
        self._soon.start()

    def keep(self) -> None:
        """Write down what waits, now."""
        self._soon.stop()
        try:
            self._keeping.save(self.drafts, self._aside.values())
        except BinderyError as error:
            self._session.tell(error)

    def offer(self, paths: Iterable[Path]) -> None:
        """Take in files, in their order; one that waits already is not taken twice."""
        for path in paths:
            if any(draft.path == path for draft in self.drafts):
                continue
            draft = self._aside.pop(path, None) or ScrapDraft(path, readable_name(path.name))
            self.drafts.append(draft)
            if not draft.is_ready:
                self._read(draft)
        self.changed.emit()

    def offer_anew(self, code: str, path: Path) -> None:
        """Take in a new photograph of the piece with this code, marked from the start."""
        self._aside.pop(path, None)
        self.offer([path])
        draft = next(draft for draft in self.drafts if draft.path == path)
        draft.anew, draft.facts = code, None
        self.changed.emit()

    def paste_all(self, clipboard: QClipboard) -> bool:
        """Take in the files or the picture of the clipboard; False where it holds neither."""
        data = clipboard.mimeData()
        paths = photo_paths(data)
        if paths:
            self.offer(paths)
        elif data.hasImage():
            self.paste(clipboard.image())
        else:
            return False
        return True

    def paste(self, image: QImage) -> None:
        """Take in a picture from the clipboard, as a PNG file of its own."""

        def save(_job: Job) -> Path:
            path = self._keeping.new_picture("Pasted photograph.png")
            if not image.save(str(path)):
                raise PhotoError(
                    "The pasted picture could not be kept. Save it as a file and choose that."
                )
            return path

        self._session.jobs.run(
            save, owner=self, done=lambda path: self.offer([path]), failed=self._session.tell
        )

    def sharpen(self, draft: ScrapDraft) -> None:
        """Read the pictures of this photograph, and put those of most others away."""
        self._at_hand = [draft, *(d for d in self._at_hand if d is not draft)]
        for other in self._at_hand[1:]:
            other.full = QImage()
        for other in self._at_hand[_AT_HAND:]:
            other.put_away()
        del self._at_hand[_AT_HAND:]
        if draft.picture.isNull():
            self._read(draft)
        if draft.full.isNull() and max(draft.size) > LONGEST_DRAFT:
            self._read_sharp(draft)

    def _read_sharp(self, draft: ScrapDraft) -> None:
        def done(shown: Shown) -> None:
            if self._at_hand and self._at_hand[0] is draft:
                draft.full = shown.picture
                self.changed.emit()

        self._session.jobs.run(
            lambda _job: read_full(draft.path), owner=self, done=done, failed=self._session.tell
        )

    def after(self, draft: ScrapDraft) -> ScrapDraft | None:
        """The photograph that follows, or the first, or none."""
        place = self.drafts.index(draft) if draft in self.drafts else -1
        rest = [d for d in self.drafts[place + 1 :] + self.drafts if d is not draft]
        return rest[0] if rest else None

    def drop(self, draft: ScrapDraft) -> None:
        """The photograph has been shelved."""
        self.drafts.remove(draft)
        if draft in self._at_hand:
            self._at_hand.remove(draft)
        self._keeping.forget_picture(draft.path)
        self.changed.emit()

    def set_aside(self, draft: ScrapDraft) -> None:
        """Take a photograph out of the queue, keeping its marks."""
        self.drafts.remove(draft)
        draft.put_away()
        self._aside[draft.path] = draft
        self.changed.emit()

    def bring_back(self) -> None:
        """Put the photograph set aside last at the end of the queue."""
        if self._aside:
            path, _draft = list(self._aside.items())[-1]
            self.offer([path])

    def _read(self, draft: ScrapDraft) -> None:
        def done(shown: Shown) -> None:
            draft.thumbnail, draft.size = shown.thumbnail, shown.size
            if draft in self._at_hand or len(self._at_hand) < _AT_HAND:
                draft.picture = shown.picture
                if draft not in self._at_hand:
                    self._at_hand.append(draft)
            self.changed.emit()

        def failed(error: Exception) -> None:
            if draft in self.drafts:
                self.drafts.remove(draft)
            self._session.tell(error)
            if isinstance(error, PhotoError):
                self.refused.emit(str(error))
            self.changed.emit()

        self._session.jobs.run(
            lambda _job: read_draft(draft.path), owner=self, done=done, failed=failed
        )
