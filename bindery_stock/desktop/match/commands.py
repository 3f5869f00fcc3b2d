"""The Match place's commands."""

from typing import TYPE_CHECKING

from bindery_stock.desktop.commands import Command, Menu

if TYPE_CHECKING:
    from bindery_stock.desktop.match.screen import MatchScreen


def match_commands(match: "MatchScreen") -> list[Command]:
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
