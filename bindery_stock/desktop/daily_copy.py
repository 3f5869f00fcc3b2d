"""Each day with a step has its copy, however long the window stays open."""

from PySide6.QtCore import QObject

from bindery_stock.desktop.jobs import Jobs, Pool
from bindery_stock.desktop.news import News
from bindery_stock.errors import BinderyError
from bindery_stock.stock import Stockroom


class DailyCopy(QObject):
    """Makes the copy of the day, and tells where it could not be made."""

    def __init__(self, jobs: Jobs, news: News) -> None:
        """Work with these jobs, and tell by this news."""
        super().__init__(news)
        self._jobs = jobs
        self._news = news

    def keep(self, stockroom: Stockroom) -> None:
        """Make the copy of today, where there is none yet."""
        if stockroom.keeping.wants_daily:
            self._jobs.run(
                lambda _job: stockroom.keeping.keep_daily(),
                owner=self,
                done=lambda _path: None,
                failed=self._tell,
                pool=Pool.STOCK,
            )

    def _tell(self, error: Exception) -> None:
        if isinstance(error, BinderyError):
            self._news.noticed.emit(f"Today's backup could not be made. {error}")
        else:
            self._news.fault.emit(error)
