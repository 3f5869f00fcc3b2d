"""The rulings that were gone on against: keeping one, and asking for those of a volume."""

import json
from datetime import datetime

from sqlalchemy import Connection, select

from bindery_stock.stock import checks
from bindery_stock.stock.books.tables import RepairRow
from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger.movements import Draft, to_json
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.pieces.tables import PieceRow
from bindery_stock.stock.rulings.tables import RulingRow
from bindery_stock.stock.rulings.values import KeptRuling, NewKeptRuling
from bindery_stock.trade.gate import Leave


class Rulings(Group):
    """What the gate said where something was gone on with."""

    def keep(self, new: NewKeptRuling) -> Changes:
        """Keep a ruling, as a part of the step of the deed it was about."""

        def work(draft: Draft) -> str:
            _keep(draft, new)
            return f"Kept a reason: {new.reason or new.words}"

        return self._do(Verb.CORRECTED, work, aside=True)

    def listed(self, *, volume: str | None = None) -> list[KeptRuling]:
        """The rulings kept, of one volume or all, the first first."""
        found: list[KeptRuling] = self._ask(_rulings, volume)
        return found


def _keep(draft: Draft, new: NewKeptRuling) -> None:
    session = draft.session
    ids = {
        "piece_id": select(PieceRow.id).where(PieceRow.code == new.piece),
        "lot_id": select(AdhesiveLotRow.id).where(AdhesiveLotRow.code == new.lot),
        "repair_id": select(RepairRow.id).where(RepairRow.code == new.volume),
    }
    session.add(
        RulingRow(
            deed=checks.words(new.deed, "Deed"),
            leave=new.leave.value,
            rules=to_json(new.rules),
            words=checks.words(new.words, "Ruling"),
            reason=checks.text(new.reason.strip(), "Reason"),
            at=draft.at.isoformat(),
            **{column: session.scalar(asked) for column, asked in ids.items()},
        )
    )


def _rulings(connection: Connection, volume: str | None) -> list[KeptRuling]:
    asked = (
        select(
            RulingRow.__table__,
            PieceRow.code.label("piece_code"),
            AdhesiveLotRow.code.label("lot_code"),
            RepairRow.code.label("repair_code"),
        )
        .outerjoin(PieceRow, PieceRow.id == RulingRow.piece_id)
        .outerjoin(AdhesiveLotRow, AdhesiveLotRow.id == RulingRow.lot_id)
        .outerjoin(RepairRow, RepairRow.id == RulingRow.repair_id)
        .order_by(RulingRow.id)
    )
    if volume is not None:
        asked = asked.where(RepairRow.code == volume)
    return [
        KeptRuling(
            id=row.id,
            deed=row.deed,
            leave=Leave(row.leave),
            rules=tuple(json.loads(row.rules)),
            words=row.words,
            reason=row.reason,
            piece=row.piece_code,
            lot=row.lot_code,
            volume=row.repair_code,
            at=datetime.fromisoformat(row.at),
        )
        for row in connection.execute(asked)
    ]
