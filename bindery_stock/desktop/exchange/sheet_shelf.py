"""The label sheets of this machine: those shipped, and those the user measured."""

import json

from bindery_stock.desktop.settings import Settings
from bindery_stock.errors import EntryError
from bindery_stock.records.label_sheets import SHEETS, LabelSheet, sheet_of

_OWN = "labels/sheets"
_LAST = "labels/sheet"


class SheetShelf:
    """Remembers the user's own sheets and which one was used last."""

    def __init__(self, settings: Settings) -> None:
        """Read them from this machine's settings."""
        self._settings = settings

    @property
    def own(self) -> list[LabelSheet]:
        """The user's own sheets; one whose description is broken is left out."""
        sheets = []
        for written in json.loads(self._settings.text(_OWN, "[]")):
            try:
                sheets.append(sheet_of(written))
            except EntryError:
                continue
        return sheets

    @property
    def sheets(self) -> list[LabelSheet]:
        """All sheets, the user's own first."""
        return [*self.own, *SHEETS]

    def keep(self, sheet: LabelSheet) -> None:
        """Keep a sheet of one's own; one of the same name gives way."""
        others = [one for one in self.own if one.name != sheet.name]
        written = [one.as_dict() for one in (sheet, *others)]
        self._settings.set_text(_OWN, json.dumps(written))

    @property
    def last(self) -> str:
        """Name of the sheet used last."""
        return self._settings.text(_LAST, SHEETS[0].name)

    @last.setter
    def last(self, name: str) -> None:
        self._settings.set_text(_LAST, name)
