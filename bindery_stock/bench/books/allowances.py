"""The allowances in force for one volume: the rules' own, then all work, the set, the volume."""

from bindery_stock.stock import Overrides
from bindery_stock.trade import Allowances, Rules, default_allowances

ALL_WORK, THIS_SET, THIS_VOLUME = "all work", "this set", "this volume"


def allowances_for(overrides: Overrides, rules: Rules) -> Allowances:
    """Each level over the last; every allowance remembers who set it."""
    found = default_allowances(rules)
    for values, set_by in (
        (overrides.all_work, ALL_WORK),
        (overrides.book_set, THIS_SET),
        (overrides.volume, THIS_VOLUME),
    ):
        if values:
            found = found.having(values, set_by=set_by)
    return found
