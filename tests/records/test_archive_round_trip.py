"""A whole stockroom out and in again: equal to the last field."""

import json
import shutil
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import jsonschema
import pytest

from bindery_stock.errors import DiskTrouble, StockError
from bindery_stock.records.archive_in import unpack
from bindery_stock.records.stock_archive import pack
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping.migrate import SCHEMA
from bindery_stock.stock.ledger.whole import Whole, row_schema
from tests.records.busy import busy_stockroom

AT = datetime(2026, 3, 3, 8, 0, tzinfo=UTC)
RESOURCES = Path(__file__).parents[2] / "resources" / "archive"
MUSEUM = Path(__file__).parents[1] / "stock" / "museum"


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with busy_stockroom(tmp_path / "stock", tmp_path / "scratch") as made:
        yield made


def test_a_stockroom_comes_back_equal_to_the_last_field(stock: Stockroom, tmp_path: Path) -> None:
    (stock.folder / "rules.toml").write_text("# my own rules\n", "utf-8")
    packed = pack(stock, tmp_path / "mine.bindery.zip", AT)
    assert packed.missing == ()
    unpacked = unpack(packed.path, tmp_path / "copy")
    assert unpacked.photos == 2
    with Stockroom.open(tmp_path / "copy") as copy:
        assert copy.exchange.whole() == stock.exchange.whole()
        assert copy.pieces.listed(gone=True) == stock.pieces.listed(gone=True)
        assert copy.books.repairs() == stock.books.repairs()
        assert copy.lots.listed(finished=True) == stock.lots.listed(finished=True)
        assert copy.ledger.steps() == stock.ledger.steps()
        assert copy.keeping.check().faults == ()
        assert copy.own_rules.read_text("utf-8") == "# my own rules\n"
        for photo in stock.photos.listed():
            there, here = copy.photos.path(photo.sha256), stock.photos.path(photo.sha256)
            assert there.read_bytes() == here.read_bytes()


def test_the_copy_goes_on_where_the_stockroom_was(stock: Stockroom, tmp_path: Path) -> None:
    unpack(pack(stock, tmp_path / "mine.bindery.zip", AT).path, tmp_path / "copy")
    new = NewPiece(**_facts(stock.pieces.get("L-0001")))
    with Stockroom.open(tmp_path / "copy", clock=lambda: AT) as copy:
        copy.ledger.undo()
        copy.ledger.redo()
        # M-0001 was given out and taken back: its number is not given out again.
        assert copy.pieces.shelve(new).born == stock.pieces.shelve(new).born == ("L-0002",)
        ids = [room.pieces.get("L-0002").id for room in (copy, stock)]
        assert ids[0] == ids[1]
        assert copy.keeping.check().faults == ()


def _facts(piece: object) -> dict[str, object]:
    from dataclasses import fields

    return {one.name: getattr(piece, one.name) for one in fields(NewPiece)}


