"""What speaks against taking from a lot for a use, in sentences that end in how to go on."""

from datetime import date

from bindery_stock.trade.adhesives import Lot
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.shelf_life import shelf_life
from bindery_stock.trade.uses import Grade, Use
from bindery_stock.trade.verdicts import verdicts


def bars(lot: Lot, use: Use | None, today: date, *, rules: Rules | None = None) -> tuple[str, ...]:
    """Why nothing should be taken from this lot for this use; empty where nothing bars it.

    A lot that is out of date, frozen or spoiled is barred for every use; one that a rule calls
    unfit for conservation is barred for that use. Without a use only the lot itself is judged.
    Each sentence ends with the mark of its source.
    """
    rules = rules if rules is not None else shipped_rules()
    life = shelf_life(lot, today, rules=rules)
    found = []
    if life.over:
        found.append(f"{life.words} ({life.provenance.mark.words})")
    for verdict in verdicts(lot, today, rules=rules):
        if verdict.use is use and (verdict.stops or verdict.grade is Grade.NOT):
            lead = verdict.lead
            found.append(
                f"{use.value.capitalize()}: {verdict.grade}. {lead.reason} "
                f"({lead.rule}; {lead.provenance.mark.words})"
            )
    return tuple(found)
