"""The prices of a sharing-out in the binder's words: what each does, what it cost in a plan."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace

from bindery_stock.errors import EntryError
from bindery_stock.matching import Jump, Prices, Reckoning

GREATEST = 1000.0
"""A price beyond this says no more: it drowns the shade in any count."""


@dataclass(frozen=True, slots=True)
class PriceWords:
    """One price, as it is offered to be changed."""

    key: str
    """Its name in ``Prices``, and on the command line with a hyphen."""
    name: str
    does: str

    @property
    def option(self) -> str:
        """``left-out``."""
        return self.key.replace("_", "-")


PRICES = (
    PriceWords(
        "left_out",
        "A part left out",
        "For a part that is wholly seen and goes without; less where less of it is seen, a "
        "thirtieth where it is hidden. Higher: more parts served, in farther shades.",
    ),
    PriceWords(
        "volume",
        "A volume not finished",
        "For each volume that lacks a part that is seen. Higher: one volume whole rather than two "
        "by half.",
    ),
    PriceWords(
        "lot",
        "One piece more for a volume",
        "For each piece that parts of one volume in one colour are cut from. Higher: each volume "
        "from one cloth.",
    ),
    PriceWords(
        "cloth",
        "Whole cloth lost",
        "For each 10,000 mm² taken from a piece's largest rectangle. Higher: large pieces stay "
        "whole, scraps are used up.",
    ),
    PriceWords(
        "jump",
        "A jump on the shelf",
        "For each ΔE00 between the spines of two volumes side by side. Higher: neighbours nearer "
        "to each other, each a little farther from its own colour.",
    ),
)


def priced(settings: Iterable[str]) -> Prices:
    """Our own prices, with those that are given as ``jump=0.5``. Raises ``EntryError``."""
    by_option = {one.option: one for one in PRICES}
    prices = Prices()
    for text in settings:
        name, sign, value = text.partition("=")
        one = by_option.get(name.strip())
        try:
            figure = float(value.strip().replace(",", "."))
        except ValueError:
            figure = -1.0
        if one is None or not sign or not 0.0 <= figure <= GREATEST:
            raise EntryError(
                "Price",
                f"“{text}” is no price. Write one of {', '.join(by_option)} and a number from 0 "
                f"to {GREATEST:g}: jump=0.5.",
            )
        prices = replace(prices, **{one.key: figure})
    return prices


def price_settings(prices: Prices) -> list[str]:
    """The prices as ``priced`` reads them, those that are our own left out."""
    own = asdict(Prices())
    changed = {key: value for key, value in asdict(prices).items() if value != own[key]}
    return [f"{one.option}={changed[one.key]:g}" for one in PRICES if one.key in changed]


def spent_words(told: Reckoning) -> Mapping[str, str]:
    """What each price cost in a plan: ``3 jumps between neighbours on the shelf, 11.2 ΔE00 in
    all: 2.8``, by its name.
    """
    jumps = [jump.delta_e for jump in told.jumps if jump.delta_e > 0]
    kept = f"; {kept_words(told)}" if told.large else ""
    return {
        "left_out": f"{_count(told.waiting, 'part waits', 'parts wait')}: {told.left_out:.1f}",
        "volume": f"{_count(told.unfinished, 'volume lacks', 'volumes lack')} a part that is "
        f"seen: {told.volumes:.1f}",
        "lot": f"{_count(told.more_lots, 'piece', 'pieces')} for the volumes, each counted once "
        f"for every volume and colour: {told.lots:.1f}",
        "cloth": f"{told.lost_mm2:,.0f} mm² of largest rectangles lost: {told.cloth:.1f}{kept}",
        "jump": f"{_count(len(jumps), 'jump', 'jumps')} between neighbours on the shelf, "
        f"{sum(jumps):.1f} ΔE00 in all: {told.jump:.1f}",
    }


def spent_lines(told: Reckoning) -> str:
    """All of them, and the shade, a line each."""
    return "\n".join(
        (f"the shade of all that is served: {told.shade:.1f}", *spent_words(told).values())
    )


def kept_words(told: Reckoning) -> str:
    """``whole cloth kept: 14 of 16 large pieces``."""
    return f"whole cloth kept: {told.kept} of {_count(told.large, 'large piece', 'large pieces')}"


def jump_words(jump: Jump, names: Mapping[str, str]) -> str:
    """``Greatest jump on the shelf: vol. 3 | vol. 4, ΔE00 3.2 ± 1.4``."""
    left, right = (names.get(code, code) for code in (jump.left, jump.right))
    band = "" if jump.u is None else f" ± {jump.u:.1f}"
    return f"Greatest jump on the shelf: {left} | {right}, ΔE00 {jump.delta_e:.1f}{band}"


def _count(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"
