"""The waiting photographs and their marks, kept on disk until they are shelved or set aside."""

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QIODevice, QSaveFile

from bindery_stock.bench.photo_table.kept_marks import (
    facts_from_plain,
    facts_to_plain,
    marks_from_plain,
    marks_to_plain,
)
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.errors import BinderyError, DiskTrouble, EntryError


class KeptDrafts:
    """One small file beside the settings, written whole or not at all, and pasted pictures."""

    def __init__(self, settings: Path) -> None:
        """Keep beside this settings file."""
        self.folder = settings.parent / "waiting"
        self._list = self.folder / "photographs.json"

    def new_picture(self, name: str) -> Path:
        """A free file name for a pasted picture."""
        self.folder.mkdir(parents=True, exist_ok=True)
        stem, suffix = Path(name).stem, Path(name).suffix
        path, number = self.folder / name, 1
        while path.exists():
            number += 1
            path = self.folder / f"{stem} {number}{suffix}"
        return path

    def is_ours(self, path: Path) -> bool:
        """Whether a file is a pasted picture kept here."""
        return path.parent == self.folder

    def forget_picture(self, path: Path) -> None:
        """A pasted picture has been shelved: the stockroom has it now."""
        if self.is_ours(path):
            path.unlink(missing_ok=True)

    def save(self, waiting: Iterable[ScrapDraft], aside: Iterable[ScrapDraft]) -> None:
        """Write down what waits and what was set aside. Raises ``DiskTrouble``."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise DiskTrouble(self._trouble()) from error
        kept_drafts = {
            "waiting": [_plain(draft) for draft in waiting],
            "aside": [_plain(draft) for draft in aside],
        }
        text = json.dumps(kept_drafts)
        file = QSaveFile(str(self._list))
        kept = file.open(QIODevice.OpenModeFlag.WriteOnly)
        if not (kept and file.write(text.encode()) >= 0 and file.commit()):
            raise DiskTrouble(self._trouble())

    def load(self) -> tuple[list[ScrapDraft], list[ScrapDraft]]:
        """What waited and what was set aside when the program was closed.

        Raises ``EntryError`` where it is unreadable.
        """
        if not self._list.exists():
            return [], []
        try:
            kept = json.loads(self._list.read_text(encoding="utf-8"))
            waiting, aside = ([_draft(one) for one in kept[key]] for key in ("waiting", "aside"))
        except (OSError, ValueError, KeyError, TypeError, BinderyError) as error:
            raise EntryError(
                "Waiting photographs",
                f"What waited on the photo table cannot be read ({self._list}). "
                "Choose the photographs again.",
            ) from error
        return waiting, aside

    def _trouble(self) -> str:
        return (
            f"The marks on waiting photographs cannot be kept in {self.folder}. Shelve them before "
            "you close the program, or make room on the disk."
        )


def _plain(draft: ScrapDraft) -> dict[str, Any]:
    return {
        "path": str(draft.path),
        "name": draft.name,
        "step": draft.step,
        "anew": draft.anew,
        "reference_settled": draft.reference_settled,
        "marks": marks_to_plain(draft.marks),
        "facts": None if draft.facts is None else facts_to_plain(draft.facts),
    }


def _draft(kept: dict[str, Any]) -> ScrapDraft:
    draft = ScrapDraft(Path(kept["path"]), str(kept["name"]))
    draft.step = int(kept["step"])
    draft.anew = str(kept.get("anew", ""))
    draft.reference_settled = bool(kept.get("reference_settled", False))
    draft.marks = marks_from_plain(kept["marks"])
    draft.facts = None if kept["facts"] is None else facts_from_plain(kept["facts"])
    return draft
