"""The folder itself: settings that travel with it, backups, and the check of everything."""

from datetime import UTC, date, datetime
from pathlib import Path

from sqlalchemy import Connection, func, select

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock import checks
from bindery_stock.stock.door import Group
from bindery_stock.stock.keeping import backup
from bindery_stock.stock.keeping import questions as keeping_questions
from bindery_stock.stock.keeping.disk import told
from bindery_stock.stock.keeping.layout import BACKUPS, DATABASE, PHOTOS
from bindery_stock.stock.keeping.legible import faults
from bindery_stock.stock.keeping.soundness import check
from bindery_stock.stock.keeping.tables import SettingRow
from bindery_stock.stock.keeping.values import Soundness
from bindery_stock.stock.ledger.tables import StepRow


class Keeping(Group):
    """Settings, backups and soundness of one stock folder."""

    _seen_to: date | None = None
    """The last day, in UTC, that was seen to for its copy."""

    def setting(self, key: str) -> str | None:
        """A setting that travels with the stock, or None where it was never set."""
        found: str | None = self._ask(keeping_questions.setting, key)
        return found

    def settings(self) -> dict[str, str]:
        """Every setting that travels with the stock, by its key."""
        found: dict[str, str] = self._ask(keeping_questions.settings)
        return found

    def set_setting(self, key: str, value: str) -> None:
        """Keep a setting that travels with the stock. It cannot be undone."""
        with self._door.unlogged() as session:
            session.merge(
                SettingRow(key=checks.words(key, "Setting"), value=checks.text(value, "Setting"))
            )

    def backup(self, reason: str) -> Path:
        """Make a checked copy of the database in ``backups`` and return its path.

        Raises ``DamagedStockroom`` or ``DiskTrouble``; the copies that were there are kept.
        """
        return self._copy(reason, self._door.clock())

    @property
    def wants_daily(self) -> bool:
        """Whether a step was made on a day that was not yet seen to for its copy."""
        return (
            self._door.changed
            and self._door.latest is not None
            and _day(self._door.latest) != self._seen_to
        )

    def keep_daily(self) -> Path | None:
        """Copy the database if the day of the last step has no daily copy yet; thin the others.

        The opening sees to this too; here it is for a stockroom that stays open for days. A day is
        tried once. Raises as ``backup``.
        """
        with self._door.writing:
            if not self.wants_daily or self._door.latest is None:
                return None
            self._seen_to = _day(self._door.latest)
            with told(self._door.folder):
                if backup.day_has_daily(self._door.folder / BACKUPS, self._door.latest):
                    return None
            return self._kept_daily(self._door.latest)

    def keep_at_closing(self) -> Path | None:
        """Copy the database if something was changed since the last copy. Raises as ``backup``."""
        with self._door.writing:
            return self._kept_daily(self._door.clock()) if self._door.changed else None

    def _kept_daily(self, at: datetime) -> Path:
        path = self._copy(backup.DAILY, at)
        with told(self._door.folder):
            backup.thin(self._door.folder / BACKUPS)
        return path

    def _copy(self, reason: str, at: datetime) -> Path:
        with self._door.writing, told(self._door.folder), self._door.session() as session:
            step = session.scalar(select(func.max(StepRow.number))) or 0
            session.rollback()
            path = backup.take(
                self._door.folder / DATABASE, self._door.folder / BACKUPS, reason, at, step
            )
            self._door.changed = False
        return path

    def check(self) -> Soundness:
        """Look at everything: pages, references, ledger against stock, every photograph.

        Takes seconds for a large stock. What is wrong is said, and nothing is changed.
        """
        folder = self._door.folder
        with told(folder):
            return check(folder / DATABASE, folder / PHOTOS, self._door.reader)

    def look_through(self, *, without: frozenset[str] = frozenset()) -> None:
        """Read every row once, but for the movements of the ledger and the photographs.

        ``without`` names the tables that are read whole by other questions at the same time.

        Raises ``DamagedStockroom`` for the first that cannot be read.
        """

        def first(connection: Connection) -> str:
            return next(faults(connection, without=without | {"photo"}), "")

        found: str = self._ask(first)
        if found:
            raise DamagedStockroom(found)


def _day(at: datetime) -> date:
    return at.astimezone(UTC).date()
