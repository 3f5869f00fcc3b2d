"""What is known of a piece, in words: for its sheet, its caption and the clipboard."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bindery_stock.bench.shelf.cautions import sign_words
from bindery_stock.bench.shelf.search import family_of
from bindery_stock.shape import Placement
from bindery_stock.stock import Colour, FaceName, PieceState, StockPiece
from bindery_stock.trade import Rules
from bindery_stock.trade.vocabulary import Backing, Fibre, Form
from bindery_stock.units import LengthStyle

_FACES = {
    FaceName.SHOWN: "Shown face",
    FaceName.SHELTERED: "Sheltered under a turn-in",
    FaceName.REVERSE: "Reverse",
}
_RUNS = frozenset("=+-@\t\r")  # a spreadsheet takes a cell that begins so for a formula
COLUMNS = (
    "Code", "Kind", "Grain pattern", "Family", "L*", "a*", "b*", "Width mm", "Height mm",
    "Area cm²", "Place", "From", "Note",
)  # fmt: skip
"""The columns of what is copied."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of the sheet: what, the words, and what hovering adds."""

    label: str
    words: str
    tip: str = ""


def sort_of(piece: StockPiece) -> str:
    """``fine rib cloth``, ``scrap of leather``, ``roll of mull``: pattern and kind in words."""
    pattern = f"{piece.pattern} " if piece.pattern else ""
    form = "" if piece.form is Form.SCRAP else f"{piece.form} of "
    return f"{form}{pattern}{piece.kind}"


def size_of(piece: StockPiece, lengths: LengthStyle) -> str:
    """Extents of a piece to the millimetre: across the warp × along it, as ``58 × 228 mm``."""
    return lengths.pair(round(piece.outline.width), round(piece.outline.height))


def area_words(mm2: float) -> str:
    """``132 cm²``, or ``1.45 m²`` for a great sheet."""
    return f"{mm2 / 1e6:.2f} m²" if mm2 >= 1e6 else f"{mm2 / 100:.0f} cm²"


def one_line(piece: StockPiece, lengths: LengthStyle, rules: Rules | None = None) -> str:
    """A piece in one line, for a tip and for a screen reader."""
    told = (
        piece.code,
        sign_words(piece, rules),
        sort_of(piece),
        size_of(piece, lengths),
        family_of(piece),
        piece.place,
    )
    return ", ".join(part for part in told if part)


def facts(
    piece: StockPiece,
    lengths: LengthStyle,
    usable: Placement | None,
    square: Placement | None = None,
    *,
    measured: bool,
) -> list[Fact]:
    """The lines of a piece's sheet; what is not known is left out, except where that matters.

    ``usable`` is its largest rectangle along the warp, clear of flaws, once that is ``measured``,
    and ``square`` its largest square.
    """
    outline = piece.outline
    other = (lengths.other(outline.width), lengths.other(outline.height))
    lines = [
        Fact("Size", size_of(piece, lengths), f"{other[0]} across the warp, {other[1]} along it"),
        Fact("Area", area_words(outline.area), "Holes taken off."),
        _usable_fact(usable, square, lengths, measured=measured),
        Fact("Warp", "upright; in the photograph along the arrow" if piece.marks else "upright"),
        Fact("Grain pattern", piece.pattern or "not noted"),
        Fact("Backing", _known(piece.backing, Backing.UNKNOWN)),
        Fact("Fibre", _known(piece.fibre, Fibre.UNKNOWN)),
        Fact("Flaws", flaws_words(piece)),
        Fact("Lies in", piece.place or "not noted"),
        Fact("Came from", _source_words(piece)),
    ]
    if piece.reserved_for:
        lines.insert(0, Fact("Reserved for", piece.reserved_for))
    if piece.price is not None:
        lines.append(Fact("Price", f"{piece.price:,.2f}"))
    if piece.note:
        lines.append(Fact("Note", piece.note))
    lines += [Fact("Scale", mark.scale_note) for mark in piece.marks[:1] if mark.scale_note]
    return lines


def _usable_fact(
    usable: Placement | None, square: Placement | None, lengths: LengthStyle, *, measured: bool
) -> Fact:
    if usable is None:
        return Fact("Usable", "nothing clear of flaws" if measured else "being measured …")
    return Fact(
        "Usable",
        usable_words(usable, square, lengths),
        "The largest rectangle along the warp, clear of holes and flaws: "
        f"{lengths.other(usable.width)} × {lengths.other(usable.height)}.",
    )


