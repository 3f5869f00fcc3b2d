"""What the gate is asked where a knife is meant for a piece, for a part of a volume or for none."""

from bindery_stock.bench.books.part_list import use_of
from bindery_stock.bench.gate import Matter
from bindery_stock.stock import BookPart
from bindery_stock.trade import Rules, Use


def part_matter(part: BookPart, piece: str, rules: Rules) -> Matter:
    """A knife to ``piece``, by code, for a part of a volume."""
    return Matter(piece=piece, use=use_of(part.role, rules), volume=part.repair, cutting=True)


def loose_matter(piece: str, use: Use | None = None) -> Matter:
    """A knife to ``piece`` for no volume; ``use`` is None where it is not known."""
    return Matter(piece=piece, use=use, cutting=True)
