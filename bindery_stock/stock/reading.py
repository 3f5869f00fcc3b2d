"""Asking the stockroom: every question a window puts to it."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine

from bindery_stock.errors import DamagedStockroom, DiskTrouble, RulesError
from bindery_stock.stock.keeping import photo_archive
from bindery_stock.stock.keeping import questions as keeping_questions
from bindery_stock.stock.keeping.disk import SpoiltText, told
from bindery_stock.stock.keeping.legible import faults, spoilt_texts
from bindery_stock.stock.keeping.soundness import check
from bindery_stock.stock.keeping.values import Soundness
from bindery_stock.stock.ledger import questions as ledger_questions
from bindery_stock.stock.ledger.standing import Standing
from bindery_stock.stock.ledger.values import Step
from bindery_stock.stock.ledger.whole import Whole, taken
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.lots.values import AdhesiveLot, LotUse
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.tables import PieceRow
from bindery_stock.stock.pieces.values import Cutting, Reservation, StockPiece
from bindery_stock.stock.wants import questions as want_questions
from bindery_stock.stock.wants.values import ReorderPoint, Wanted
from bindery_stock.trade import Rules, load_rules, shipped_rules

DATABASE = "stock.sqlite"
PHOTOS = "photos"
PREVIEWS = "previews"
BACKUPS = "backups"
OWN_RULES = "rules.toml"
"""The binder's own rules, beside the stock they speak of."""


