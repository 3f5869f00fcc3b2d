"""What is found out about a piece or a lot: tests, statements, laboratory results."""

from dataclasses import replace

from bindery_stock.errors import EntryError
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots import changes as lot_changes
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.pieces import changes as piece_changes
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.values import StockPiece
from bindery_stock.trade import LabResult, Property, Rules


def record_test(draft: Draft, code: str, found: Property, rules: Rules) -> str:
    """Add a property to a piece or a lot; returns it in words.

    Raises ``EntryError`` for a property or a value the rules do not know.
    """
    kind = rules.properties.get(found.name)
    if kind is None or kind.derived:
        raise EntryError("Property", f"“{found.name}” is nothing that can be tested or stated.")
    found = replace(found, value=kind.checked(found.value))
    if code.startswith(f"{lot_changes.CODE_LETTER}-"):
        lot = lot_questions.adhesive(draft.session.connection(), code)
        lot_changes.correct_lot(draft, code, {"properties": (*lot.properties, found)})
    else:
        piece = _piece(draft, code)
        piece_changes.correct(draft, code, {"properties": (*piece.properties, found)})
    return f"{kind.words}: {found.words}"


def add_lab_result(draft: Draft, code: str, found: LabResult) -> None:
    """Add what a laboratory found in a piece."""
    piece = _piece(draft, code)
    piece_changes.correct(draft, code, {"lab_results": (*piece.lab_results, found)})


def _piece(draft: Draft, code: str) -> StockPiece:
    return piece_questions.piece(draft.session.connection(), code)
