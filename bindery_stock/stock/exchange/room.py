"""Taking another stockroom into this one: seen first, then done as one step."""

from collections.abc import Callable, Mapping
from pathlib import Path

from bindery_stock.errors import DiskTrouble
from bindery_stock.stock.doing import Doing
from bindery_stock.stock.exchange.comparison import MergeChoice, MergePlan, compare
from bindery_stock.stock.exchange.merge import merge
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.reading import Questions


class MergeVerbs(Doing):
    """The verb that takes another stockroom in; see ``Stockroom``."""

    def archive_photo(self, source: Path | bytes, *, name: str, width: int, height: int) -> Photo:
        """Keep an original for good; see ``Stockroom``."""
        raise NotImplementedError

    def plan_merge(self, other: Questions) -> MergePlan:
        """What taking the other stockroom in would do; nothing is changed."""
        return compare(self.whole(), other.whole())

    def merge(
        self,
        other: Questions,
        choices: Mapping[tuple[str, str], MergeChoice],
        *,
        tell: Callable[[float, str], None] = lambda _share, _words: None,
        check: Callable[[], None] = lambda: None,
    ) -> Changes:
        """Take in what is new in the other stockroom, with its photographs, as one step.

        ``choices`` says by table and code what becomes of what differs; the rest is kept as it is
        here. Photographs whose originals are gone there are named, and nothing is taken in then:
        raises ``DiskTrouble``. Raises ``StockError`` where everything is here already, and where
        theirs was chosen instead of what must stay (``Item.ours_stays``).
        """
        known = {photo.sha256 for photo in self.photos()}
        wanted = [photo for photo in other.photos() if photo.sha256 not in known]
        for number, photo in enumerate(wanted):
            check()
            tell(number / len(wanted), f"Photograph {number + 1} of {len(wanted)}")
            source = other.photo_path(photo.sha256)
            kept = self.archive_photo(
                source, name=photo.name, width=photo.width, height=photo.height
            )
            if kept.sha256 != photo.sha256:
                raise DiskTrouble(
                    f"The original of {photo.name} has been altered in {other.folder.name}. Have "
                    "that stockroom checked first. Nothing was taken in."
                )
        check()
        theirs = other.whole()

        def work(draft: Draft) -> str:
            count = merge(draft, self.whole(), theirs, choices)
            things = "1 thing" if count == 1 else f"{count} things"
            return f"Took in {things} from {other.folder.name}"

        return self._do(Verb.SHELVED, work)
