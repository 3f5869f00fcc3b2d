"""The photo table: photographs come in, are marked in seven steps, and go onto the shelf."""

from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout

from bindery_stock.bench.colour_room.archive_photos import refuse_known
from bindery_stock.bench.photo_table import shelve
from bindery_stock.bench.photo_table.marks import Facts, Marks, StepName
from bindery_stock.desktop.column import hair_line
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.drops import ask_photos
from bindery_stock.desktop.photo_table.commands import table_commands
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.known_photo import KnownPhoto
from bindery_stock.desktop.photo_table.mark_desk import Marking
from bindery_stock.desktop.photo_table.queue import WaitingPhotos
from bindery_stock.desktop.photo_table.refusals import Refusals
from bindery_stock.desktop.photo_table.tray import Tray
from bindery_stock.desktop.screen import EitherOr, EmptyState, MarkTurns, Screen, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import AlreadyShelved, EntryError, NotFound
from bindery_stock.stock import Changes, Stockroom

_FOLDER = "photo_table/folder"
_WHAT_FOR = (
    "Lay the scrap flat on a plain sheet with a ruler beside it, in even light. "
    "Then drop the photographs anywhere on this window, paste one with Ctrl+V, "
    "or choose them here. Old cloth may be dusty, mouldy or dyed with arsenic or lead: "
    "handle what you do not know with gloves, and follow your local rules."
)