class Questions:
    """Questions to an open stockroom. Each answer is of one moment, and made of plain values.

    Any thread may ask, also while another thread writes. All raise ``DiskTrouble`` where the disk
    fails and ``DamagedStockroom`` where the file does.
    """

    def __init__(self, folder: Path, reader: Engine) -> None:
        """Ask through ``reader`` about the stockroom in ``folder``."""
        self.folder = folder
        self._reader = reader
        self._known = Standing()
        self.rules: Rules = shipped_rules()
        self.rules_trouble = ""
        self.read_rules()

    @property
    def own_rules(self) -> Path:
        """Where the binder's own rules file lies, if there is one."""
        return self.folder / OWN_RULES

    def read_rules(self) -> None:
        """Read the binder's own rules file again; the shipped rules count where it is wrong.

        ``rules`` are the rules that count now, ``rules_trouble`` what is wrong with the file, with
        its line, or empty.
        """
        own = self.own_rules
        self.rules, self.rules_trouble = shipped_rules(), ""
        if not own.is_file():
            return
        try:
            self.rules = load_rules(own)
        except RulesError as error:
            self.rules_trouble = f"{error} Until then the rules shipped with the program count."

    def _ask(self, question: Any, *args: Any, **named: Any) -> Any:
        with self._asking() as connection:
            return question(connection, *args, **named)

    @contextmanager
    def _asking(self) -> Iterator[Connection]:
        """A connection for one question; what cannot be read is named."""
        try:
            with told(self.folder), self._reader.connect() as connection:
                yield connection
        except SpoiltText as fault:
            with told(self.folder):
                named = next(spoilt_texts(self.folder / DATABASE), fault)
            raise named from fault

    @property
    def previews(self) -> Path:
        """The folder of the preview cache, which may be emptied at any time."""
        return self.folder / PREVIEWS

    def pieces(self, *, gone: bool = False) -> list[StockPiece]:
        """The pieces on the shelf in the order of shelving; with ``gone`` all others too."""
        found: list[StockPiece] = self._ask(
            piece_questions.pieces,
            piece_questions.everything() if gone else piece_questions.on_shelf(),
        )
        return found

    def piece_count(self) -> int:
        """How many pieces lie on the shelf, told at once however many they are."""
        found: int = self._ask(piece_questions.how_many, piece_questions.on_shelf())
        return found

    def piece(self, code: str) -> StockPiece:
        """The piece with this code. Raises ``NotFound``."""
        found: StockPiece = self._ask(piece_questions.piece, code)
        return found

    def piece_by_id(self, piece_id: int) -> StockPiece:
        """The piece with this id. Raises ``NotFound``."""
        found: StockPiece = self._ask(piece_questions.piece_by_id, piece_id)
        return found

    def children(self, code: str) -> list[StockPiece]:
        """The offcuts of a piece. Raises ``NotFound``."""
        found: list[StockPiece] = self._ask(piece_questions.children, code)
        return found

    def ancestors(self, code: str) -> list[StockPiece]:
        """The piece it was cut from, then the one that was cut from, and so on to the first."""
        found: list[StockPiece] = self._ask(piece_questions.ancestors, code)
        return found

    def cutting(self, code: str) -> Cutting | None:
        """What was cut from a piece, or None where it was not cut. Raises ``NotFound``."""
        found: Cutting | None = self._ask(piece_questions.cutting, code)
        return found

    def reservations(self, code: str | None = None) -> list[Reservation]:
        """What is spoken for: of one piece, or of all."""
        found: list[Reservation] = self._ask(piece_questions.reservations, code)
        return found

    def adhesives(self, *, finished: bool = False) -> list[AdhesiveLot]:
        """The adhesive lots; with ``finished`` those used up too."""
        found: list[AdhesiveLot] = self._ask(lot_questions.adhesives, finished=finished)
        return found

    def adhesive(self, code: str) -> AdhesiveLot:
        """The lot with this code. Raises ``NotFound``."""
        found: AdhesiveLot = self._ask(lot_questions.adhesive, code)
        return found

    def lot_uses(self, code: str | None = None) -> list[LotUse]:
        """What was taken from one lot, or from all, the latest first."""
        found: list[LotUse] = self._ask(lot_questions.lot_uses, code)
        return found

    def wanted(self, *, closed: bool = False) -> list[Wanted]:
        """The wanted list; with ``closed`` also what was found or given up."""
        found: list[Wanted] = self._ask(want_questions.wanted, closed=closed)
        return found

    def reorder_points(self) -> list[ReorderPoint]:
        """The least that should be at hand, by kind."""
        found: list[ReorderPoint] = self._ask(want_questions.reorder_points)
        return found

    def photo(self, sha256: str) -> Photo:
        """A photograph by the hash of its content. Raises ``NotFound``."""
        found: Photo = self._ask(photo_questions.photo, sha256)
        return found

    def photos(self) -> list[Photo]:
        """Every photograph in the archive."""
        found: list[Photo] = self._ask(piece_questions.all_photos)
        return found

    def pieces_shown(self, sha256: str) -> list[str]:
        """Codes of the pieces that a photograph shows, by the hash of its content."""
        found: list[str] = self._ask(piece_questions.pieces_shown, sha256)
        return found

    def photo_path(self, sha256: str) -> Path:
        """Where its original lies. Raises ``NotFound``, and ``DiskTrouble`` where it is gone."""
        photo = self.photo(sha256)
        path = photo_archive.path_of(self.folder / PHOTOS, photo)
        if not path.is_file():
            raise DiskTrouble(
                f"The original of {photo.name} is missing from {self.folder / PHOTOS}. "
                "Add the photograph again and it will be put back."
            )
        return path

    def steps(
        self, *, code: str | None = None, limit: int | None = None, before: int | None = None
    ) -> list[Step]:
        """The ledger, newest first: of one piece or lot, at most ``limit``, below a number."""
        with self._asking() as connection:
            return ledger_questions.steps(
                connection, self._stands(connection), code=code, limit=limit, before=before
            )

    def undoable(self) -> Step | None:
        """The step that ``undo`` would take back."""
        return self._last("undo")

    def redoable(self) -> Step | None:
        """The step that ``redo`` would do again."""
        return self._last("redo")

    def _last(self, which: str) -> Step | None:
        with self._asking() as connection:
            stands = self._stands(connection)
            numbers: tuple[int, ...] = getattr(stands, which)
            return ledger_questions.step(connection, stands, numbers[-1]) if numbers else None

    def _stands(self, connection: Connection) -> Standing:
        """Counted on from the last time; another thread may count the same at once, unharmed."""
        self._known = stands = ledger_questions.standing(connection, self._known)
        return stands

    def places(self) -> list[str]:
        """Every place in use, for completing what is typed."""
        found: list[str] = self._ask(piece_questions.distinct, PieceRow.place, AdhesiveLotRow.place)
        return found

    def patterns(self) -> list[str]:
        """Every grain pattern in use."""
        found: list[str] = self._ask(piece_questions.distinct, PieceRow.pattern)
        return found

    def sources(self) -> list[str]:
        """Every source in use."""
        found: list[str] = self._ask(piece_questions.distinct, PieceRow.source)
        return found

    def setting(self, key: str) -> str | None:
        """A setting that travels with the stock, or None where it was never set."""
        found: str | None = self._ask(keeping_questions.setting, key)
        return found

    def look_through(self) -> None:
        """Read every row once, but for the movements of the ledger and the photographs.

        Raises ``DamagedStockroom`` for the first that cannot be read.
        """

        def first(connection: Connection) -> str:
            return next(faults(connection, without=frozenset({"photo"})), "")

        found: str = self._ask(first)
        if found:
            raise DamagedStockroom(found)

    def whole(self) -> Whole:
        """Everything in the database, to be carried elsewhere; photographs lie in ``photos``."""
        found: Whole = self._ask(taken)
        return found

    def check(self) -> Soundness:
        """Look at everything: pages, references, ledger against stock, every photograph.

        Takes seconds for a large stock. What is wrong is said, and nothing is changed.
        """
        with told(self.folder):
            return check(self.folder / DATABASE, self.folder / PHOTOS, self._reader)
