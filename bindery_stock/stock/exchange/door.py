"""Tables and other stockrooms that come in, and the whole of this one as it goes out."""

from collections.abc import Callable, Mapping, Sequence

from bindery_stock.errors import DiskTrouble
from bindery_stock.stock.door import Group
from bindery_stock.stock.exchange import bring_in
from bindery_stock.stock.exchange.comparison import MergeChoice, MergePlan, compare
from bindery_stock.stock.exchange.merge import merge
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.ledger.whole import Whole, stock_alone, taken
from bindery_stock.stock.lots.values import NewAdhesiveLot
from bindery_stock.stock.photos.door import Photos
from bindery_stock.stock.pieces.values import NewPiece


class Exchange(Group):
    """What comes in from elsewhere, each time as one step."""

    @property
    def name(self) -> str:
        """What the folder is called."""
        return self._door.folder.name

    @property
    def photos(self) -> Photos:
        """The photographs that go with it."""
        return Photos(self._door)

    def whole(self) -> Whole:
        """Everything in the database, to be carried elsewhere; photographs lie in ``photos``."""
        found: Whole = self._ask(taken)
        return found

    def stock_alone(self) -> Whole:
        """What the ledger adds up to, to be held against another stockroom's."""
        found: Whole = self._ask(stock_alone)
        return found

    def bring_in(
        self,
        news: Sequence[tuple[NewPiece, str]],
        *,
        name: str,
        tell: Callable[[float, str], None] = lambda _share, _words: None,
        check: Callable[[], None] = lambda: None,
    ) -> Changes:
        """Put pieces on the shelf in one step, each with its code, or the next where it is empty.

        ``check`` is asked often and may raise to stop: nothing is kept then. Raises ``EntryError``
        for a code that is taken and for what cannot be kept; photographs and parents are left out.
        """

        def work(draft: Draft) -> str:
            bring_in.bring_in(draft, news, tell, check)
            return name

        return self._do(Verb.SHELVED, work)

    def bring_in_lots(
        self,
        news: Sequence[tuple[NewAdhesiveLot, str]],
        *,
        name: str,
        tell: Callable[[float, str], None] = lambda _share, _words: None,
        check: Callable[[], None] = lambda: None,
    ) -> Changes:
        """Enter tins, jars and batches in one step, each with its code, or the next; as above.

        What they were mixed from is left out.
        """

        def work(draft: Draft) -> str:
            bring_in.bring_in_lots(draft, news, tell, check)
            return name

        return self._do(Verb.OPENED, work)

    def plan_merge(self, other: "Exchange") -> MergePlan:
        """What taking the other stockroom in would do; nothing is changed."""
        return compare(self.stock_alone(), other.stock_alone())

    def fetch_photos(
        self,
        other: "Exchange",
        *,
        tell: Callable[[float, str], None] = lambda _share, _words: None,
        check: Callable[[], None] = lambda: None,
    ) -> None:
        """Archive the photographs of the other stockroom that are new here; no step.

        Raises ``DiskTrouble`` for an original that is gone there or was altered.
        """
        known = {photo.sha256 for photo in self.photos.listed()}
        wanted = [photo for photo in other.photos.listed() if photo.sha256 not in known]
        for number, photo in enumerate(wanted):
            check()
            tell(number / len(wanted), f"Photograph {number + 1} of {len(wanted)}")
            source = other.photos.path(photo.sha256)
            kept = self.photos.archive(
                source, name=photo.name, width=photo.width, height=photo.height
            )
            if kept.sha256 != photo.sha256:
                raise DiskTrouble(
                    f"The original of {photo.name} has been altered in {other.name}. Have "
                    "that stockroom checked first. Nothing was taken in."
                )

    def merge(
        self,
        other: "Exchange",
        choices: Mapping[tuple[str, str], MergeChoice],
        *,
        tell: Callable[[float, str], None] = lambda _share, _words: None,
        check: Callable[[], None] = lambda: None,
    ) -> Changes:
        """Take in what is new in the other stockroom, with its photographs, as one step.

        ``choices`` says by table and code what becomes of what differs; the rest is kept as it is
        here. Photographs whose originals are gone there are named, and nothing is taken in then:
        raises ``DiskTrouble``. Where everything is here already nothing is changed. Raises
        ``StockError`` where theirs was chosen instead of what must stay (``Item.ours_stays``).
        """
        self.fetch_photos(other, tell=tell, check=check)
        check()
        theirs = other.stock_alone()

        def work(draft: Draft) -> str:
            count = merge(draft, self.stock_alone(), theirs, choices)
            things = "1 thing" if count == 1 else f"{count} things"
            return f"Took in {things} from {other.name}"

        return self._do(Verb.SHELVED, work)