class PhotoTableScreen(Screen):
    """Shelves photographed scraps. Takes whatever the session's ``photos_offered`` brings."""

    title = "Photo table"
    icon = "photo_table"

    def __init__(self, session: Session) -> None:
        """Begin with an empty table."""
        super().__init__(session)
        self.waiting = WaitingPhotos(session)
        self._last_facts = Facts()
        self._shelving = False
        self._wanted: ScrapDraft | None = None
        self.tray = Tray()
        self.refusals = Refusals()
        self.known = KnownPhoto()
        below = [self.known, self.refusals, hair_line(), self.tray]
        self.marking = Marking(session, below)
        choose = next_button("Choose photographs…")
        choose.clicked.connect(self.choose)
        self.empty = EmptyState("Photograph a scrap, then shelve it", _WHAT_FOR, [choose])
        self._either = EitherOr(self.empty, self.marking)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._either)
        session.photos_offered.connect(self.offer)
        session.anew_offered.connect(self.offer_anew)
        self.waiting.changed.connect(self._waiting_changed)
        self.waiting.refused.connect(self.refusals.add)
        self.tray.wanted.connect(self.put_on_table)
        self.tray.more_wanted.connect(self.choose)
        self.tray.aside_wanted.connect(self.set_aside)
        self.known.aside_wanted.connect(self.set_aside)
        self.known.go_on_wanted.connect(self.go_on)
        self.marking.shelve_wanted.connect(self._shelve)
        self.marking.edited.connect(self.waiting.keep_soon)
        self.waiting.restore()

    @property
    def draft(self) -> ScrapDraft | None:
        """The photograph on the table."""
        return self.marking.draft

    # Photographs come in

    def offer(self, paths: list[Path]) -> None:
        """Take in files as waiting photographs."""
        self.waiting.offer(paths)

    def offer_anew(self, code: str, path: Path) -> None:
        """Take in a new photograph of a piece, and put it on the table once it has been read."""
        self.waiting.offer_anew(code, path)
        draft = next(draft for draft in self.waiting.drafts if draft.path == path)
        self._wanted = draft
        self.put_on_table(draft)
        self.session.photos_offered.emit([path])

    def choose(self) -> None:
        """Let the user choose files."""
        ask_photos(self, self.session.settings.text(_FOLDER), self._files_chosen)

    def paste(self) -> None:
        """Take in files or a picture from the clipboard."""
        if not self.waiting.paste_all(QGuiApplication.clipboard()):
            self.session.trouble.emit(
                "There is no photograph on the clipboard. Copy a picture or its file first."
            )

    def _files_chosen(self, files: list[Path]) -> None:
        self.session.settings.set_text(_FOLDER, str(files[0].parent))
        self.offer(files)

    def _waiting_changed(self) -> None:
        drafts = self.waiting.drafts
        if self.draft not in drafts:
            self.marking.clear()
        wanted = self._wanted
        if wanted is not None and (wanted.is_ready or wanted not in drafts):
            self._wanted = None
            if wanted in drafts:
                self.put_on_table(wanted)
        if self.draft is not None:
            self.marking.show_picture()
        elif drafts:
            # In the order they came, though a later one may have been read sooner.
            self.put_on_table(drafts[0])
        self._either.show_only(self.marking if drafts else self.empty)
        self.tray.show_drafts(drafts, self.draft)

    # On the table

    def put_on_table(self, draft: ScrapDraft) -> None:
        """Show this photograph with its marks, once it has been read."""
        if not draft.is_ready:
            return
        if draft.facts is None:
            draft.facts = self._first_facts(draft)
        if self.session.is_open:
            self.marking.facts_step.know_words()
        self._either.show_only(self.marking)
        self.marking.put(draft)
        self.waiting.sharpen(draft)
        self.tray.show_drafts(self.waiting.drafts, draft)
        self.known.look_up(draft, self.session)

    def go_on(self) -> None:
        """The photograph shows another scrap: mark it."""
        draft = self.draft
        if draft is not None:
            draft.go_on = True
            self.known.show_draft(draft)
            self.marking.go_to_step(self.marking.step)

    def _first_facts(self, draft: ScrapDraft) -> Facts:
        """Those of the piece photographed anew, else those that held for the last scrap."""
        if not draft.anew or not self.session.is_open:
            return self._last_facts
        try:
            return shelve.facts_of(self.session.piece(draft.anew))
        except NotFound as error:  # its shelving was taken back, or it is of another stockroom
            self.session.tell(error)
            draft.anew = ""
            return self._last_facts

    def set_aside(self) -> None:
        """Take the photograph off the table; its marks are kept."""
        draft = self._on_table()
        if draft is not None:
            self.waiting.set_aside(draft)
            self.session.said.emit(f"Set “{draft.name}” aside; nothing was shelved")

    def bring_back(self) -> None:
        """Put the photograph set aside last back in the queue."""
        if self.waiting.has_aside:
            self.waiting.bring_back()
        else:
            self.session.trouble.emit("No photograph was set aside, so none can be brought back.")

    def _on_table(self) -> ScrapDraft | None:
        """The photograph on the table; says so where there is none."""
        if self.draft is None:
            self.session.trouble.emit(
                "No photograph lies on the table. Drop, paste or choose one first."
            )
        return self.draft

    # Onto the shelf

    def shelve(self) -> None:
        """Shelve the scrap and bring the next photograph, or say what is missing."""
        self._shelve(another=False)

    def shelve_and_mark_another(self) -> None:
        """Shelve the scrap and keep the photograph, with its scale, for another."""
        self._shelve(another=True)

    def _shelve(self, another: bool) -> None:
        draft = self._on_table()
        if draft is None or self._shelving or not self.marking.read_entries():
            return
        marks, facts, readings = draft.marks, draft.facts or Facts(), dict(draft.readings)
        anew, go_on = draft.anew, draft.go_on
        if draft.shown and not go_on:
            self.known.ask()
            return
        missing = shelve.wanting(marks, facts)
        if missing is not None:
            self.marking.stop_at(missing.step, missing.words)
            return

        def verb(stockroom: Stockroom) -> Changes:
            if not go_on:
                refuse_known(stockroom, draft.path, draft.name)
            return shelve.shelve(
                stockroom,
                source=draft.path,
                name=draft.name,
                size=draft.size,
                marks=marks,
                facts=facts,
                readings=readings,
                anew=anew,
            )

        self._set_shelving(under_way=True)
        self.session.do(
            verb,
            done=lambda _changes: self._shelved(draft, facts, another=another),
            failed=self._not_shelved,
        )

    def _shelved(self, draft: ScrapDraft, facts: Facts, *, another: bool) -> None:
        self._set_shelving(under_way=False)
        self._last_facts = facts.for_the_next()
        if another:
            step = list(StepName).index(StepName.OUTLINE)
            was = draft.marks
            kept = Marks(scale=was.scale, reference=was.reference, sheet=was.sheet, lent=was.lent)
            draft.begin_again(kept, self._last_facts, step)
            draft.go_on = True
            self.put_on_table(draft)
            return
        following = self.waiting.after(draft)
        if following is not None:
            self.put_on_table(following)
        self.waiting.drop(draft)

    def _not_shelved(self, error: Exception) -> None:
        self._set_shelving(under_way=False)
        if isinstance(error, AlreadyShelved) and self.draft is not None:
            self.draft.shown = error.codes
            self.known.show_draft(self.draft)
            self.known.ask()
            return
        if isinstance(error, EntryError) and error.field in set(StepName):
            self.marking.stop_at(StepName(error.field), str(error))
        self.session.tell(error)

    def _set_shelving(self, *, under_way: bool) -> None:
        self._shelving = under_way
        self.marking.panel.show_shelving(under_way=under_way)

    # The place

    def commands(self) -> list[Command]:
        """What can be done here."""
        return table_commands(self)

    def marks(self) -> MarkTurns | None:
        """The marks in the photograph on the table, once there are any."""
        return self.marking.turns()

    def stock_opened(self) -> None:
        """Photographs that wait go on waiting; the words of the other stockroom are offered.

        Opening a stockroom stopped what was being read for the one before.
        """
        self.marking.facts_step.know_words()
        self.marking.jobs_stopped()
        self.waiting.read_again()
        for draft in self.waiting.drafts:
            draft.go_on = False  # what was answered was about the other stockroom
        self._look_again()

    def stock_changed(self, changes: Changes) -> None:
        """A piece that a waiting photograph shows may have come, or been taken back."""
        if changes.touched.get("piece"):
            self._look_again()

    def _look_again(self) -> None:
        for draft in self.waiting.drafts:
            draft.shown = None
        if self.draft is not None and not self._shelving:
            self.known.look_up(self.draft, self.session)

    def may_leave(self) -> bool:
        """The marks are kept for the next start, so nothing need be asked."""
        self.waiting.keep()
        return True

    def came_forward(self) -> None:
        """The hand expects the photograph."""
        if self.draft is not None:
            self.marking.go_to_step(self.marking.step)
        else:
            self.empty.setFocus()
