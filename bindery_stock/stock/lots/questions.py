"""Questions about adhesives: lots, what was taken from them, wants and reorder points."""

from collections import defaultdict

from sqlalchemy import Connection, select

from bindery_stock.errors import NotFound
from bindery_stock.stock.lots import rows as lot_rows
from bindery_stock.stock.lots.tables import AdhesiveLotRow, LotPartRow, LotUseRow
from bindery_stock.stock.lots.values import AdhesiveLot, LotUse
from bindery_stock.stock.pieces.tables import PieceRow


def adhesives(connection: Connection, *, finished: bool) -> list[AdhesiveLot]:
    """The adhesive lots, those used up only where asked for."""
    return [lot for lot in _lots(connection).values() if finished or not lot.finished]


def adhesive(connection: Connection, code: str) -> AdhesiveLot:
    """The lot with this code, or ``NotFound``."""
    found = _lots(connection).get(code)
    if found is None:
        raise NotFound(f"There is no adhesive {code} in this stockroom. Check the code on the tin.")
    return found


def _lots(connection: Connection) -> dict[str, AdhesiveLot]:
    """Every lot by its code, each holding the lots it was mixed from."""
    listed = {
        row.id: row
        for row in connection.execute(select(AdhesiveLotRow.__table__).order_by(AdhesiveLotRow.id))
    }
    parts: defaultdict[int, list[int]] = defaultdict(list)
    for lot_id, part_id in connection.execute(
        select(LotPartRow.lot_id, LotPartRow.part_id).order_by(LotPartRow.position)
    ):
        parts[lot_id].append(part_id)
    made: dict[int, AdhesiveLot] = {}

    def lot(lot_id: int) -> AdhesiveLot:
        if lot_id not in made:
            made[lot_id] = lot_rows.lot_of(listed[lot_id], [lot(part) for part in parts[lot_id]])
        return made[lot_id]

    return {row.code: lot(row.id) for row in listed.values()}


def lot_uses(connection: Connection, code: str | None) -> list[LotUse]:
    """What was taken from one lot, or from all, the latest first."""
    asked = (
        select(LotUseRow.__table__, AdhesiveLotRow.code, PieceRow.code.label("laid_on"))
        .join(AdhesiveLotRow, AdhesiveLotRow.id == LotUseRow.lot_id)
        .outerjoin(PieceRow, PieceRow.id == LotUseRow.laid_on_id)
        .order_by(LotUseRow.id.desc())
    )
    if code is not None:
        asked = asked.where(AdhesiveLotRow.code == code)
    return [lot_rows.use_of(row) for row in connection.execute(asked)]
