from pathlib import Path

import pytest

from bindery_stock.colour import published
from bindery_stock.errors import ColourError

GOOD = "name,L,a,b\ndark red,28.6,33.6,12.2\nblack,12.9,0,0\n"


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(published, "resources", lambda: tmp_path)
    (tmp_path / "colour").mkdir()
    return tmp_path / "colour" / "names.csv"


def test_a_table_is_read_as_it_was_published(file: Path) -> None:
    file.write_text(GOOD, "utf-8")
    rows = published.table("names.csv", "L", "a", "b", rows=2)
    assert rows == (("dark red", (28.6, 33.6, 12.2)), ("black", (12.9, 0.0, 0.0)))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (GOOD.replace("33.6", "33.6x"), "line 2"),
        (GOOD.replace("33.6", "33,6"), "3 figures"),
        (GOOD.replace("black", "dark red"), "one name"),
        (GOOD.replace(",b\n", ",c\n"), "L, a, b"),
        (f"{GOOD}white,92.6,0,0\n", "2 rows"),
    ],
)
def test_a_table_that_was_spoilt_is_not_believed(file: Path, text: str, said: str) -> None:
    file.write_text(text, "utf-8")
    with pytest.raises(ColourError, match=said):
        published.table("names.csv", "L", "a", "b", rows=2)


def test_a_table_that_is_missing_says_what_to_do(file: Path) -> None:
    with pytest.raises(ColourError, match="Install the program anew"):
        published.table("names.csv", "L", "a", "b", rows=2)
