"""A row that cannot be read is a damaged stockroom: named, not in use, and saved by the ledger.

The pages of the file are whole, so SQLite itself finds nothing: only reading the row does.
"""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bindery_stock import commands
from bindery_stock.errors import DamagedStockroom
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewConfirmation, NewPiece, PhotoMark, Stockroom
from bindery_stock.stock.keeping.restore import restore
from bindery_stock.stock.keeping.salvage import salvage
from bindery_stock.trade.vocabulary import Kind
from tests.records.busy import BenchClock, busy_stockroom

SPOILT = [
    ("piece", "outline", "C-0001"),
    ("piece", "flaws", "L-0001"),
    ("piece", "kind", "C-0001"),
    ("piece", "backing", "C-0001"),
    ("piece", "shelved_at", "C-0001"),
    ("piece", "properties", "L-0001"),
    ("piece", "lab_results", "L-0001"),
    ("piece", "price", "L-0001"),
    ("colour_reading", "face", "C-0001"),
    ("colour_reading", "patch", "C-0003"),
    ("photo_mark", "to_mm", "C-0003"),
    ("cutting", "corners", "C-0001"),
    ("reservation", "at", "C-0002"),
    ("adhesive_lot", "made", "A-0001"),
    ("lot_use", "use", "A-0001"),
    ("wanted", "since", "W-0001"),
    ("repair", "survey", "V-0001"),
    ("repair", "state", "V-0001"),
    ("repair", "description", "V-0001"),
    ("repair", "care", "V-0001"),
    ("repair_photo", "stage", "V-0001"),
    ("part", "turns", "V-0001"),
    ("treatment", "at", "V-0001"),
    ("confirmation", "piece_patches", "C-0002"),
    ("step", "verb", ""),
    ("step", "codes", ""),
    ("movement", "after", ""),
]
TEXTS = [("piece", "source", "C-0001"), ("adhesive_lot", "name", "A-0001"), ("step", "name", "")]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A stockroom in which a little of everything has happened, closed."""
    room = tmp_path_factory.mktemp("sound")
    with busy_stockroom(room / "stock", room / "scratch") as stock:
        photo = stock.photos.listed()[0]
        seen = NewPiece(
            kind=Kind.CLOTH,
            outline=Outline(((0, 0), (40, 0), (40, 90), (0, 90))),
            colours=(
                Colour((38.0, 44.0, 21.0), photo=photo.sha256, patch=((1, 1), (9, 1), (9, 8))),
            ),
            marks=(PhotoMark(photo, (0.2, 0.0, -3.0, 0.0, -0.2, 240.0, 0.0, 0.0, 1.0)),),
        )
        stock.pieces.shelve(seen)
        stock.pieces.confirm(
            "C-0002",
            NewConfirmation(
                purpose="spine",
                light="window",
                delta_e=1.2,
                u=0.8,
                book_patches=(((0.0, 0.0), (9.0, 0.0), (9.0, 9.0)),),
                piece_patches=(((20.0, 0.0), (29.0, 0.0), (29.0, 9.0)),),
            ),
        )
    return room / "stock"


def spoil(
    sound: Path, folder: Path, table: str, column: str, *, high: bool = False, last: bool = False
) -> Path:
    """A copy of the stockroom with one bit of one text of that table flipped.

    The highest bit makes it no UTF-8; otherwise what is written stays text, but of something else.
    """
    (folder / "photos").mkdir(parents=True)
    for original in (sound / "photos").iterdir():
        (folder / "photos" / original.name).write_bytes(original.read_bytes())
    with closing(sqlite3.connect(f"{(sound / 'stock.sqlite').as_uri()}?mode=ro", uri=True)) as raw:
        written = {
            number: text.encode()
            for number, text in raw.execute(
                f"SELECT rowid, {column} FROM {table} WHERE length({column}) > 2 ORDER BY rowid"
            )
        }
    number, text = list(written.items())[-1 if last else 0]
    flipped = bytearray(text)
    # The first sign of it: “[” becomes “Z”, “{” becomes “z”, “2” becomes “3” or no digit.
    flipped[0] ^= 0x80 if high else {"[": 0x01, "{": 0x01}.get(chr(text[0]), 0x08)
    database = folder / "stock.sqlite"
    database.write_bytes((sound / "stock.sqlite").read_bytes())
    with closing(sqlite3.connect(database)) as raw:
        triggers = raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        kept = raw.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for (name,) in triggers:  # the ledger lets no one alter it
            raw.execute(f"DROP TRIGGER {name}")
        raw.execute(
            f"UPDATE {table} SET {column} = CAST(? AS TEXT) WHERE rowid = ?",
            (bytes(flipped), number),
        )
        for (sql,) in kept:
            raw.execute(sql)
        raw.commit()
    return folder


@pytest.mark.parametrize(("table", "column", "code"), SPOILT)
def test_a_row_that_cannot_be_read_is_told_by_name(
    sound: Path, tmp_path: Path, table: str, column: str, code: str
) -> None:
    folder = spoil(sound, tmp_path / "stock", table, column)
    with Stockroom.open(folder, read_only=True) as stock:
        found = stock.keeping.check()
    assert not found.sound
    assert any(code in fault and "cannot be read" in fault for fault in found.faults), found.faults
    assert table == "movement" or any(
        column.replace("_", " ") in fault for fault in found.faults
    ), found.faults


@pytest.mark.parametrize(("table", "column", "code"), SPOILT)
def test_what_was_in_a_row_that_cannot_be_read_is_saved_by_the_ledger(
    sound: Path, tmp_path: Path, table: str, column: str, code: str
) -> None:
    clock, folder = BenchClock(), spoil(sound, tmp_path / "stock", table, column)
    saved = salvage(folder, clock())
    assert (saved.lost == ()) is (table not in {"step", "movement"})
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock, Stockroom.open(sound, read_only=True) as before:
        assert stock.keeping.check().faults == ()
        assert stock.pieces.listed(gone=True) == before.pieces.listed(gone=True)
        assert stock.lots.listed(finished=True) == before.lots.listed(finished=True)
        assert stock.books.repairs() == before.books.repairs()
        assert stock.books.parts() == before.books.parts()


@pytest.mark.parametrize(("table", "column", "code"), TEXTS)
def test_a_text_that_is_no_text_is_told_by_name_and_saved(
    sound: Path, tmp_path: Path, table: str, column: str, code: str
) -> None:
    clock, folder = BenchClock(), spoil(sound, tmp_path / "stock", table, column, high=True)
    with Stockroom.open(folder, read_only=True) as stock:
        assert [
            fault
            for fault in stock.keeping.check().faults
            if code in fault and f"its {column}" in fault
        ]
        with pytest.raises(DamagedStockroom, match=f"{code}.* its {column} cannot be read"):
            stock.keeping.look_through()
    saved = salvage(folder, clock())
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock, Stockroom.open(sound, read_only=True) as before:
        assert stock.keeping.check().faults == ()
        assert stock.pieces.listed(gone=True) == before.pieces.listed(gone=True)


@pytest.mark.parametrize(("table", "column", "code"), [*SPOILT[:3], SPOILT[13], SPOILT[16]])
def test_the_command_line_tells_of_it_and_ends_in_no_trace(
    sound: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    table: str,
    column: str,
    code: str,
) -> None:
    folder = spoil(sound, tmp_path / "stock", table, column)
    assert commands.run(["check", str(folder), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert any(code in fault for fault in found["faults"])
    assert commands.run(["export", str(folder), "archive", str(tmp_path / "all.zip")]) in (0, 3)
    capsys.readouterr()
    assert commands.run(["salvage", str(folder)]) == 0
    assert "Everything was saved" in capsys.readouterr().out


def test_a_step_on_a_damaged_piece_is_refused_and_undo_of_a_spoilt_movement_too(
    sound: Path, tmp_path: Path
) -> None:
    folder = spoil(sound, tmp_path / "one", "piece", "outline")
    with Stockroom.open(folder) as stock, pytest.raises(DamagedStockroom, match="its outline"):
        stock.pieces.move(["C-0001"], "drawer 9")
    folder = spoil(sound, tmp_path / "other", "movement", "after")
    with Stockroom.open(folder) as stock, pytest.raises(DamagedStockroom, match="a movement of"):
        stock.ledger.undo(1)


def test_a_spoilt_last_step_lets_go_of_the_folder_again(sound: Path, tmp_path: Path) -> None:
    folder = spoil(sound, tmp_path / "stock", "step", "verb", last=True)
    for _ in range(2):
        with pytest.raises(DamagedStockroom, match="Of the ledger, step"):
            Stockroom.open(folder)
