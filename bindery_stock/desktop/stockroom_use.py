"""A stockroom as it is read when it is taken into use, and let go of at the end."""

from collections.abc import Iterator
from contextlib import contextmanager

from bindery_stock.errors import StockError
from bindery_stock.stock import StockPiece, Stockroom


def read_whole(stockroom: Stockroom) -> list[StockPiece]:
    """The pieces on the shelf, once every row has been seen to be readable."""
    stockroom.keeping.look_through()
    return stockroom.pieces.listed()


@contextmanager
def closed_on_refusal(stockroom: Stockroom) -> Iterator[None]:
    """Let go of a stockroom that turns out not to be readable."""
    try:
        yield
    except BaseException:
        stockroom.close()
        raise


def copied_and_closed(stockroom: Stockroom) -> str:
    """Keep a copy of what was changed and close; returns why there is no copy, or nothing."""
    try:
        stockroom.keeping.keep_at_closing()
    except StockError as trouble:
        return f"No backup could be made at closing. {trouble}"
    finally:
        stockroom.close()
    return ""
