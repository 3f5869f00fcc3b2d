"""One waiting photograph with everything marked on it so far."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtGui import QImage

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.bench.photo_table.found_outline import FoundOutline
from bindery_stock.bench.photo_table.marks import Facts, Marks, Patches
from bindery_stock.bench.photo_table.readings import Sample
from bindery_stock.colour import ColourReading, odd_places
from bindery_stock.colour.odd_places import Box
from bindery_stock.desktop.pictures import codes_of
from bindery_stock.shape import Ring


class ScrapDraft:
    """A photograph on its way to the shelf; ``anew`` is the code of the piece it shows again.

    ``path`` is the file, ``name`` what the user calls it, ``size`` its upright pixels (0, 0 until
    it has been read), ``thumbnail`` a small picture of it, ``picture`` a quick one and ``full`` the
    sharp one, both only while the photograph is at hand, ``readings``
    what was measured on it and ``refusals`` why something could not be.
    """

    def __init__(self, path: Path, name: str) -> None:
        """Begin with nothing marked."""
        self.path = path
        self.name = name
        self.size = (0, 0)
        self.thumbnail = QImage()
        self.picture = QImage()
        self.full = QImage()
        self.marks = Marks()
        self.facts: Facts | None = None
        self.step = 0
        self.anew = ""
        self.shown: tuple[str, ...] | None = None
        """Codes of the pieces that were read from this photograph before; None until asked."""
        self.go_on = False
        """Whether the binder has said that it shows another scrap too."""
        self.found: FoundOutline | str | None = None
        self.found_reference: FoundReference | None = None
        self.looked_for_reference = False
        self.reference_settled = False
        """Whether the binder has kept, mended or left out what was found, or marked another."""
        self.kind_by_hand = False
        """Whether the binder has chosen the kind of reference for this photograph."""
        self.readings: dict[Sample, ColourReading] = {}
        self.refusals: dict[Sample, Exception] = {}
        self._odd: tuple[Ring, list[Box]] = ((), [])
        self._past: list[Marks] = []
        self._future: list[Marks] = []

    def odd_places(self) -> list[Box]:
        """Where the cloth within its outline looks stained or faded, in pixels of the photograph.

        Takes some hundredths of a second for each new outline; nothing while there is no picture.
        """
        ring, picture = self.marks.outline, self.at_hand
        if len(ring) < 3 or picture.isNull() or not self.is_ready:
            return []
        if self._odd[0] != ring:
            scale = picture.width() / self.size[0]
            small = [(x * scale, y * scale) for x, y in ring]
            found = odd_places(codes_of(picture), small)
            self._odd = ring, [(a / scale, b / scale, c / scale, d / scale) for a, b, c, d in found]
        return self._odd[1]

    @property
    def is_ready(self) -> bool:
        """Whether the photograph has been read."""
        return self.size[0] > 0

    @property
    def at_hand(self) -> QImage:
        """The best picture there is besides the sharp one."""
        return self.thumbnail if self.picture.isNull() else self.picture

    def put_away(self) -> None:
        """Keep only the thumbnail, to spare memory."""
        self.picture = QImage()
        self.full = QImage()

    @property
    def has_history(self) -> bool:
        """Whether any mark has been made, be it taken back or not."""
        return bool(self._past or self._future)

    @property
    def may_undo(self) -> bool:
        """Whether there is a change to the marks to take back."""
        return bool(self._past)

    @property
    def may_redo(self) -> bool:
        """Whether there is a change to the marks to make again."""
        return bool(self._future)

    def record(self, marks: Marks) -> None:
        """Take over new marks, keeping those before for the way back."""
        if marks != self.marks:
            self._past.append(self.marks)
            self._future.clear()
            self.marks = marks

    def stand(self, reference: Patches) -> None:
        """A target found by itself stands marked: no step of the hand, so no Undo loses it."""

        def standing(marks: Marks) -> Marks:
            return marks if marks.reference else replace(marks, reference=reference)

        self.marks = standing(self.marks)
        self._past = [standing(marks) for marks in self._past]
        self._future = [standing(marks) for marks in self._future]

    def undo(self) -> bool:
        """Take back the last change to the marks; False where there is none."""
        return self._step(self._past, self._future)

    def redo(self) -> bool:
        """Make the change again that was taken back; False where there is none."""
        return self._step(self._future, self._past)

    def begin_again(self, marks: Marks, facts: Facts, step: int) -> None:
        """Begin another piece in the same photograph, with these marks and facts to start from."""
        self.marks = marks
        self.facts = facts
        self.step = step
        self.found = None
        self.anew = ""
        self._past.clear()
        self._future.clear()

    def _step(self, source: list[Marks], target: list[Marks]) -> bool:
        if not source:
            return False
        target.append(self.marks)
        self.marks = source.pop()
        return True
