"""What to buy or look for, what is running low, the binder's own rules, and a clock that errs."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from bindery_stock.errors import EntryError, NotFound
from bindery_stock.stock import Measure, NewAdhesiveLot, NewWanted, ReorderPoint, Stockroom
from bindery_stock.trade import shipped_rules
from tests.stock.conftest import BenchClock

RED_RIB = NewWanted(
    what="red ribbed cloth",
    purpose="spines of a set",
    width=60.0,
    height=240.0,
    lab=(33.0, 33.0, 17.0),
)


def test_a_want_stays_on_the_list_until_it_is_closed_with_its_outcome(stock: Stockroom) -> None:
    assert stock.wants.add(RED_RIB).born == ("W-0001",)
    (line,) = stock.wants.listed()
    assert (line.what, line.width, line.height, line.lab) == (
        "red ribbed cloth",
        60.0,
        240.0,
        (33.0, 33.0, 17.0),
    )
    stock.wants.close("W-0001", "found at a sale")
    assert stock.wants.listed() == []
    assert stock.wants.listed(closed=True)[0].outcome == "found at a sale"
    with pytest.raises(EntryError, match="closed already: found at a sale"):
        stock.wants.close("W-0001", "given up")
    stock.ledger.undo()
    assert [line.code for line in stock.wants.listed()] == ["W-0001"]
    with pytest.raises(NotFound):
        stock.wants.close("W-0002", "x")


def test_a_want_of_nothing_or_of_no_size_is_refused(stock: Stockroom) -> None:
    with pytest.raises(EntryError, match="Wanted"):
        stock.wants.add(NewWanted(what=" "))
    with pytest.raises(EntryError, match="Width"):
        stock.wants.add(NewWanted(what="cloth", width=0.0))


def test_a_reorder_point_is_set_moved_and_taken_away(stock: Stockroom) -> None:
    stock.wants.set_reorder_point("wheat-starch-paste", 50.0, Measure.GRAM)
    changes = stock.wants.set_reorder_point("wheat-starch-paste", 80.0, Measure.GRAM)
    assert changes.step.name == "Reorder point for wheat starch paste: 80 g"
    assert stock.wants.reorder_points() == [
        ReorderPoint(kind="wheat-starch-paste", least=80.0, unit=Measure.GRAM)
    ]
    again = stock.wants.set_reorder_point("wheat-starch-paste", 80.0, Measure.GRAM)
    assert again.nothing
    assert again.step.name == "80 g is the reorder point already; nothing was changed."
    stock.wants.set_reorder_point("wheat-starch-paste", None, Measure.GRAM)
    assert stock.wants.reorder_points() == []
    stock.ledger.undo()
    assert stock.wants.reorder_points()[0].least == 80.0


OWN = """
[rule.my-own]
applies = ["adhesive"]
all = [{ fact = "kind", is = "wheat-starch-paste" }]
no = ["leather"]
reason = "Not at this bench."
would_change = "Changing my mind."
mark = "own rule"
"""


def test_a_rules_file_in_the_stock_folder_adds_to_the_shipped_rules(folder: Path) -> None:
    Stockroom.create(folder).close()
    (folder / "rules.toml").write_text(OWN, encoding="utf-8")
    with Stockroom.open(folder) as stock:
        assert "my-own" in stock.rules.flags
        assert stock.rules_trouble == ""
        assert len(stock.rules.flags) == len(shipped_rules().flags) + 1


def test_a_mistake_in_it_is_named_with_its_line_and_the_shipped_rules_count(folder: Path) -> None:
    Stockroom.create(folder).close()
    own = folder / "rules.toml"
    own.write_text(OWN.replace('"adhesive"', '"adhesiv"'), encoding="utf-8")
    with Stockroom.open(folder) as stock:
        assert "rules.toml, line 3" in stock.rules_trouble
        assert stock.rules is shipped_rules()
        own.write_text(OWN, encoding="utf-8")
        stock.read_rules()
        assert stock.rules_trouble == ""


def test_a_clock_that_went_back_is_noticed_once(
    stock: Stockroom, clock: BenchClock, folder: Path
) -> None:
    lot = NewAdhesiveLot(kind="vae", name="Tin")
    assert stock.lots.enter(lot).notice == ""
    clock.now = datetime(2011, 1, 1, tzinfo=UTC)
    notice = stock.lots.enter(lot).notice
    assert "1 Jan 2011" in notice
    assert "2 Mar 2026" in notice
    assert stock.lots.enter(lot).notice == ""
    assert [step.number for step in stock.ledger.steps()] == [3, 2, 1]


def test_a_clock_that_went_back_overnight_is_noticed_too(folder: Path, clock: BenchClock) -> None:
    with Stockroom.create(folder, clock=clock) as stock:
        stock.lots.enter(NewAdhesiveLot(kind="vae", name="Tin"))
    clock.now = datetime(2019, 5, 1, tzinfo=UTC)
    with Stockroom.open(folder, clock=clock) as stock:
        assert "1 May 2019" in stock.lots.unseal("A-0001").notice