def test_the_archive_is_valid_by_its_published_schemas(stock: Stockroom, tmp_path: Path) -> None:
    # Checked with jsonschema against JSON Schema draft 2020-12, by a path of its own.
    path = pack(stock, tmp_path / "mine.bindery.zip", AT).path
    form = json.loads((RESOURCES / "manifest.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(form)
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        manifest = json.loads(archive.read("manifest.json"))
        jsonschema.validate(manifest, form)
        schema = json.loads(archive.read("schema.json"))
        jsonschema.Draft202012Validator.check_schema(schema)
        for name, rows in schema["$defs"].items():
            jsonschema.validate(json.loads(archive.read(f"tables/{name}.json")), rows)
        piece = json.loads(archive.read("tables/piece.json"))[0]
    assert piece["outline"] == [[[0.0, 0.0], [100.0, 0.0], [100.0, 300.0], [0.0, 300.0]]]


def test_every_table_and_column_is_in_the_schema(stock: Stockroom) -> None:
    forms = row_schema(SCHEMA)["$defs"]
    whole = stock.exchange.whole()
    assert forms.keys() == whole.tables.keys()
    for name, rows in whole.tables.items():
        for row in rows:
            assert row.keys() == forms[name]["items"]["properties"].keys()


@pytest.mark.parametrize("schema", [1, 2, 3])
def test_an_archive_of_an_older_version_is_brought_up_to_date(tmp_path: Path, schema: int) -> None:
    old = tmp_path / "old"
    shutil.copytree(MUSEUM / f"schema-{schema}", old)
    whole = _as_it_was(old, schema)
    with Stockroom.open(old, clock=lambda: AT) as stock:
        packed = pack(stock, tmp_path / "new.zip", AT)
        brought_up = stock.exchange.whole()
    aged = tmp_path / "old.zip"
    _age(packed.path, aged, whole)
    unpack(aged, tmp_path / "copy")
    with Stockroom.open(tmp_path / "copy", clock=lambda: AT) as copy:
        assert _but_the_hour(copy.exchange.whole()) == _but_the_hour(brought_up)
        assert copy.keeping.check().faults == ()


def _but_the_hour(whole: Whole) -> dict[str, object]:
    """All its rows, without the hour at which its colours were brought up to date."""
    last = {**whole.tables["step"][-1], "at": None}
    return {**whole.tables, "step": [*whole.tables["step"][:-1], last]}


def _as_it_was(folder: Path, schema: int) -> Whole:
    """The rows of a database of an older version, read without the program."""
    import sqlite3

    from bindery_stock.stock.ledger.whole import JSON_COLUMNS

    raw = sqlite3.connect(folder / "stock.sqlite")
    raw.row_factory = sqlite3.Row
    tables = {}
    for name, form in row_schema(schema)["$defs"].items():
        truths = {k for k, v in form["items"]["properties"].items() if "boolean" in v["type"]}
        tables[name] = [
            {
                key: json.loads(row[key]) if key in JSON_COLUMNS and row[key] is not None
                else bool(row[key]) if key in truths else row[key]
                for key in form["items"]["properties"]
            }
            for row in raw.execute(f"SELECT * FROM {name}")
        ]  # fmt: skip
    sequences = dict(raw.execute("SELECT name, seq FROM sqlite_sequence").fetchall())
    raw.close()
    return Whole(schema, tables, sequences)


def _age(source: Path, target: Path, whole: Whole) -> None:
    """The same archive as an older version would have written it."""
    import hashlib

    with zipfile.ZipFile(source) as new, zipfile.ZipFile(target, "w") as old:
        manifest = json.loads(new.read("manifest.json"))
        manifest |= {"schema": whole.schema, "counts": {k: len(v) for k, v in whole.tables.items()}}
        contents = {n: new.read(n) for n in manifest["files"] if not n.startswith("tables/")}
        contents["sequences.json"] = json.dumps(whole.sequences).encode()
        for name, rows in whole.tables.items():
            contents[f"tables/{name}.json"] = json.dumps(rows).encode()
        manifest["files"] = {
            name: {"size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
            for name, data in contents.items()
        }
        for name, data in contents.items():
            old.writestr(name, data)
        old.writestr("manifest.json", json.dumps(manifest))


def test_a_photograph_that_is_gone_is_told_and_the_rest_is_packed(
    stock: Stockroom, tmp_path: Path
) -> None:
    lost, altered = stock.photos.listed()
    stock.photos.path(lost.sha256).unlink()
    stock.photos.path(altered.sha256).write_bytes(b"something else")
    packed = pack(stock, tmp_path / "mine.zip", AT)
    assert lost.name in packed.words
    assert f"{altered.name} (altered)" in packed.missing
    unpacked = unpack(packed.path, tmp_path / "copy")
    assert unpacked.missing == 2
    assert "Missing when the archive was made: 2 photographs" in unpacked.words
    with Stockroom.open(tmp_path / "copy") as copy:
        assert copy.exchange.whole() == stock.exchange.whole()


def test_packing_that_is_stopped_leaves_no_file(stock: Stockroom, tmp_path: Path) -> None:
    class EnoughError(Exception):
        pass

    def stop() -> None:
        raise EnoughError

    (tmp_path / "out").mkdir()
    with pytest.raises(EnoughError):
        pack(stock, tmp_path / "out" / "mine.zip", AT, check=stop)
    assert list((tmp_path / "out").iterdir()) == []
    with pytest.raises(DiskTrouble, match="cannot be written"):
        pack(stock, tmp_path / "nowhere" / "mine.zip", AT)


def test_an_archive_is_laid_out_in_an_empty_folder_only(stock: Stockroom, tmp_path: Path) -> None:
    packed = pack(stock, tmp_path / "mine.zip", AT)
    with pytest.raises(StockError, match="not empty"):
        unpack(packed.path, stock.folder)
    (tmp_path / "empty").mkdir()
    unpacked = unpack(packed.path, tmp_path / "empty")
    assert unpacked.pieces == packed.counts["piece"] == len(stock.pieces.listed(gone=True))
    assert unpacked.pieces > len(stock.pieces.listed()), "what was cut up is counted too"
