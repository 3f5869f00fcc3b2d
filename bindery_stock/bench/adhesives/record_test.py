"""What is found out about a piece or a lot is written down; a wet test is asked of the gate."""

from bindery_stock.bench.adhesives.tests import wets
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask, note
from bindery_stock.errors import Stopped
from bindery_stock.stock import Changes, Stockroom, Verb
from bindery_stock.stock.lots.changes import CODE_LETTER as LOT_LETTER
from bindery_stock.trade import LabResult, Property


@deed(Bearing.CONSUMES)
def record_test(room: Stockroom, *, code: str, found: Property, reason: str = "") -> Changes:
    """Add a tested, stated or seen property to a piece or a lot.

    A photograph of the strip, spot or lamp must have been archived first. Raises ``EntryError``,
    and ``Stopped`` for a bench test that wets a piece which must stay dry; one of a past day has
    happened, and is kept with the ruling.
    """
    with room.step(Verb.TESTED) as step:
        if not code.startswith(f"{LOT_LETTER}-") and wets(found.name, found.evidence):
            _wetted(room, code, found, reason)
        room.tests.record(code, found)
    return step.changes


def _wetted(room: Stockroom, code: str, found: Property, reason: str) -> None:
    matter = Matter(laid_on=code, wet=True)
    if found.on is not None and found.on < room.today:
        note(room, "record_test", matter, reason)
        return
    try:
        ask(room, "record_test", matter, reason)
    except Stopped as told:
        raise Stopped(f"This test wets the piece. {told}", field="How known") from told


@deed(Bearing.KEEPS)
def add_lab_result(room: Stockroom, *, code: str, found: LabResult) -> Changes:
    """Add what a laboratory found, or did not find, in a piece. Raises ``EntryError``."""
    with room.step(Verb.TESTED) as step:
        room.tests.add_lab_result(code, found)
    return step.changes
