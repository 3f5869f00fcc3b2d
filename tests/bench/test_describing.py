"""A volume described as a copy: the words offered, the date its covering is judged by, its care."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from bindery_stock.bench.books import description_entries as module
from bindery_stock.bench.books.description_entries import binding_lines, binding_words, features
from bindery_stock.bench.books.examine import examine
from bindery_stock.bench.books.keep_survey import copy_survey, correct_survey, survey
from bindery_stock.bench.gate import Matter, rule
from bindery_stock.errors import EntryError, RulesError
from bindery_stock.places import resources
from bindery_stock.stock import NewRepair, Stockroom
from bindery_stock.trade import Mark, Survey
from bindery_stock.trade.care import CareOption, CarePlan
from bindery_stock.trade.description import BINDING, Description

MEASURED = Survey(spine_width=33.0, board_height=210.0)
CASED = Description(
    imprint="Wexcombe: Tarn & Daughter",
    imprint_date="1858",
    shelfmark="B 12",
    covering="full cloth",
    sewing="on tapes",
    former_repairs="Rebacked once.",
)
LEFT = CareOption(what="Leave it as it is, in a box", risk="The joint goes on splitting", hours=0.5)
MENDED = CareOption(what="Tissue over the joint", undo="damp lifts it", hours=1.5)
CARE = CarePlan(
    examiner="I. Fell",
    examined_on=date(2026, 3, 1),
    aims="To be read in the reading room again.",
    options=(LEFT, MENDED),
    recommended=1,
    risks="Starch in the cloth may leave a tide line.",
    aftercare="Opened on a cushion to 90°.",
    consent="E. Marsh, by letter",
    consented_on=date(2026, 3, 2),
)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as made:
        yield made


def entered(room: Stockroom, **more: object) -> str:
    new = NewRepair(name="Nine Weirs", survey=MEASURED, **more)  # type: ignore[arg-type]
    return survey(room, new=new).born[0]


def test_each_feature_of_a_binding_offers_words_with_help_and_their_mark() -> None:
    assert tuple(one.field for one in features()) == BINDING
    for one in features():
        assert len(one.offered) == len(set(one.offered)) >= 4
        assert all(told.endswith((".", ".)")) for _word, told in one.terms)
        assert one.mark is Mark.MEMORY
        assert "no source" in one.tip


def test_a_file_of_words_without_a_feature_is_refused_by_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shipped = (resources() / "binding.toml").read_text("utf-8")
    (tmp_path / "binding.toml").write_text(
        shipped.replace('field = "edges"', 'field = "edge"'), "utf-8"
    )
    monkeypatch.setattr(module, "resources", lambda: tmp_path)
    features.cache_clear()
    try:
        with pytest.raises(RulesError, match=r"binding\.toml: the features are covering"):
            features()
    finally:
        features.cache_clear()


def test_a_binding_is_told_feature_by_feature_with_its_grain_after_the_covering() -> None:
    assert binding_words(CASED, "rib") == "full cloth, rib grain; on tapes"
    assert binding_lines(CASED, "rib") == (
        ("Covering", "full cloth"),
        ("Grain", "rib"),
        ("Sewing", "on tapes"),
    )


def test_a_description_is_one_step_and_taken_back_by_one_undo(room: Stockroom) -> None:
    code = entered(room)
    changes = correct_survey(room, volume=code, fields={"description": CASED})
    assert changes.step.name == "Corrected description of Nine Weirs"
    assert room.books.repair(code).description == CASED
    room.ledger.undo()
    assert not room.books.repair(code).description.told
    room.ledger.redo()
    assert room.books.repair(code).description == CASED


def test_what_was_examined_weighed_and_agreed_is_one_step_with_a_way_back(
    room: Stockroom,
) -> None:
    code = entered(room)
    changes = examine(room, volume=code, care=CARE)
    assert changes.step.name == "Wrote the examination and the options of Nine Weirs"
    kept = room.books.repair(code).care
    assert kept == CARE
    assert kept.course == MENDED
    assert examine(room, volume=code, care=CARE).nothing
    room.ledger.undo()
    assert not room.books.repair(code).care.told


def test_a_copied_volume_has_the_binding_and_nothing_that_is_the_copys_own(
    room: Stockroom,
) -> None:
    code = entered(room, description=CASED, care=CARE)
    copied = room.books.repair(copy_survey(room, volume=code, names=["Ten Weirs"]).born[0])
    assert copied.description.sewing == "on tapes"
    assert (copied.description.shelfmark, copied.description.former_repairs) == ("", "")
    assert not copied.care.told


@pytest.mark.parametrize("imprint_date", ["1858", "1968"])
def test_the_date_of_an_imprint_clears_no_covering_that_is_not_dated_itself(
    room: Stockroom, imprint_date: str
) -> None:
    """A late text may stand in an old case."""
    code = entered(
        room,
        colour_family="vivid green",
        description=Description(imprint_date=imprint_date),
    )
    assert rule(room, Matter(volume=code, wet=True)).is_stopped


def test_a_course_without_words_and_a_recommendation_of_none_are_refused() -> None:
    with pytest.raises(EntryError, match="say in a few words"):
        CareOption(what=" ", hours=2)
    with pytest.raises(EntryError, match="no number of hours"):
        CareOption(what="Reback", hours=-1)
    with pytest.raises(EntryError, match="choose one of the options"):
        CarePlan(options=(LEFT,), recommended=1)
