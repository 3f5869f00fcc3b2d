"""The answer to a part as a Qt list: matches in rank order, a rule, then the near misses."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto

from PySide6.QtCore import Qt

from bindery_stock.bench.colour_room.side_by_side import held_line, metamerism
from bindery_stock.bench.match.candidates import ruling_line
from bindery_stock.bench.match.closeness import threshold_words
from bindery_stock.bench.match.cut_words import rectangle_words
from bindery_stock.bench.shelf.cautions import caution_line
from bindery_stock.colour import step
from bindery_stock.desktop.row_list import Index, RowList
from bindery_stock.desktop.swatch import step_text
from bindery_stock.matching import Match, NearMiss, Ranking
from bindery_stock.matching.values import SHOWN_FACE
from bindery_stock.stock import KeptConfirmation, Lab, StockPiece
from bindery_stock.trade import Rules
from bindery_stock.trade.gate import ALLOWED, Ruling
from bindery_stock.units import LengthStyle

Held = Mapping[str, Sequence[KeptConfirmation]]


NOT_TO_BE_CUT = "Large enough, but the rules stop it"
"""What a piece lacks that would serve but for the gate; why, and what would change it, follows."""


class RowKind(Enum):
    """What a row of the list is."""

    MATCH = auto()
    RULE = auto()
    NEAR = auto()


@dataclass(frozen=True, slots=True)
class CandidateRow:
    """One row, with everything its delegate draws."""

    kind: RowKind
    lines: tuple[str, ...]
    """The words, the first being the heading."""
    piece: StockPiece | None = None
    target: Lab | None = None
    match: Match | None = None
    near: NearMiss | None = None
    tied_above: bool = False
    tied_below: bool = False
    ruling: Ruling = ALLOWED
    """What the gate will say to reserving or cutting it."""
    caution: str = ""
    """What must be heeded: a sign with words, or empty."""
    held: str = ""
    """What was found when it was held beside a book, or empty."""
    metamerism: str = ""
    """The whole caution where two lights disagree about it, or empty."""

    @property
    def told(self) -> str:
        """The row for a reader that cannot see it."""
        told = (*self.lines, self.held, self.ruling_line, self.caution, self.metamerism)
        return ". ".join(line for line in told if line)

    @property
    def ruling_line(self) -> str:
        """What the gate will say, after its sign; empty where nothing speaks against it."""
        return ruling_line(self.ruling)

    @property
    def notes(self) -> tuple[str, ...]:
        """The lines under the words and over the caution."""
        sign = "△ Metamerism: another light parts them" if self.metamerism else ""
        return tuple(line for line in (self.held, sign) if line)

    @property
    def tip(self) -> str:
        """What hovering adds: cautions in full, and where the words for a difference come from."""
        source = threshold_words() if self.match is not None else ""
        return "\n\n".join(
            part
            for part in (self.ruling_line, self.caution, self.metamerism, self.held, source)
            if part
        )


class AnswerModel(RowList[CandidateRow]):
    """The rows of one answer."""

    def show(
        self,
        ranking: Ranking,
        pieces: dict[str, StockPiece],
        lengths: LengthStyle,
        rules: Rules | None = None,
        held: Held | None = None,
        rulings: Mapping[str, Ruling] | None = None,
    ) -> None:
        """Show an answer.

        ``pieces`` are those on the shelf, by code; cautions go by ``rules``; ``held`` has what was
        confirmed of a piece, by its code, ``rulings`` what the gate will say to it.
        """
        rows = answer_rows(ranking, pieces, lengths, rules, rulings)
        self.show_rows([confirmed(row, held) for row in rows])

    def place_of(self, code: str) -> int | None:
        """Which row shows this piece; None where none does."""
        codes = [row.piece.code if row.piece else None for row in self._rows]
        return codes.index(code) if code in codes else None

    def clear(self) -> None:
        """Show nothing."""
        self.show_rows([])

    def tip(self, row: CandidateRow) -> str:
        """Cautions in full, and where the words for a difference come from."""
        return row.tip

    def flags(self, index: Index) -> Qt.ItemFlag:
        """The rule between matches and near misses cannot be chosen."""
        if index.isValid() and self._rows[index.row()].kind is RowKind.RULE:
            return Qt.ItemFlag.NoItemFlags
        return super().flags(index)


def confirmed(row: CandidateRow, held: Held | None) -> CandidateRow:
    """The row with what was found when its piece was held beside a book."""
    found = held.get(row.piece.code) if held and row.piece else None
    if not found:
        return row
    return replace(row, held=held_line(found), metamerism=metamerism(found))


def answer_rows(
    ranking: Ranking,
    pieces: dict[str, StockPiece],
    lengths: LengthStyle,
    rules: Rules | None = None,
    rulings: Mapping[str, Ruling] | None = None,
) -> list[CandidateRow]:
    """The rows that say an answer; ``rulings`` is what the gate will say, by code."""
    rows = []
    said = rulings or {}
    matches = [m for m in ranking.matches if m.code in pieces]
    for place, match in enumerate(matches):
        above = place > 0 and matches[place - 1].tie == match.tie
        below = place + 1 < len(matches) and matches[place + 1].tie == match.tie
        piece = pieces[match.code]
        rows.append(
            CandidateRow(
                RowKind.MATCH,
                match_lines(place + 1, match, piece, lengths),
                piece,
                ranking.part.lab,
                match=match,
                tied_above=above,
                tied_below=below,
                ruling=said.get(match.code, ALLOWED),
                caution=caution_line(piece, rules),
            )
        )
    near = [n for n in ranking.near_misses if n.code in pieces]
    if near:
        rows.append(CandidateRow(RowKind.RULE, ("Near misses, and what they lack",)))
    for miss in near:
        piece = pieces[miss.code]
        told = "" if miss.delta_e is None else f"ΔE00 {miss.delta_e:.1f}"
        ruling = said.get(miss.code, ALLOWED) if miss.against else ALLOWED
        # The ruling that stops it holds the caution; it is not said twice.
        caution = "" if miss.against else caution_line(piece, rules)
        lack = NOT_TO_BE_CUT if miss.against else miss.lack
        rows.append(
            CandidateRow(
                RowKind.NEAR,
                (f"{piece.code}  {describe(piece)}", lack, told),
                piece,
                ranking.part.lab,
                near=miss,
                ruling=ruling,
                caution=caution,
            )
        )
    return rows


def answer_words(ranking: Ranking) -> str:
    """How many pieces serve, in a sentence."""
    count = len(ranking.matches)
    if not count:
        return "No piece on the shelf serves this part."
    order = "closest first" if ranking.part.shown and ranking.part.lab else "poorest first"
    if count == 1:
        return "One piece serves."
    seen = sum(match.is_seen for match in ranking.matches)
    if seen and ranking.part.shown:
        order = "closest first, then what was only seen" if seen < count else "in no order"
    return f"{count} pieces serve, {order}"


def match_lines(
    rank: int, match: Match, piece: StockPiece, lengths: LengthStyle
) -> tuple[str, ...]:
    """What is said of a match: what it is, how close, in which way it differs, what is left."""
    heading = f"{rank}.  {piece.code}  {describe(piece)}"
    remains = left_words(match, lengths)
    said = (heading, closeness(match), match.words, difference(match, piece), remains, where(piece))
    return tuple(line for line in said if line)


def left_words(match: Match, lengths: LengthStyle) -> str:
    """``Leaves the most: 96 × 240 mm in one piece``; or only what it leaves as it lies."""
    left = match.left
    tight = "; a tight fit, no play" if match.placement.tight else ""
    told = rectangle_words((left.width, left.height), lengths)
    how = "Leaves the most:" if match.leaves_most else "Leaves"
    return f"{how} {told}{tight}"


def closeness(match: Match) -> str:
    """``ΔE00 1.8 ± 2.1, on its sheltered face``; with a colour map what lies under the part."""
    if match.delta_e is None:
        return "Of the colour family sought" if match.is_seen else "Colour not compared"
    band = f" ± {match.u:.1f}" if match.u is not None else ", band not known"
    under = match.under
    if under is not None and match.alone is not None:
        return (
            f"Under the part ΔE00 {match.delta_e:.1f}{band}, worst tenth {under.worst:.1f}; "
            f"the piece by itself {match.alone:.1f}"
        )
    face = "" if match.face == SHOWN_FACE else f", on its {match.face} face"
    return f"ΔE00 {match.delta_e:.1f}{band}{face}"


def difference(match: Match, piece: StockPiece) -> str:
    """How the candidate differs from the target, part by part."""
    colour = next((c for c in piece.colours if c.face.value == match.face), None)
    if match.part.lab is None or colour is None or match.is_seen:
        return ""
    return step_text(step(match.part.lab, colour.lab))


def describe(piece: StockPiece) -> str:
    """``rib cloth, from a case of 1868``."""
    stuff = " ".join(word for word in (piece.pattern, piece.kind.value) if word)
    return f"{stuff}, {piece.source}" if piece.source else stuff


def where(piece: StockPiece) -> str:
    """Where it lies, and what it is reserved for."""
    said = [f"In {piece.place}"] if piece.place else ["Place not written down"]
    if piece.reserved_for:
        said.append(f"reserved for {piece.reserved_for}")
    return "; ".join(said)
