"""What the papers of a volume say of it as a copy: whose it is, its binding, measures, damage."""

from bindery_stock.bench.books.description_entries import binding_lines
from bindery_stock.bench.books.placed_words import placed_words
from bindery_stock.bench.books.snapshot import BooksView
from bindery_stock.clock import local_date
from bindery_stock.stock import Repair
from bindery_stock.trade import Damage, Survey
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

Told = tuple[tuple[str, str], ...]

_MEASURES = (
    ("spine_width", "spine across"),
    ("arc", "round the back"),
    ("rise", "rise of the back"),
    ("joint", "joint"),
    ("board_height", "boards high"),
    ("board_width", "boards wide"),
    ("board_thickness", "boards thick"),
    ("leaf_height", "leaves high"),
    ("leaf_width", "leaves wide"),
)


def identity(books: BooksView, repair: Repair) -> Told:
    """Label and words of what tells this copy from others; what was not said is empty."""
    about = repair.description
    of_set = ""
    book_set = books.book_set(repair.book_set)
    if book_set is not None:
        volume = f", volume {repair.volume}" if repair.volume is not None else ""
        of_set = f"{book_set.title}{volume}"
    return (
        ("Title", repair.title),
        ("Author", repair.author),
        ("Imprint", ", ".join(part for part in (about.imprint, about.imprint_date) if part)),
        ("Set", of_set),
        ("Owner", repair.owner),
        ("Shelfmark", about.shelfmark),
        ("Record number", repair.code),
        ("Bound", repair.dated),
        ("Came to the bench", written(local_date(repair.begun))),
        ("State", repair.state.value),
    )


def binding(repair: Repair) -> Told:
    """The binding feature by feature, with its colour and what a laboratory said of it."""
    return (
        *binding_lines(repair.description, repair.pattern),
        ("Colour, by eye", repair.colour_family),
        ("Laboratory", "; ".join(result.words for result in repair.lab_results)),
        ("Former repairs", repair.description.former_repairs),
    )


def examined(repair: Repair) -> str:
    """``I. Fell, 1 Mar 2026``."""
    day = repair.care.examined_on
    return ", ".join(part for part in (repair.care.examiner, written(day) if day else "") if part)


def measures(survey: Survey, lengths: LengthStyle) -> str:
    """``Measured: spine across 33 mm, boards high 210 mm.``, or nothing."""
    told = [
        f"{words} {lengths.show(value)}"
        for name, words in _MEASURES
        if (value := getattr(survey, name))
    ]
    return f"Measured: {', '.join(told)}." if told else ""


def damage_lines(repair: Repair, lengths: LengthStyle) -> tuple[str, ...]:
    """Each damage as it was found: with its place where that is kept, else as it was ticked."""
    if repair.care.damages:
        return tuple(placed_words(one, lengths) for one in repair.care.damages)
    return tuple(damage_words(one, lengths) for one in repair.survey.damage)


def damage_words(damage: Damage, lengths: LengthStyle) -> str:
    """``bare corners, at 4 places, 12 mm``."""
    told = [damage.harm.value]
    if damage.count > 1:
        told.append(f"at {damage.count} places")
    if damage.extent is not None and damage.across is not None:
        told.append(lengths.pair(damage.across, damage.extent))
    elif damage.extent is not None:
        told.append(lengths.show(damage.extent))
    return ", ".join(told)
