"""What can be done on the shelf with the piece in hand, from the menu and from its sheet."""

from bindery_stock.desktop.screen import Screen
from bindery_stock.desktop.shelf.actions import ShelfActions
from bindery_stock.desktop.shelf.sheet import PieceSheet
from bindery_stock.stock import StockPiece


class ChosenPiece(Screen):
    """A screen with a sheet of one piece; whoever builds it says which is chosen."""

    sheet: PieceSheet
    tasks: ShelfActions

    @property
    def chosen_piece(self) -> StockPiece | None:
        """The piece chosen last, as it is now."""
        raise NotImplementedError

    @property
    def chosen_pieces(self) -> list[StockPiece]:
        """All chosen pieces."""
        raise NotImplementedError

    def find_match(self) -> None:
        """Look for a match for the colour of the piece on the sheet."""
        if self.sheet.piece is not None:
            self.session.match_wanted.emit(self.sheet.piece.code)

    def edit(self) -> None:
        """Put right the facts of the chosen piece."""
        if self.chosen_piece is not None:
            self.tasks.edit(self.chosen_piece)

    def move_pieces(self) -> None:
        """Say where the chosen pieces lie now."""
        if self.chosen_pieces:
            self.tasks.move(self.chosen_pieces)

    def discard(self) -> None:
        """Take the chosen piece out of stock."""
        if self.chosen_piece is not None:
            self.tasks.discard(self.chosen_piece)

    def hold_beside(self) -> None:
        """Compare the piece on the sheet with a book in one photograph."""
        if self.sheet.piece is not None:
            self.tasks.hold_beside(self.sheet.piece)

    def add_reading(self) -> None:
        """Add an instrument's reading to the piece on the sheet."""
        if self.sheet.piece is not None:
            self.tasks.add_reading(self.sheet.piece)

    def photograph_anew(self) -> None:
        """Replace what is seen of the chosen piece by a new photograph."""
        if self.chosen_piece is not None:
            self.tasks.photograph_anew(self.chosen_piece)

    def cut_length(self) -> None:
        """Take a length off the chosen roll or sheet."""
        if self.chosen_piece is not None:
            self.tasks.cut_length(self.chosen_piece)

    def copy(self) -> None:
        """Copy the chosen pieces as lines of a table."""
        self.tasks.copy(self.chosen_pieces)
