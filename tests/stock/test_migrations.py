"""The migrations lead to the tables the program knows, from every schema there ever was."""

import math
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from io import StringIO
from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import Engine, select

from bindery_stock.colour import ReadBy
from bindery_stock.stock import Stockroom, tables
from bindery_stock.stock.keeping import migrate
from bindery_stock.stock.keeping.disk import engine
from bindery_stock.trade.gate import Leave

MUSEUM = sorted((Path(__file__).parent / "museum").glob("schema-*"))


def _parts(sql: str) -> tuple[str, ...]:
    plain = " ".join(sql.replace('"', "").split()).removesuffix(" )")
    return tuple(sorted(plain.split(", ")))


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Engine]:
    (tmp_path / "empty.sqlite").touch()
    made = engine(tmp_path / "empty.sqlite", writing=True)
    yield made
    made.dispose()


def schema_of(database: Path) -> set[tuple[str, str, tuple[str, ...]]]:
    """Each thing with its parts; in which order a table names its constraints does not matter."""
    with closing(sqlite3.connect(database)) as raw:
        return {
            (kind, name, _parts(sql))
            for kind, name, sql in raw.execute(
                "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL"
            )
            if name != "alembic_version"
        }


def test_the_migrations_and_the_tables_are_the_same(tmp_path: Path, empty: Engine) -> None:
    (tmp_path / "at once.sqlite").touch()
    at_once = engine(tmp_path / "at once.sqlite", writing=True)
    with at_once.begin() as connection:
        tables.Base.metadata.create_all(connection)
    at_once.dispose()
    with empty.begin() as connection:
        migrate.upgrade(connection)
    empty.dispose()
    assert schema_of(tmp_path / "empty.sqlite") == schema_of(tmp_path / "at once.sqlite")


def test_no_table_has_drifted_from_the_migrations(empty: Engine) -> None:
    said = StringIO()
    with empty.begin() as connection:
        migrate.upgrade(connection)
        config = migrate.script(connection)
        config.stdout = said
        command.check(config)
    assert "No new upgrade operations" in said.getvalue()


def test_a_migration_that_fails_leaves_nothing(tmp_path: Path, empty: Engine) -> None:
    """By the driver's own habit on Python 3.11 the tables made before the failure would stay."""
    with pytest.raises(ZeroDivisionError), empty.begin() as connection:  # noqa: PT012
        migrate.upgrade(connection)
        assert connection.execute(select(tables.PieceRow)).all() == []
        raise ZeroDivisionError
    empty.dispose()
    assert schema_of(tmp_path / "empty.sqlite") == set()
    with closing(sqlite3.connect(tmp_path / "empty.sqlite")) as raw:
        assert raw.execute("PRAGMA user_version").fetchone() == (0,)


@pytest.mark.parametrize("kept", MUSEUM, ids=lambda path: path.name)
def test_a_stockroom_of_every_earlier_schema_opens_with_all_it_held(
    kept: Path, tmp_path: Path
) -> None:
    shutil.copytree(kept, tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        assert stock.keeping.check().faults == ()
        assert [(piece.code, piece.parent, piece.place) for piece in stock.pieces.listed()] == [
            ("K-0001", None, ""),
            ("C-0002", "C-0001", "tin A"),
            ("C-0003", "C-0001", "drawer 2"),
        ]
        assert stock.pieces.get("C-0002").colours[0].lab == (38.2, 44.9, 21.7)
        assert len(stock.pieces.get("C-0003").marks) == 1
        assert [lot.name for lot in stock.lots.listed()] == ["Cooked paste"]
        assert [held.purpose for held in stock.pieces.reservations()] == ["corner, vol. 2"]
        while stock.ledger.undoable() is not None:
            stock.ledger.undo()
        assert stock.pieces.listed(gone=True) == []
        assert stock.keeping.check().faults == ()


def test_a_schema_with_adhesives_keeps_what_was_counted_tested_and_wanted(tmp_path: Path) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-2", tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (lot,) = stock.lots.listed()
        assert (lot.held, lot.left, lot.reference) == (200.0, 130.0, "batch 7")
        assert [(one.name, one.value) for one in lot.properties] == [("lumpy", False)]
        assert [use.override_reason for use in stock.lots.uses()] == ["a trial on waste"]
        assert stock.pieces.get("C-0002").colour_family == "red"
        assert [result.complete for result in stock.pieces.get("C-0002").lab_results] == [True]
        assert [want.what for want in stock.wants.listed()] == ["red ribbed cloth"]
        assert [point.least for point in stock.wants.reorder_points()] == [50.0]


def _as_an_earlier_version_read_it(folder: Path, method: str, u: float) -> None:
    """Write another method and band into a kept stockroom, in the row and in its ledger."""
    with closing(sqlite3.connect(folder / "stock.sqlite")) as raw, raw:
        kept = raw.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'movement'"
        ).fetchall()
        for name, _sql in kept:
            raw.execute(f"DROP TRIGGER {name}")
        raw.execute("UPDATE colour_reading SET method = ?, u = ?", (method, u))
        for side in ("before", "after"):
            raw.execute(
                f"UPDATE movement SET {side} = json_set({side}, '$.method', ?, '$.u', ?) "
                f"WHERE kind = 'colour_reading' AND {side} IS NOT NULL",
                (method, u),
            )
        for _name, sql in kept:
            raw.execute(sql)


