"""The measurements of a volume made whole: what was measured, and what follows from it."""

from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.trade.allowances import Allowances
from bindery_stock.trade.arc import Arc
from bindery_stock.trade.provenance import Mark, Provenance
from bindery_stock.trade.rules import Rules
from bindery_stock.trade.sums import Term, measured, taken
from bindery_stock.trade.survey import Survey
from bindery_stock.units import format_mm

_COMPUTED = Provenance(Mark.COMPUTED)


@dataclass(frozen=True, slots=True)
class Measures:
    """One volume's measurements, each as a term that says where it came from."""

    survey: Survey
    allowances: Allowances
    rules: Rules

    @property
    def back(self) -> Arc:
        """The shape of the back."""
        return Arc(self.survey.spine_width, self.survey.rise)

    @property
    def spine(self) -> Term:
        """A, the arc of the back as it is now."""
        if self.survey.arc is not None:
            return measured("A", "arc of the spine, by paper strip", self.survey.arc)
        words = "width of the flat spine"
        if self.survey.rise:
            words = f"arc over a chord of {format_mm(self.survey.spine_width)} rising "
            words += format_mm(self.survey.rise)
        return Term("A", words, self.back.length, 1, _COMPUTED)

    @property
    def lined(self) -> tuple[Term, ...]:
        """A over the linings: with what new linings still to come will add to it."""
        if not self.estimated:
            return (self.spine,)
        growth = self.back.angle
        if growth == 0:
            return (self.spine,)
        thickness = self.allowances["lining-thickness"]
        words = f"{thickness.words}, times the angle of the back, {growth:.2f} radians"
        return (
            self.spine,
            Term("θt", words, self.back.growth(thickness.value), 1, thickness.provenance),
        )

    @property
    def estimated(self) -> bool:
        """Whether the arc must be measured again once the new linings are on."""
        return self.survey.relined and not self.survey.over_linings

    @property
    def joint(self) -> Term:
        """J, one side, measured or by the allowance."""
        if self.survey.joint is None:
            return taken(self.allowances["joint"])
        return measured("J", "joint, one side", self.survey.joint)

    @property
    def board_height(self) -> tuple[Term, ...]:
        """H, measured or from the leaf and the squares."""
        if self.survey.board_height is not None:
            return (measured("H", "height of the board", self.survey.board_height),)
        return (self.leaf_height[0], taken(self.allowances["square"], 2))

    @property
    def board_width(self) -> tuple[Term, ...]:
        """W, measured or from the leaf, the set-off and the square."""
        if self.survey.board_width is not None:
            return (measured("W", "width of the board", self.survey.board_width),)
        return (
            self.leaf_width[0],
            taken(self.allowances["set-off"], -1),
            taken(self.allowances["square"]),
        )

    @property
    def leaf_height(self) -> tuple[Term, ...]:
        """h, measured or from the board less the squares."""
        if self.survey.leaf_height is not None:
            return (measured("h", "height of the leaf", self.survey.leaf_height),)
        return (self.board_height[0], taken(self.allowances["square"], -2))

    @property
    def leaf_width(self) -> tuple[Term, ...]:
        """w, measured or from the board. Raises ``EntryError`` where neither was measured."""
        if self.survey.leaf_width is not None:
            return (measured("w", "width of the leaf", self.survey.leaf_width),)
        if self.survey.board_width is None:
            raise EntryError("Leaf width", "Leaf width: measure the leaves, or the boards.")
        return (
            self.board_width[0],
            taken(self.allowances["set-off"]),
            taken(self.allowances["square"], -1),
        )

    @property
    def thickness(self) -> Term:
        """T, measured or by habit."""
        if self.survey.board_thickness is not None:
            return measured("T", "board thickness", self.survey.board_thickness)
        return taken(self.allowances["board-thickness"])

    def warnings(self) -> tuple[str, ...]:
        """What does not agree among the measurements of the back."""
        arc, chord = self.survey.arc, self.survey.spine_width
        found = []
        if arc is not None and arc < chord:
            found.append(
                f"The arc measured, {format_mm(arc)}, is shorter than the straight width of "
                f"{format_mm(chord)}: measure both again."
            )
        elif arc is not None and (
            abs(arc - self.back.length) > self.rules.limits["gauge-gap"].value
        ):
            found.append(
                f"The paper strip says {format_mm(arc)} and width with rise come to "
                f"{format_mm(self.back.length)}: measure again, or trust the strip."
            )
        return tuple(found)