def usable_words(usable: Placement | None, square: Placement | None, lengths: LengthStyle) -> str:
    """``44 × 235 mm in one piece, or 44 mm square``; never more than there is."""
    told = in_one_piece((usable.width, usable.height) if usable else (0.0, 0.0), lengths)
    side = "" if square is None else f", or {lengths.show(lengths.at_most(square.width))} square"
    return f"{told}{side}"


def in_one_piece(size: tuple[float, float], lengths: LengthStyle) -> str:
    """``96 × 240 mm in one piece``, along the warp; never more than there is."""
    if min(size) < 1.0:
        return "nothing usable in one piece"
    return f"{lengths.pair(*map(lengths.at_most, size))} in one piece"


def _known(word: Backing | Fibre, unknown: Backing | Fibre) -> str:
    return "unknown" if word is unknown else str(word)


def _source_words(piece: StockPiece) -> str:
    told = ", ".join(part for part in (piece.source, piece.source_date) if part)
    return told or "not noted"


def flaws_words(piece: StockPiece) -> str:
    """``2 holes, 1 stain``; ``none marked`` where there is none."""
    counts: dict[str, int] = {"hole": len(piece.outline.holes)}
    for flaw in piece.flaws:
        counts[str(flaw.kind)] = counts.get(str(flaw.kind), 0) + 1
    plural = {
        "hole": "holes", "weak": "weak places", "stain": "stains", "stamping": "stampings",
        "glue": "traces of glue",
    }  # fmt: skip
    single = {"weak": "weak place", "glue": "trace of glue"}
    told = [
        f"{n} {single.get(kind, kind) if n == 1 else plural[kind]}"
        for kind, n in counts.items()
        if n
    ]
    return ", ".join(told) or "none marked"


def face_words(face: FaceName) -> str:
    """A face as the sheet heads it."""
    return _FACES[face]


def trust_words(colour: Colour) -> str:
    """How a reading was obtained and how far it goes: method, band, spread."""
    if not colour.read_by.is_measured:
        return f"{colour.method}, {colour.read_by}"
    band = f"u ± {colour.u:.1f} ΔE00" if colour.u is not None else "band unknown"
    spread = f"spread {colour.spread:.1f}" if colour.spread else ""
    return ", ".join(part for part in (colour.method, band, spread) if part)


def gone_words(piece: StockPiece, children: Sequence[StockPiece]) -> str:
    """Why a piece lies no longer on the shelf, or empty while it does."""
    if piece.state is PieceState.DISCARDED:
        return f"Discarded: {piece.fate}." if piece.fate else "Discarded."
    if piece.state is PieceState.CUT_UP:
        into = ", ".join(child.code for child in children)
        what = f" for {piece.fate}" if piece.fate else ""
        left = f"; what was left is {into}" if into else "; nothing was left"
        return f"Cut up{what}{left}."
    return ""


def as_table_text(pieces: Iterable[StockPiece]) -> str:
    """Pieces as lines of tab-separated values with a heading; colours are CIELAB (D50, 2°).

    Decimal points whatever the locale. What a spreadsheet would run as a formula is made inert.
    """
    lines = ["\t".join(COLUMNS)]
    lines += ["\t".join(_cells(piece)) for piece in pieces]
    return "\n".join(lines) + "\n"


def _cells(piece: StockPiece) -> list[str]:
    lab = [f"{value:.2f}" for value in piece.colour.lab] if piece.colour else ["", "", ""]
    outline = piece.outline
    sizes = [f"{outline.width:.1f}", f"{outline.height:.1f}", f"{outline.area / 100:.1f}"]
    typed = [piece.code, str(piece.kind), piece.pattern, family_of(piece)]
    told = [piece.place, ", ".join(t for t in (piece.source, piece.source_date) if t), piece.note]
    return [*map(_inert, typed), *lab, *sizes, *map(_inert, told)]


def _inert(text: str) -> str:
    flat = " ".join(text.split())
    return f"'{flat}" if text[:1] in _RUNS or flat[:1] in _RUNS else flat