@pytest.mark.parametrize(
    ("method", "u", "read_by", "band"),
    [
        ("bare photograph, no reference", 20.1, ReadBy.SEEN, None),
        ("white paper in the photograph", 20.1, ReadBy.SEEN, None),
        (
            "one neutral patch in the photograph",
            18.5,
            ReadBy.CARD,
            math.sqrt(18.5**2 - 18**2 + 14**2),
        ),
        ("2 neutral patches", 18.0, ReadBy.CARD, 14.0),
        ("24-patch target: exposure (left-out ΔE00 4.1)", 9.7, ReadBy.TARGET, 9.7),
        (
            "24-patch target: exposure (left-out ΔE00 4.1), from another photograph of the sitting",
            9.9,
            ReadBy.LENT,
            9.9,
        ),
        ("instrument reading, D50/2°", 3.0, ReadBy.INSTRUMENT, 3.0),
        ("photo with a grey card", 2.5, ReadBy.STATED, 2.5),
    ],
)
def test_a_reading_of_an_earlier_version_gets_the_band_its_way_of_reading_deserves_once(
    method: str, u: float, read_by: ReadBy, band: float | None, tmp_path: Path
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-6", tmp_path / "stock")
    _as_an_earlier_version_read_it(tmp_path / "stock", method, u)
    with Stockroom.open(tmp_path / "stock") as stock:
        (colour,) = stock.pieces.get("C-0002").colours
        assert colour.read_by is read_by
        assert colour.u == (None if band is None else pytest.approx(band))
        assert colour.lab == (38.2, 44.9, 21.7)
        step = stock.ledger.undoable()
        assert step is not None
        assert step.name.startswith("Bands of ")
        assert step.name.endswith(" brought to what their way of reading deserves")
        assert stock.keeping.check().faults == ()
    with Stockroom.open(tmp_path / "stock") as stock:
        assert stock.ledger.undoable() == step, "told once"
        stock.ledger.undo()
        (before,) = stock.pieces.get("C-0002").colours
        assert before.read_by is read_by
        assert before.u == (None if band is None else u)


def test_a_part_of_an_earlier_version_has_its_colour_as_the_place_of_its_volume_had_it(
    tmp_path: Path,
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-3", tmp_path / "stock")
    with closing(sqlite3.connect(tmp_path / "stock" / "stock.sqlite")) as raw, raw:
        lab = "lightness = 43.0, a = 21.0, b = 15.0, u = 20.1"
        raw.execute(f"UPDATE target_colour SET {lab}, method = 'bare photograph, no reference'")
        raw.execute(f"UPDATE part SET {lab}")
    with Stockroom.open(tmp_path / "stock") as stock:
        parts = stock.books.parts()
        assert parts
        assert {(part.read_by, part.u) for part in parts} == {(ReadBy.SEEN, None)}


def test_the_museum_is_not_empty() -> None:
    assert [kept.name for kept in MUSEUM] == [f"schema-{n + 1}" for n in range(migrate.SCHEMA)]


def test_a_kept_stockroom_still_has_its_volumes_and_their_parts(tmp_path: Path) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-3", tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (volume,) = stock.books.repairs(book_set="U-0001")
        assert volume.survey.board_height == 226.0
        assert volume.targets[0].colour.lab == (43.0, 21.0, 15.0)
        assert volume.hours_spent == 1.5
        assert stock.books.overrides(volume=volume.code).volume == {"underlap": 9.0}
        assert [part.words for part in stock.books.parts(volume=volume.code)] == [
            "reback strip",
            "corner patch 1 of 2",
            "corner patch 2 of 2",
        ]


def test_a_kept_stockroom_still_has_what_a_covering_is_judged_by_and_the_ruling(
    tmp_path: Path,
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-6", tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (volume,) = stock.books.repairs()
        assert (volume.colour_family, volume.dated) == ("vivid green", "1858")
        assert [(one.substance, one.found) for one in volume.lab_results] == [("arsenic", True)]
        (done,) = stock.books.treatments(volume.code)
        assert (done.on, done.wet) == (date(2026, 2, 27), True)
        (ruling,) = stock.rulings.listed(volume=volume.code)
        assert (ruling.deed, ruling.leave, ruling.rules) == ("note_work", Leave.STOPPED, ("R32",))
        assert ruling.reason == "done before the laboratory had answered"


def test_a_kept_stockroom_still_has_how_a_volume_is_described_and_what_was_agreed(
    tmp_path: Path,
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / "schema-8", tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (volume,) = stock.books.repairs()
        assert (volume.description.imprint_date, volume.description.shelfmark) == ("1858", "B 12")
        assert volume.care.course is not None
        assert volume.care.course.what == "Leave it and box it"
        assert volume.care.examined_on == date(2026, 3, 1)
        (its_set,) = stock.books.book_sets()
        assert (its_set.colour_family, its_set.description.covering) == (
            "vivid green",
            "full cloth",
        )


@pytest.mark.parametrize("schema", ["schema-3", "schema-6", "schema-7"])
def test_a_volume_kept_before_it_could_be_described_has_nothing_said_of_it(
    schema: str, tmp_path: Path
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / schema, tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (volume,) = stock.books.repairs()
        assert (volume.description.told, volume.care.told) == (False, False)
        assert not any(one.description.told for one in stock.books.book_sets())


@pytest.mark.parametrize("schema", ["schema-3", "schema-4", "schema-5"])
def test_a_volume_kept_before_coverings_were_judged_claims_nothing_of_its_covering(
    schema: str, tmp_path: Path
) -> None:
    shutil.copytree(Path(__file__).parent / "museum" / schema, tmp_path / "stock")
    with Stockroom.open(tmp_path / "stock") as stock:
        (volume,) = stock.books.repairs()
        assert (volume.colour_family, volume.dated, volume.lab_results) == ("", "", ())
        (done,) = stock.books.treatments(volume.code)
        assert (done.on, done.wet) == (None, None)
        assert stock.rulings.listed() == []
