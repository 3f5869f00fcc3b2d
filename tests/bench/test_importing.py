"""A table of pieces tried row by row, and taken in as one step or not at all."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bindery_stock.bench.exchange.import_cells import CellForms, Field, LengthIn, Point, number
from bindery_stock.bench.exchange.import_dates import DayOrder
from bindery_stock.bench.exchange.import_table import (
    Subject,
    Trial,
    likely_columns,
    likely_subject,
    likely_unit,
    try_rows,
)
from bindery_stock.bench.exchange.lists import Listing, listing
from bindery_stock.bench.exchange.take_in import take_in_table
from bindery_stock.errors import EntryError
from bindery_stock.records.csv_text import csv_bytes
from bindery_stock.records.table_in import Delimiter, Encoding, csv_sheet, decoded
from bindery_stock.stock import Measure, Stockroom
from bindery_stock.trade import shipped_rules
from bindery_stock.trade.vocabulary import Kind
from tests.records.busy import busy_stockroom

HEAD = "Code,Kind,Width (mm),Height (mm),L*,a*,b*,Place,Price,Note\n"


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with busy_stockroom(tmp_path / "stock", tmp_path / "scratch") as made:
        yield made


def tried(text: str, known: set[str] | None = None, **how: object) -> Trial:
    delimiter = Delimiter.SEMICOLON if ";" in text.split("\n", maxsplit=1)[0] else Delimiter.COMMA
    sheet = csv_sheet(text, delimiter)
    subject = likely_subject(sheet.headings)
    reading = CellForms(likely_columns(sheet.headings, subject), **how)
    return try_rows(sheet, reading, known or set(), shipped_rules(), subject)


def test_columns_are_known_by_our_own_headings() -> None:
    columns = likely_columns(tuple(HEAD.strip().split(",")))
    assert columns[Field.WIDTH] == 2
    assert columns[Field.LIGHTNESS] == 4
    assert likely_unit(("Width (cm)",), {Field.WIDTH: 0}) is LengthIn.CM


def test_a_good_row_becomes_a_piece_with_its_code() -> None:
    trial = tried(HEAD + "C-0107,cloth,58.5,228,38.2,44.9,-3,drawer 2,4.50,plain\n")
    ((piece, code),) = trial.pieces
    assert code == "C-0107"
    assert (piece.outline.width, piece.outline.height) == (58.5, 228.0)
    assert piece.colours[0].lab == (38.2, 44.9, -3.0)
    assert str(piece.price) == "4.50"
    assert trial.good


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("C-1,cloth,wide,228,,,,,,", "“C-1” is no code|“wide” is not a figure"),
        (",cloth,wide,228,,,,,,", "Width across the warp: “wide” is not a figure"),
        (",felt,58,228,,,,,,", "Kind: “felt” is none of cloth"),
        (",cloth,0,228,,,,,,", "no size of a piece"),
        (",cloth,-5,228,,,,,,", "no size of a piece"),
        (",cloth,nan,228,,,,,,", "not a figure"),
        (",cloth,1e400,228,,,,,,", "not a figure"),
        (",cloth,,228,,,,,,", "is empty"),
        (",cloth,58,228,38,,,,,", "belong together"),
        (",cloth,58,228,380,1,1,,,", "no colour of cloth"),
        ("L-0001,cloth,58,228,,,,,,", "no code for cloth"),
        (",cloth,1 500,228,,,,,,", "signs between thousands"),
        (",cloth,1'500,228,,,,,,", "signs between thousands"),
        (',cloth,"1,500",228,,,,,,', "signs between thousands"),
        (",cloth,58,228,,,,,,,extra", "11 cells under 10 headings"),
    ],
)
def test_a_row_that_cannot_be_is_told_with_its_line_and_the_mend(row: str, words: str) -> None:
    import re

    trial = tried(f"{HEAD},cloth,58,228,,,,,,\n{row}\n")
    (fault,) = trial.faults
    assert fault.line == 3
    assert re.search(words, fault.sentence)
    assert not trial.good, "nothing is taken in while a row is faulty"
    assert "1 row cannot be read" in trial.words


def test_decimal_commas_are_read_when_chosen_and_never_mixed() -> None:
    text = "Kind;Width;Height\ncloth;58,5;1.228\n"
    trial = tried(text, point=Point.COMMA)
    assert "1.228" in trial.faults[0].sentence
    assert tried(text.replace("1.228", "228"), point=Point.COMMA).pieces[0][0].outline.width == 58.5
    assert number("−3,5", "b*", Point.COMMA) == -3.5
    with pytest.raises(EntryError):
        number("1.500,5", "Width", Point.COMMA)


def test_lengths_in_centimetres_and_inches() -> None:
    trial = tried("Kind,Width,Height\ncloth,2.5,9.5 cm\n", length=LengthIn.INCH)
    outline = trial.pieces[0][0].outline
    assert (outline.width, outline.height) == (pytest.approx(63.5), pytest.approx(95.0))


def test_codes_that_are_here_are_left_out_and_codes_given_twice_are_told() -> None:
    rows = "C-0001,cloth,58,228,,,,,,\nC-0107,cloth,58,228,,,,,,\nC-0107,cloth,58,228,,,,,,\n"
    trial = tried(HEAD + rows, {"C-0001"})
    assert trial.known == ("C-0001",)
    assert "C-0107 stands on line 3 already" in trial.faults[0].sentence
    assert trial.faults[0].line == 4


SOURCED = "Kind,Width,Height,Source date\n"


@pytest.mark.parametrize("typed", ["1868-12-31", "about 1868", "1868", "c. 1850", "=1+1"])
def test_a_source_date_that_leaves_no_doubt_is_kept_as_it_was_typed(typed: str) -> None:
    trial = tried(f"{SOURCED}cloth,58,228,{typed}\n")
    assert trial.pieces[0][0].source_date == typed
    assert trial.dates == ""


def test_a_source_date_of_doubtful_order_is_asked_about_and_read_as_chosen() -> None:
    text = f"{SOURCED}cloth,58,228,about 1850\ncloth,58,228,03/04/1868\n"
    with pytest.raises(EntryError, match="“03/04/1868” on line 3 can be read two ways") as asked:
        tried(text)
    assert asked.value.field == "Order of dates"
    for order, kept in ((DayOrder.DAY, "1868-04-03"), (DayOrder.MONTH, "1868-03-04")):
        trial = tried(text, order=order)
        assert [piece.source_date for piece, _ in trial.pieces] == ["about 1850", kept]
        assert f"Dates are read {order}, as chosen." in trial.words


def test_the_order_of_dates_is_told_by_a_cell_that_can_be_nothing_else() -> None:
    text = f"{SOURCED}cloth,58,228,03/04/1868\ncloth,58,228,12/31/1868\n"
    trial = tried(text)
    assert [piece.source_date for piece, _ in trial.pieces] == ["1868-03-04", "1868-12-31"]
    assert "month first: “12/31/1868” on line 3 can be nothing else" in trial.words
    against = tried(text, order=DayOrder.DAY)
    assert against.faults[0].line == 3
    assert "If 31 Dec 1868 is meant, write 1868-12-31" in against.faults[0].sentence
    assert not against.good


def test_columns_that_go_nowhere_are_named_or_go_into_the_note() -> None:
    text = "Kind,Width,Height,Note,Date acquired,Shelf mark,Empty\ncloth,58,228,ok,03/04/2024,9,\n"
    trial = tried(text)
    assert trial.left_out == ("Date acquired", "Shelf mark")
    assert "Not taken in: Date acquired, Shelf mark." in trial.words
    kept = tried(text, rest_in_note=True)
    assert kept.left_out == ()
    assert kept.pieces[0][0].note == "ok\nDate acquired: 03/04/2024\nShelf mark: 9"
    assert kept.pieces[0][0].source_date == "", "the day it was bought is not the cloth's own date"


LOTS = "Code,Class,Name,Left,Bought,Opened,Expires,Place,Supplier\n"


def test_a_table_of_adhesives_is_known_by_its_headings() -> None:
    row = "A-0007,wheat starch paste,Jar by the window,250 g,2026-01-03,4 Mar 2026,2026-12-31,sill,"
    trial = tried(f"{LOTS}{row}Miller\n")
    ((lot, code),) = trial.lots
    assert trial.subject is Subject.LOTS
    assert (code, lot.kind, lot.name) == ("A-0007", "wheat-starch-paste", "Jar by the window")
    assert (lot.left, lot.held, lot.unit) == (250.0, 250.0, Measure.GRAM)
    assert (str(lot.bought), str(lot.opened), str(lot.expires)) == (
        "2026-01-03", "2026-03-04", "2026-12-31",
    )  # fmt: skip
    assert (lot.place, lot.supplier) == ("sill", "Miller")
    assert trial.words.startswith("1 lot would be shelved.")
    assert likely_subject(("Code", "Kind", "Width", "Place")) is Subject.PIECES


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("1.5 kg", (1500.0, Measure.GRAM, "")),
        ("0.5 l", (500.0, Measure.MILLILITRE, "")),
        ("20ml", (20.0, Measure.MILLILITRE, "")),
        ("half a jar", (None, None, "half a jar")),
        ("", (None, None, "")),
    ],
)
def test_how_much_is_left_is_measured_or_in_words(typed: str, kept: object) -> None:
    ((lot, _),) = tried(f"{LOTS},pva,Tin,{typed},,,,,\n").lots
    assert (lot.left, lot.unit, lot.quantity) == kept


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (",white glue,Tin,,,,,,", "“white glue” is none of the classes there are: acrylic"),
        (",pva,,,,,,,", "Name: is empty. Write what the label says"),
        (",pva,Tin,250,,,,,", "“250” of what"),
        (",pva,Tin,-3 g,,,,,", "cannot be left of a lot"),
        (",pva,Tin,,12/31/24,,,,", "Bought: the year of “12/31/24”"),
        (",pva,Tin,,,about 2020,,,", "Opened: “about 2020” is no day"),
        ("C-0007,pva,Tin,,,,,,", "no code for an adhesive; it would be A-0042"),
    ],
)
def test_a_lot_that_cannot_be_is_told_with_its_line_and_the_mend(row: str, words: str) -> None:
    (fault,) = tried(f"{LOTS}{row}\n").faults
    assert fault.line == 2
    assert words in fault.sentence


def test_days_of_lots_in_two_orders_are_asked_about_over_all_their_columns() -> None:
    text = f"{LOTS},pva,Tin,,03/04/2024,,,,\n,pva,Jar,,,05/13/2024,,,\n"
    trial = tried(text)
    assert str(trial.lots[0][0].bought) == "2024-03-04"
    assert "month first: “05/13/2024” on line 3" in trial.dates
    with pytest.raises(EntryError, match="Choose whether the day"):
        tried(f"{LOTS},pva,Tin,,03/04/2024,,,,\n")


def test_lots_come_in_as_one_step_and_one_undo_takes_them_back(stock: Stockroom) -> None:
    before = stock.lots.listed(finished=True)
    known = {lot.code for lot in before}
    text = f"{LOTS}A-0001,pva,Old,,,,,,\n,pva,Tin,,,,,,\nA-0090,pva,Jar,2 kg,,,,,\n"
    trial = tried(text, known)
    assert trial.known == ("A-0001",)
    changes = take_in_table(stock, trial=trial, source="tins.csv")
    assert changes.step.name == "Took in 2 lots from tins.csv"
    assert changes.born == ("A-0091", "A-0090")
    assert len(stock.lots.listed(finished=True)) == len(before) + 2
    assert stock.keeping.check().faults == ()
    stock.ledger.undo()
    assert stock.lots.listed(finished=True) == before
    with pytest.raises(EntryError, match="A-0001 is taken"):
        take_in_table(stock, trial=tried(text), source="tins.csv")
    assert stock.lots.listed(finished=True) == before


def test_a_needed_column_must_be_named() -> None:
    with pytest.raises(EntryError, match="say which column holds it"):
        tried("Width,Height\n1,2\n")
    assert tried("Width,Height\n1,2\n", kind=Kind.MULL).good


def test_hundreds_of_faulty_rows_are_counted() -> None:
    trial = tried(HEAD + ",felt,1,1,,,,,,\n" * 500)
    assert len(trial.faults) == 200
    assert "500 rows cannot be read" in trial.words


def test_the_stock_list_comes_back_as_it_went_out(stock: Stockroom, tmp_path: Path) -> None:
    text = decoded(csv_bytes(listing(Listing.STOCK, stock)), Encoding.UTF_8)
    trial = tried(text)
    assert trial.faults == ()
    with Stockroom.create(tmp_path / "other") as other:
        take_in_table(other, trial=trial, source="stock.csv")
        for piece in stock.pieces.listed():
            there = other.pieces.get(piece.code)
            assert there.kind is piece.kind
            assert there.note == piece.note.strip()
            assert there.price == piece.price
            assert there.outline.width == pytest.approx(piece.outline.width, abs=0.06)
        assert other.keeping.check().faults == ()


def test_taking_in_is_one_step_and_one_undo_takes_it_back(stock: Stockroom) -> None:
    before = stock.pieces.listed()
    rows = "".join(f",cloth,{n},100,38,44,21,,,\n" for n in range(1, 2501))
    trial = tried(HEAD + "C-0107,cloth,58,228,,,,,,\n" + rows)
    changes = take_in_table(stock, trial=trial, source="old.csv")
    assert changes.step.name == "Took in 2501 pieces from old.csv"
    assert changes.born[:2] == ("C-0107", "C-0108")
    assert len(stock.pieces.listed()) == len(before) + 2501
    assert stock.keeping.check().faults == ()
    stock.ledger.undo()
    assert stock.pieces.listed() == before
    stock.ledger.redo()
    assert stock.pieces.get("C-0108").colour is not None
    assert stock.keeping.check().faults == ()


def test_a_code_that_is_taken_meanwhile_leaves_everything_as_it_was(stock: Stockroom) -> None:
    trial = tried(HEAD + ",cloth,58,228,,,,,,\nC-0002,cloth,58,228,,,,,,\n")
    before = stock.exchange.whole()
    with pytest.raises(EntryError, match="C-0002 is taken"):
        take_in_table(stock, trial=trial, source="old.csv")
    assert stock.exchange.whole() == before


def test_taking_in_that_is_stopped_leaves_everything_as_it_was(stock: Stockroom) -> None:
    class EnoughError(Exception):
        pass

    asked = 0

    def stop() -> None:
        nonlocal asked
        asked += 1
        if asked == 3:
            raise EnoughError

    trial = tried(HEAD + ",cloth,58,228,,,,,,\n" * 3000)
    before = stock.exchange.whole()
    with pytest.raises(EnoughError):
        take_in_table(stock, trial=trial, source="old.csv", check=stop)
    assert stock.exchange.whole() == before
