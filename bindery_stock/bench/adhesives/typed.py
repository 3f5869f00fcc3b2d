"""Dates and quantities of adhesives as a binder types them."""

import re
from datetime import date, timedelta
from fractions import Fraction

from bindery_stock.errors import EntryError
from bindery_stock.stock import Measure
from bindery_stock.trade.day_counts import MONTHS

_ISO = re.compile(r"^(\d{4})-(\d{1,2})-(\d{1,2})$")
_WORDS = re.compile(r"^(\d{1,2})\.?\s+([A-Za-z]{3})[a-z]*\.?,?\s+(\d{4})$")
_SHARES = {
    "a quarter": Fraction(1, 4),
    "a third": Fraction(1, 3),
    "half": Fraction(1, 2),
    "two thirds": Fraction(2, 3),
    "three quarters": Fraction(3, 4),
    "all": Fraction(1),
}
SHARES = tuple(_SHARES)
"""The shares of a tin that have words."""


def read_day(typed: str, today: date, field: str) -> date | None:
    """A date as ``2026-11-25`` or ``25 Nov 2026``, ``today``, ``yesterday``; None where empty.

    Raises ``EntryError``: a date such as 3/4/2026 is read two ways in two countries, so it is not
    read at all.
    """
    text = typed.strip()
    if not text:
        return None
    near = {"today": 0, "yesterday": 1}.get(text.casefold())
    if near is not None:
        return today - timedelta(days=near)
    try:
        if iso := _ISO.match(text):
            return date(int(iso[1]), int(iso[2]), int(iso[3]))
        if words := _WORDS.match(text):
            month = MONTHS.index(words[2].capitalize()) + 1
            return date(int(words[3]), month, int(words[1]))
    except ValueError as error:
        raise EntryError(field, f"{field}: there is no day “{text}”.") from error
    raise EntryError(
        field,
        f"{field}: write the day as {today.isoformat()} or {today.day} "
        f"{MONTHS[today.month - 1]} {today.year}, not “{text}”.",
    )


def read_amount(typed: str, unit: Measure, field: str) -> float | None:
    """A quantity in ``unit``: ``30``, ``30 g``, ``1/3``, ``about a third``; None where empty."""
    text = typed.strip().casefold().removeprefix("about ").removesuffix(unit.value).strip()
    if not text:
        return None
    if unit is Measure.SHARE and text in _SHARES:
        return float(_SHARES[text])
    try:
        return float(Fraction(text.replace(",", ".").replace(" ", "")))
    except (ValueError, ZeroDivisionError) as error:
        example = "a third or 1/3" if unit is Measure.SHARE else f"30 {unit}"
        raise EntryError(field, f"{field}: write {example}, not “{typed.strip()}”.") from error
