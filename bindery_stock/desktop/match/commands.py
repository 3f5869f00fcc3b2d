"""The Match place's commands."""

from typing import Protocol

from bindery_stock.desktop.commands import Command, Menu


class MatchTold(Protocol):
    """What can be told of the chosen candidate."""

    def chosen(self) -> object | None:
        """The candidate, None without one."""

    def may_use(self) -> bool:
        """Whether it may be reserved or cut."""

    def lay_chosen_over(self) -> None:
        """Show it on the colour sought."""

    def line_up(self) -> None:
        """Lay the first six beside the book, or say why not."""

    def hold_chosen_beside(self) -> None:
        """Compare it with the book."""

    def reserve_chosen(self) -> None:
        """Keep it for the part."""

    def cut_chosen(self) -> None:
        """Open its cut sheet."""


def match_commands(match: MatchTold) -> list[Command]:
    """What can be done with the chosen candidate."""
    return [
        Command(
            name="match.lay_over",
            text="&Lay over the target",
            tip="Show the chosen candidate on the colour sought, full size.",
            menu=Menu.PIECE,
            run=match.lay_chosen_over,
            enabled=lambda: match.chosen() is not None,
            begins_group=True,
        ),
        Command(
            name="match.line_up",
            text="Line-&up…",
            tip="Lay the likeliest beside the book and read all of them in one photograph.",
            menu=Menu.PIECE,
            keys="Ctrl+L",
            run=match.line_up,
        ),
        Command(
            name="match.beside",
            text="Hold it &beside the book…",
            tip="Compare the candidate with the book in one photograph of both.",
            menu=Menu.PIECE,
            run=match.hold_chosen_beside,
            enabled=match.may_use,
        ),
        Command(
            name="match.reserve",
            text="&Reserve for this part",
            tip="Keep the chosen piece for the part; it is not offered for others.",
            menu=Menu.PIECE,
            run=match.reserve_chosen,
            enabled=match.may_use,
        ),
        Command(
            name="match.cut",
            text="&Cut the part…",
            tip="See where the part lies and what is left, then cut.",
            menu=Menu.PIECE,
            keys="Ctrl+Return",
            run=match.cut_chosen,
            enabled=match.may_use,
        ),
    ]
