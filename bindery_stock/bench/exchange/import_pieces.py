"""A row of a table read as a piece for the shelf."""

from bindery_stock.bench.exchange.import_cells import Cells, Field
from bindery_stock.bench.exchange.import_dates import DayOrder, read_source_date
from bindery_stock.errors import EntryError
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewPiece
from bindery_stock.trade.vocabulary import CODE_LETTER, Backing, Fibre, Form, Kind

FIELDS = (
    Field.CODE, Field.KIND, Field.WIDTH, Field.HEIGHT, Field.FORM, Field.PATTERN, Field.BACKING,
    Field.FIBRE, Field.LIGHTNESS, Field.A, Field.B, Field.PLACE, Field.SOURCE, Field.SOURCE_DATE,
    Field.PRICE, Field.NOTE,
)  # fmt: skip
NEEDED = (Field.KIND, Field.WIDTH, Field.HEIGHT)
DATES = (Field.SOURCE_DATE,)


def piece_of(row: Cells, order: DayOrder | None) -> tuple[NewPiece, str]:
    """The piece, and its code or nothing where it is to be given. Raises ``EntryError``."""
    kind = row.reading.kind or row.word(Field.KIND, Kind)
    across, along = row.length(Field.WIDTH), row.length(Field.HEIGHT)
    new = NewPiece(
        kind=kind,
        outline=Outline(((0.0, 0.0), (across, 0.0), (across, along), (0.0, along))),
        form=row.word(Field.FORM, Form, Form.SCRAP),
        pattern=row.text(Field.PATTERN),
        backing=row.word(Field.BACKING, Backing, Backing.UNKNOWN),
        fibre=row.word(Field.FIBRE, Fibre, Fibre.UNKNOWN),
        colours=_colours(row),
        place=row.text(Field.PLACE),
        source=row.text(Field.SOURCE),
        source_date=read_source_date(row.text(Field.SOURCE_DATE), Field.SOURCE_DATE.words, order),
        price=row.money(Field.PRICE),
        note=row.note(),
    )
    return new, row.code(CODE_LETTER[kind], kind)


def _colours(row: Cells) -> tuple[Colour, ...]:
    lightness, a, b = (row.number(field) for field in (Field.LIGHTNESS, Field.A, Field.B))
    if lightness is None and a is None and b is None:
        return ()
    if lightness is None or a is None or b is None:
        raise EntryError("Colour", "Colour: L*, a* and b* belong together; one is empty.")
    if not 0.0 <= lightness <= 100.0 or max(abs(a), abs(b)) > 150.0:
        raise EntryError("Colour", f"Colour: {lightness:g}, {a:g}, {b:g} is no colour of cloth.")
    return (Colour(lab=(lightness, a, b), method="taken in from a table"),)
