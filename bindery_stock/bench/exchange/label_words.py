"""What the label of a piece or of a lot of adhesive says."""

from datetime import date

from bindery_stock.bench.adhesives.shelf_rows import LotRow, amount_of, lot_rows, stands
from bindery_stock.bench.shelf.cautions import cautions, headline
from bindery_stock.bench.shelf.piece_words import size_of, sort_of
from bindery_stock.bench.shelf.usable_rectangles import UsableRectangles
from bindery_stock.records.label_face import LabelFacts
from bindery_stock.stock import AdhesiveLot, Lab, StockPiece
from bindery_stock.trade import Level, Rules
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle


def piece_label(
    piece: StockPiece,
    lengths: LengthStyle,
    rules: Rules,
    usable: UsableRectangles | None = None,
) -> LabelFacts:
    """The label of a piece: a scrap, a folder, a tube; with what can be had from it in one piece.

    Of that only what is known in ``usable`` is told, where it is given; else it is measured now.
    """
    if usable is None:
        usable = UsableRectangles()
        usable.measure_both(piece)
    lab = piece.colour.lab if piece.colour else None
    return LabelFacts(
        code=piece.code,
        what=sort_of(piece),
        size=size_of(piece, lengths),
        usable=usable.words(piece, lengths),
        warp=True,
        lab=lab,
        lab_words=lab_figures(lab) if lab else "",
        place=piece.place,
        caution=_caution(piece, rules),
    )


def lot_label(lot: AdhesiveLot, today: date, rules: Rules) -> LabelFacts:
    """The label of a jar or tin of adhesive."""
    (row,) = lot_rows([lot], today, rules)
    return LabelFacts(
        code=lot.code,
        what=lot.name,
        size=amount_of(lot),
        until=_until(row),
        place=stands(lot),
        caution=_caution(lot, rules),
    )


def _until(row: LotRow) -> str:
    if row.life.ends is not None and not row.life.over:
        return f"good to {written(row.life.ends)}"
    return row.life_words


def _caution(item: StockPiece | AdhesiveLot, rules: Rules) -> str:
    """The gravest caution by its name, and how many more there are; plain notes do not count."""
    grave = [one for one in cautions(item, rules) if one.level is not Level.INFO]
    if not grave:
        return ""
    more = f" (and {len(grave) - 1} more)" if len(grave) > 1 else ""
    return f"{headline(grave[0])}{more}"


def lab_figures(lab: Lab) -> str:
    """``L* 38.2 a* 31.0 b* −4.6``; CIELAB, D50, 2° observer. No line breaks within a figure."""
    names = ("L*", "a*", "b*")
    told = (f"{name}\N{NO-BREAK SPACE}{value:.1f}" for name, value in zip(names, lab, strict=True))
    return " ".join(told).replace("-", "−")
