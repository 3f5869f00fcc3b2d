"""A report of a fault says where the program failed, and nothing of the binder's."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError

from bindery_stock.desktop.faults import fault_text
from bindery_stock.errors import NotFound
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping.disk import engine
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.trade.vocabulary import Kind

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
PRIVATE = "Mrs Marsh of Nine Weirs"


def report_of(error: BaseException) -> str:
    try:
        raise error
    except type(error) as caught:
        return fault_text(caught, AT)


def test_what_the_database_library_says_holds_no_row(tmp_path: Path) -> None:
    folder = tmp_path / "marsh"
    Stockroom.create(folder).close()
    made = engine(folder / "stock.sqlite", writing=True)
    row = {"sha256": "0" * 64, "name": PRIVATE, "width": 1, "height": 1, "suffix": ".jpg"}
    asked = insert(PhotoRow).values(**row, archived_at="")
    with made.begin() as connection:
        connection.execute(asked)
    with pytest.raises(IntegrityError) as twice, made.begin() as connection:
        connection.execute(asked)
    made.dispose()
    text = report_of(twice.value)
    assert "UNIQUE constraint failed: photo.sha256" in text, "what went wrong is still told"
    assert "INSERT INTO photo" in text
    assert PRIVATE not in text
    assert PRIVATE not in str(twice.value)
    assert str(folder) not in text


@pytest.mark.parametrize(
    "error",
    [
        FileNotFoundError(2, "No such file or directory", f"/home/marsh/{PRIVATE}.jpg"),
        KeyError(PRIVATE),
        ValueError(f"invalid literal: {PRIVATE}"),
        NotFound(f"There is no piece {PRIVATE}."),
    ],
    ids=lambda error: type(error).__name__,
)
def test_an_error_is_told_by_its_kind_and_place_alone(error: Exception) -> None:
    text = report_of(error)
    assert PRIVATE not in text
    assert "marsh" not in text
    assert type(error).__name__ in text
    assert "tests/desktop/test_fault_reports.py, line" in text
    assert str(Path(__file__).parent) not in text, "the way to the program may name its owner"


def test_the_cause_of_an_error_is_told_as_discreetly() -> None:
    try:
        try:
            {}[PRIVATE]
        except KeyError as cause:
            raise TypeError("a length is wanted") from cause
    except TypeError as error:
        text = fault_text(error, AT)
    assert "builtins.KeyError" in text
    assert "builtins.TypeError: a length is wanted" in text
    assert PRIVATE not in text


def test_no_parameter_of_a_step_is_ever_written_out(tmp_path: Path) -> None:
    piece = NewPiece(
        kind=Kind.CLOTH, outline=Outline(((0, 0), (5, 0), (5, 8), (0, 8))), note=PRIVATE
    )
    with Stockroom.create(tmp_path / "stock") as stock:
        stock.pieces.shelve(piece)
        assert stock._door.session().get_bind().hide_parameters
        assert stock._door.reader.hide_parameters
