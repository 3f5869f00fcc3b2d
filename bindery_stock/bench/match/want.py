"""A part that nothing on the shelf holds, as a line of the wanted list."""

from bindery_stock.colour import family
from bindery_stock.matching import Part
from bindery_stock.stock import NewWanted


def wanted_for(part: Part, purpose: str = "") -> NewWanted:
    """What to look for: stuff, pattern and colour in words, the least size with its margin."""
    stuff = part.kind.value if part.kind is not None else "material"
    words = (part.pattern, family(part.lab) if part.lab is not None else "", stuff)
    return NewWanted(
        what=" ".join(word for word in words if word),
        purpose=purpose,
        width=part.width + 2 * part.margin,
        height=part.height + 2 * part.margin,
        lab=part.lab,
        note="" if part.tolerance is None else f"within ΔE00 {part.tolerance:g}",
    )
