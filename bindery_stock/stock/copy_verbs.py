"""Copies of an open stockroom: when one is asked for, of each day with a step, and at closing."""

import threading
from datetime import UTC, date, datetime
from pathlib import Path

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from bindery_stock.clock import Clock
from bindery_stock.stock.keeping import backup
from bindery_stock.stock.keeping.disk import told
from bindery_stock.stock.ledger.tables import StepRow
from bindery_stock.stock.reading import BACKUPS, DATABASE


class CopyVerbs:
    """Making copies of the database; see ``Stockroom``, which has the rest of it."""

    folder: Path
    _clock: Clock
    _writing: threading.RLock
    _latest: datetime | None
    _changed = False
    """Whether something was changed here since the last copy was made."""
    _seen_to: date | None = None
    """The last day, in UTC, that was seen to for its copy."""

    def _session(self) -> Session:
        raise NotImplementedError

    def backup(self, reason: str) -> Path:
        """Make a checked copy of the database in ``backups`` and return its path.

        Raises ``DamagedStockroom`` or ``DiskTrouble``; the copies that were there are kept.
        """
        return self._copy(reason, self._clock())

    @property
    def wants_daily(self) -> bool:
        """Whether a step was made on a day that was not yet seen to for its copy."""
        return self._changed and self._latest is not None and _day(self._latest) != self._seen_to

    def keep_daily(self) -> Path | None:
        """Copy the database if the day of the last step has no daily copy yet; thin the others.

        The opening sees to this too; here it is for a stockroom that stays open for days. A day is
        tried once. Raises as ``backup``.
        """
        with self._writing:
            if not self.wants_daily or self._latest is None:
                return None
            self._seen_to = _day(self._latest)
            with told(self.folder):
                if backup.day_has_daily(self.folder / BACKUPS, self._latest):
                    return None
            return self._kept_daily(self._latest)

    def keep_at_closing(self) -> Path | None:
        """Copy the database if something was changed since the last copy. Raises as ``backup``."""
        with self._writing:
            return self._kept_daily(self._clock()) if self._changed else None

    def _kept_daily(self, at: datetime) -> Path:
        path = self._copy(backup.DAILY, at)
        with told(self.folder):
            backup.thin(self.folder / BACKUPS)
        return path

    def _copy(self, reason: str, at: datetime) -> Path:
        with self._writing, told(self.folder), self._session() as session:
            step = session.scalar(select(func.max(StepRow.number))) or 0
            session.rollback()
            path = backup.take(self.folder / DATABASE, self.folder / BACKUPS, reason, at, step)
            self._changed = False
        return path


def _day(at: datetime) -> date:
    return at.astimezone(UTC).date()
