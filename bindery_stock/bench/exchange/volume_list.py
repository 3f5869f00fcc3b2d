"""The list of volumes: each as a copy, with its binding, its condition and what was agreed."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from bindery_stock.bench.books.description_entries import features
from bindery_stock.records.counted import counted
from bindery_stock.records.table import Cell, Column, Sort, Table, table_of
from bindery_stock.stock import Repair
from bindery_stock.trade.day_counts import written


def _columns() -> tuple[Column, ...]:
    binding = (Column(one.words, on_paper=False) for one in features())
    return (
        Column("Code"),
        Column("Volume"),
        Column("Title"),
        Column("Author"),
        Column("Set"),
        Column("Number", Sort.NUMBER, on_paper=False),
        Column("Owner"),
        Column("Shelfmark"),
        Column("Imprint", on_paper=False),
        Column("Date of imprint"),
        Column("Bound"),
        Column("Colour by eye", on_paper=False),
        Column("Grain pattern", on_paper=False),
        *binding,
        Column("Former repairs", on_paper=False),
        Column("Laboratory", on_paper=False),
        Column("Condition", on_paper=False),
        Column("State"),
        Column("Examiner", on_paper=False),
        Column("Examined", Sort.DATE, on_paper=False),
        Column("Recommended", on_paper=False),
        Column("Consent", on_paper=False),
        Column("Consented", Sort.DATE, on_paper=False),
        Column("Hours estimated", Sort.NUMBER, "h", 1, on_paper=False),
        Column("Hours spent", Sort.NUMBER, "h", 1),
    )


def volume_list(repairs: Iterable[Repair], titles: Mapping[str, str], today: date) -> Table:
    """Every volume on the bench or done; ``titles`` are those of the sets by their codes."""
    rows = [_row(repair, titles.get(repair.book_set or "", "")) for repair in repairs]
    told = f"{counted(len(rows), 'volume')} on {written(today)}."
    return table_of("Volumes", told, _columns(), rows)


def _row(repair: Repair, set_title: str) -> Sequence[Cell]:
    about, care = repair.description, repair.care
    return (
        repair.code,
        repair.name,
        repair.title,
        repair.author,
        set_title,
        repair.volume,
        repair.owner,
        about.shelfmark,
        about.imprint,
        about.imprint_date,
        repair.dated,
        repair.colour_family,
        repair.pattern,
        *(getattr(about, one.field) for one in features()),
        about.former_repairs,
        "; ".join(result.words for result in repair.lab_results),
        repair.condition,
        repair.state.value,
        care.examiner,
        care.examined_on,
        care.course.what if care.course else "",
        care.consent,
        care.consented_on,
        repair.hours_estimated,
        repair.hours_spent,
    )
