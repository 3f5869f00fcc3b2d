"""The pieces on the shelf: what is asked of them and done with them."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from bindery_stock.shape import Ring
from bindery_stock.stock.books.kept_shade import KeptShade
from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.pieces import changes as piece_changes
from bindery_stock.stock.pieces import confirmations
from bindery_stock.stock.pieces import cut as cuts
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces import reservations as bespoken
from bindery_stock.stock.pieces.confirmation import KeptConfirmation, NewConfirmation
from bindery_stock.stock.pieces.tables import PieceRow
from bindery_stock.stock.pieces.values import (
    Cutting,
    Family,
    NewPiece,
    Reservation,
    StockPiece,
    WordsInUse,
)
from bindery_stock.units import format_mm


class Pieces(Group):
    """Cloth, leather, mull, paper, board: every piece, on the shelf or gone."""

    def listed(self, *, gone: bool = False) -> list[StockPiece]:
        """The pieces on the shelf in the order of shelving; with ``gone`` all others too."""
        found: list[StockPiece] = self._ask(
            piece_questions.pieces,
            piece_questions.everything() if gone else piece_questions.on_shelf(),
        )
        return found

    def count(self) -> int:
        """How many pieces lie on the shelf, told at once however many they are."""
        found: int = self._ask(piece_questions.how_many, piece_questions.on_shelf())
        return found

    def get(self, code: str) -> StockPiece:
        """The piece with this code. Raises ``NotFound``."""
        found: StockPiece = self._ask(piece_questions.piece, code)
        return found

    def by_id(self, piece_id: int) -> StockPiece:
        """The piece with this id. Raises ``NotFound``."""
        found: StockPiece = self._ask(piece_questions.piece_by_id, piece_id)
        return found

    def named(self, codes: Collection[str]) -> list[StockPiece]:
        """The pieces with these codes, on the shelf or gone, in one question."""
        found: list[StockPiece] = self._ask(piece_questions.pieces, PieceRow.code.in_(codes))
        return found

    def by_ids(self, ids: Collection[int]) -> list[StockPiece]:
        """The pieces with these ids, on the shelf or gone, those there are."""
        found: list[StockPiece] = self._ask(piece_questions.pieces_by_id, ids)
        return found

    def family(self, code: str) -> Family:
        """What a piece was cut from and what was cut from it. Raises ``NotFound``."""
        found: Family = self._ask(piece_questions.family, code)
        return found

    def lines(self, codes: Iterable[str]) -> dict[str, list[StockPiece]]:
        """Each of these pieces, followed by what it was cut from, and so on to the first."""
        found: dict[str, list[StockPiece]] = self._ask(piece_questions.lines, codes)
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

    def shown_on(self, sha256: str) -> list[str]:
        """Codes of the pieces that a photograph shows, by the hash of its content."""
        found: list[str] = self._ask(piece_questions.pieces_shown, sha256)
        return found

    def words(self) -> WordsInUse:
        """Every place, grain pattern and source in use, for completing what is typed."""
        found: WordsInUse = self._ask(piece_questions.words_in_use, AdhesiveLotRow.place)
        return found

    def shelve(self, new: NewPiece, *, name: str | None = None) -> Changes:
        """Put a piece on the shelf; ``Changes.born`` has its code.

        Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a parent or a photograph
        that is not there (``archive_photo`` first).
        """
        return self.shelve_many([new], name=name)

    def shelve_many(self, news: Sequence[NewPiece], *, name: str | None = None) -> Changes:
        """Put several pieces on the shelf in one step; raises as ``shelve``."""

        def work(draft: Draft) -> str:
            for new in news:
                piece_changes.place_on_shelf(draft, new)
            return name or f"Shelved {_listed(draft.born)}"

        return self._do(Verb.SHELVED, work)

    def correct(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a piece: any fields of ``NewPiece`` but the parent.

        Raises ``EntryError`` where nothing would change, ``StockError`` where the outline of a
        reserved or cut-up piece would.
        """

        def work(draft: Draft) -> str:
            piece_changes.correct(draft, code, fields)
            return f"Corrected {', '.join(fields).replace('_', ' ')} of {code}"

        return self._do(Verb.CORRECTED, work)

    def move(self, codes: Iterable[str], place: str) -> Changes:
        """Say where pieces lie now; where all lie there already nothing is changed."""

        def work(draft: Draft) -> str:
            piece_changes.move(draft, codes, place)
            return f"Moved {_listed(draft.codes)} to {place or 'no place'}"

        return self._do(Verb.MOVED, work)

    def cut(self, cutting: Cutting, *, shades: Mapping[int, KeptShade] | None = None) -> Changes:
        """Cut parts from a piece, which is then cut up; ``Changes.born`` has the offcuts' codes.

        Offcuts inherit kind, pattern, backing, fibre, form, colours, photographs, source and
        place, and the flaws that lie in them. A reservation for the same purpose is fulfilled; any
        other goes to the offcut it lies in. ``shades``, by id of the part, are of the cloth where
        parts of volumes are cut. Raises ``ShapeError`` where part, offcuts and slivers
        leave the piece or overlap, ``StockError`` where the piece is gone or another reservation
        would be spoilt.
        """

        def work(draft: Draft) -> str:
            cuts.cut(draft, cutting, shades=shades)
            return cuts.cut_words(cutting)

        return self._do(Verb.CUT, work)

    def cut_length(
        self, code: str, length: float, purpose: str, *, shelve: bool = False
    ) -> Changes:
        """Take a length (mm) off the upper end of a roll, sheet or board, which keeps its code.

        With ``shelve`` the length goes on the shelf as a sheet of its own, in ``Changes.born``.
        Raises ``ShapeError`` where the piece is no plain rectangle or is shorter, ``StockError``
        where the piece is gone or the cut would spoil what is reserved.
        """

        def work(draft: Draft) -> str:
            rest = cuts.take_length(draft, code, length, purpose, shelve=shelve)
            left = f"{format_mm(rest.height)} are left" if rest else "nothing is left"
            return f"Cut {format_mm(length)} off {code} for {purpose.strip()}; {left}"

        return self._do(Verb.CUT, work)

    def photograph_anew(self, code: str, seen: NewPiece) -> Changes:
        """Replace what a new photograph shows of a piece: its outline, flaws, colours and marks.

        The facts of ``seen`` are taken over too; kind, parent, and what was tested stay, and the
        colour family where ``seen`` says none. Raises as ``correct``.
        """
        fields = {name: getattr(seen, name) for name in piece_changes.SEEN}
        if seen.colour_family:
            fields["colour_family"] = seen.colour_family

        def work(draft: Draft) -> str:
            piece_changes.correct(draft, code, fields)
            return f"Photographed {code} anew"

        return self._do(Verb.CORRECTED, work)

    def discard(self, code: str, reason: str) -> Changes:
        """Take a piece out of stock. Raises ``StockError`` where it is reserved or gone."""

        def work(draft: Draft) -> str:
            piece_changes.discard(draft, code, reason)
            return f"Discarded {code}: {reason.strip()}"

        return self._do(Verb.DISCARDED, work)

    def reserve(
        self, code: str, purpose: str, *, width: float, height: float, corners: Ring = ()
    ) -> Changes:
        """Keep a part of a piece (mm) for a purpose; ``corners`` where its place is chosen.

        Raises ``StockError`` where the piece is gone, is reserved for this purpose already, or
        the part leaves the piece or overlaps another reserved part.
        """

        def work(draft: Draft) -> str:
            bespoken.reserve(draft, code, purpose, (width, height), corners)
            return f"Reserved {code} for {purpose.strip()}"

        return self._do(Verb.RESERVED, work)

    def release(self, code: str, purpose: str | None = None) -> Changes:
        """Give up what a piece is reserved for: one purpose, or all. Raises ``NotFound``."""

        def work(draft: Draft) -> str:
            bespoken.release(draft, code, purpose)
            return f"Released {code}{f' from {purpose}' if purpose else ''}"

        return self._do(Verb.RELEASED, work)

    def confirm(self, code: str, new: NewConfirmation) -> Changes:
        """Keep what one photograph of book and piece said (``archive_photo`` it first).

        Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a piece or photograph that
        is not there.
        """

        def work(draft: Draft) -> str:
            confirmations.confirm(draft, code, new)
            return (
                f"Held {code} against {new.purpose.strip()}, {new.light.strip()}: "
                f"ΔE00 {new.delta_e:.1f} ± {new.u:.1f}"
            )

        return self._do(Verb.CONFIRMED, work)

    def confirmations(self, *codes: str) -> list[KeptConfirmation]:
        """What was confirmed of these pieces, or of all where none is named, the first first."""
        found: list[KeptConfirmation] = self._ask(confirmations.confirmations, codes)
        return found


def _listed(codes: Sequence[str]) -> str:
    """``C-0042``, or ``C-0042 and 11 others``."""
    if len(codes) == 1:
        return codes[0]
    if len(codes) == 2:
        return " and ".join(codes)
    return f"{codes[0]} and {len(codes) - 1} others"
