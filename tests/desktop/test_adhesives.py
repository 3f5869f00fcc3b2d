"""The Adhesives place, by the mouse and the keys."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.adhesives.lot_dialog import LotDialog, LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.adhesives.use_dialog import UseDialog
from bindery_stock.desktop.adhesives.want_dialogs import ReorderDialog, WantDialog
from bindery_stock.desktop.evidence.test_dialog import TestDialog
from bindery_stock.desktop.forms.ask_words import AskWords
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.session import Session
from bindery_stock.stock import (
    Measure,
    NewAdhesiveLot,
    NewPart,
    NewRepair,
    NewWanted,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Evidence, Property, Survey, Use
from bindery_stock.trade.vocabulary import Kind
from tests.desktop.shelving import shelve_cloth


def _place(qtbot: QtBot, session: Session) -> AdhesivesScreen:
    place = AdhesivesScreen(session)
    qtbot.addWidget(place)
    place.resize(1100, 740)
    place.show()
    place.stock_opened()
    return place


def _stand(session: Session, **facts: object) -> str:
    told = {"kind": "wheat-starch-paste", "name": "Cooked paste"} | facts
    changes = session.stockroom.lots.enter(NewAdhesiveLot(**told))  # type: ignore[arg-type]
    session.heard(changes)
    return changes.born[0]


def _today(session: Session) -> date:
    return session.stockroom.today


def _click(qtbot: QtBot, button: object) -> None:
    QApplication.processEvents()  # what was laid out anew lies where it is drawn
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def _pick(chooser: Chooser, value: object) -> None:
    chooser.choose(value)
    assert chooser.value() == value


def _go(qtbot: QtBot, session: Session, dialog: FormDialog) -> None:
    with qtbot.waitSignal(session.changed):
        _click(qtbot, dialog.go)


def test_an_empty_shelf_says_what_to_do_first(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    assert place.empty.isVisible()
    assert "bought or made" in place.empty.words.text()


def test_the_model_is_sound_through_its_life(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    tester = QAbstractItemModelTester(
        place.model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    _stand(session, made=_today(session))
    _stand(session)
    assert place.model.rowCount() == 2
    assert tester.model() is place.model


def test_what_needs_using_up_stands_first_and_is_told_in_words(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    fresh = _stand(session, made=_today(session), name="Fresh")
    old = _stand(session, made=_today(session) - timedelta(days=30), name="Old")
    told = [str(place.model.index(row).data()) for row in range(2)]
    assert [text[:6] for text in told] == [old, fresh]
    assert "Out of date" in told[0]
    assert place.morning.sentence.text() == (
        "1 lot ends this week, 1 lot is barred and still on the shelf."
    )
    _click(qtbot, place.morning.buttons[0])
    assert place.sheet.row is not None
    assert place.sheet.row.lot.code == fresh


def test_a_batch_is_cooked_by_mouse_and_keys(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    place.tasks.enter(LotStart.MADE)
    dialog = place.tasks.dialog
    assert isinstance(dialog, LotDialog)
    assert not dialog.bought.isVisible()
    _pick(dialog.kind, "wheat-starch-paste")
    _click(qtbot, dialog.go)
    assert dialog.wrong.isVisible()
    assert dialog.wrong.text().startswith("Name:")
    qtbot.keyClicks(dialog.name, "Monday's paste")
    qtbot.keyClicks(dialog.amount, "250")
    _pick(dialog.storage, "fridge")
    _go(qtbot, session, dialog)
    (lot,) = session.stockroom.lots.listed()
    assert (lot.made, lot.left, lot.held, lot.unit) == (_today(session), 250.0, 250.0, Measure.GRAM)
    assert place.sheet.row is not None
    assert place.sheet.row.lot.code == lot.code
    assert place.sheet.row.life_words == "14 days left"


def test_a_mixture_knows_its_lots(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    paste = _stand(session, made=_today(session))
    tin = _stand(session, kind="pva", name="Tin", bought=_today(session))
    place.show_lot(paste)
    _click(qtbot, place.sheet.mix_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, LotDialog)
    states = {
        dialog.parts.item(row).text()[:6]: dialog.parts.item(row).checkState() for row in (0, 1)
    }
    assert states == {paste: Qt.CheckState.Checked, tin: Qt.CheckState.Unchecked}
    dialog.parts.item(1).setCheckState(Qt.CheckState.Checked)
    _pick(dialog.kind, "paste-pva")
    qtbot.keyClicks(dialog.name, "Half and half")
    _go(qtbot, session, dialog)
    assert session.stockroom.lots.listed()[-1].made_from == (paste, tin)


def test_a_tin_is_corrected_without_rounding_what_was_counted(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    code = _stand(session, unit=Measure.SHARE, held=1.0, left=0.3)
    _click(qtbot, place.sheet.edit_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, LotDialog)
    assert dialog.amount.currentText() == "a third"
    dialog.opened.setText("yesterday")
    qtbot.keyClicks(dialog.ph, "7,2")
    _go(qtbot, session, dialog)
    lot = session.stockroom.lots.get(code)
    assert (lot.left, lot.ph) == (0.3, 7.2)
    assert lot.opened == _today(session) - timedelta(days=1)
    assert session.stockroom.ledger.steps()[0].name == f"Corrected opened, ph of {code}"


def test_a_day_that_cannot_be_keeps_the_form_open(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    _stand(session)
    _click(qtbot, place.sheet.edit_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, LotDialog)
    dialog.made.setText("30 Feb 2026")
    _click(qtbot, dialog.go)
    assert dialog.isVisible()
    assert "no day" in dialog.wrong.text()
    _click(qtbot, dialog.foot.leave_button)


def test_a_use_is_written_down(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    code = _stand(session, made=_today(session), unit=Measure.GRAM, held=200.0)
    _click(qtbot, place.sheet.use_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    _pick(dialog.use, Use.HIDDEN)
    assert not dialog.reason.isVisible()
    qtbot.keyClicks(dialog.purpose, "hollow, vol. 4")
    qtbot.keyClicks(dialog.amount, "30")
    _go(qtbot, session, dialog)
    assert session.stockroom.lots.get(code).left == 170.0
    told = "30 g, hidden structure: hollow, vol. 4"
    qtbot.waitUntil(lambda: told in place.sheet.uses.text())
    session_undo = qtbot.waitSignal(session.changed)
    with session_undo:
        session.undo()
    qtbot.waitUntil(lambda: place.sheet.uses.text() == "Nothing yet.")


def test_a_part_of_a_volume_on_the_bench_is_offered_with_what_it_is_cut_from(
    qtbot: QtBot, session: Session
) -> None:
    code = shelve_cloth(session, lab=(30.0, 4.0, -30.0))
    stock = session.stockroom
    session.heard(stock.pieces.correct(code, colour_family="blue"))
    survey = Survey(board_height=220.0, board_width=140.0, spine_width=40.0)
    new = NewRepair(name="vol. 4", survey=survey, colour_family="blue")
    (volume,) = stock.books.add_repair(new).born
    strip = NewPart(
        role="reback strip",
        name="reback strip",
        width=58.0,
        height=228.0,
        kind=Kind.CLOTH,
        turns=(0.0, 180.0),
        zones=(),
    )
    stock.books.plan_parts(volume, [strip])
    corners = ((0.0, 0.0), (58.0, 0.0), (58.0, 228.0), (0.0, 228.0))
    (part,) = stock.books.parts(volume=volume)
    stock.books.accept_plan([PlannedPlacement(part=part.id, code=code, corners=corners)])
    place = _place(qtbot, session)
    _stand(session, made=_today(session))
    _click(qtbot, place.sheet.use_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    offered = [dialog.purpose.itemText(n) for n in range(dialog.purpose.count())]
    assert offered == ["reback strip, vol. 4", "other work, vol. 4"]
    dialog.purpose.setFocus()
    qtbot.keyClick(dialog.purpose, Qt.Key.Key_Down)
    assert dialog.purpose.currentText() == "reback strip, vol. 4"
    assert dialog.piece.text() == code
    _go(qtbot, session, dialog)
    (used,) = stock.lots.uses()
    assert (used.purpose, used.laid_on) == ("reback strip, vol. 4", code)


def test_a_lot_out_of_date_stops_the_use_until_a_reason_is_written(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    code = _stand(session, made=_today(session) - timedelta(days=30))
    _click(qtbot, place.sheet.use_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    qtbot.keyClicks(dialog.purpose, "a trial")
    told = dialog.stop.text()
    assert told.startswith(f"✕ Needs a written reason. {code}: Out of date since")
    assert not dialog.go.isEnabled()
    assert not dialog.amount.isEnabled()
    qtbot.keyClicks(dialog.reason, "on waste paper only")
    assert dialog.go.text() == "Use it all the same"
    _go(qtbot, session, dialog)
    (used,) = session.stockroom.lots.uses(code)
    assert used.override_reason == "on waste paper only"
    told = "Used all the same: on waste paper only"
    qtbot.waitUntil(lambda: told in place.sheet.uses.text())


def test_paste_on_a_flagged_piece_is_stopped_for_good(qtbot: QtBot, session: Session) -> None:
    green = shelve_cloth(session, lab=(40.0, -38.0, 28.0))
    place = _place(qtbot, session)
    _stand(session, made=_today(session))
    _click(qtbot, place.sheet.use_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    qtbot.keyClicks(dialog.purpose, "a patch")
    qtbot.keyClicks(dialog.piece, green.lower())
    assert dialog.stop.text().startswith(f"✕ Stopped. {green}: no wet work")
    assert "arsenic" in dialog.stop.text()
    assert not dialog.reason.isVisible()
    assert not dialog.go.isEnabled()
    dialog.reject()


def test_a_wet_use_for_a_part_of_a_green_volume_of_1858_is_stopped_though_nothing_is_laid_on(
    qtbot: QtBot, session: Session
) -> None:
    survey = Survey(board_height=220.0, board_width=140.0, spine_width=40.0)
    session.stockroom.books.add_repair(
        NewRepair(name="vol. 4", survey=survey, colour_family="vivid green", dated="1858")
    )
    place = _place(qtbot, session)
    _stand(session, made=_today(session))
    _click(qtbot, place.sheet.use_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    assert dialog.go.isEnabled()
    assert not dialog.no_volume.isVisible(), "nothing was said yet"
    qtbot.keyClicks(dialog.purpose, "poultice, vol. ")
    assert dialog.no_volume.isVisible()
    assert "name no volume" in dialog.no_volume.text()
    assert "“other work, vol. 4”" in dialog.no_volume.text()
    assert dialog.go.isEnabled(), "it may be for no volume at all"
    qtbot.keyClicks(dialog.purpose, "4")
    assert not dialog.no_volume.isVisible()
    assert dialog.piece.text() == ""
    assert dialog.stop.text().startswith("✕ Stopped. vol. 4: no wet work")
    assert not dialog.reason.isVisible()
    assert not dialog.go.isEnabled()
    dialog.reject()
    assert session.stockroom.lots.uses() == []


def test_mixing_from_a_lot_past_its_days_asks_for_a_reason_in_the_form(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    old = _stand(session, made=_today(session) - timedelta(days=30))
    place.show_lot(old)
    _click(qtbot, place.sheet.mix_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, LotDialog)
    assert f"{old}: Out of date since" in dialog.against.text()
    _pick(dialog.kind, "paste-pva")
    qtbot.keyClicks(dialog.name, "Thinned")
    _click(qtbot, dialog.go)
    qtbot.waitUntil(lambda: bool(dialog.wrong.text()))
    assert "Going on needs a written reason" in dialog.wrong.text()
    assert dialog.name.text() == "Thinned"
    qtbot.keyClicks(dialog.reason, "for a box only")
    _go(qtbot, session, dialog)
    assert session.stockroom.lots.listed()[-1].made_from == (old,)
    (kept,) = session.stockroom.rulings.listed()
    assert (kept.deed, kept.lot, kept.reason) == ("mix", old, "for a box only")


def test_a_verdict_opens_to_what_stands_behind_it(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    _stand(session, kind="pva", bought=_today(session))
    verdicts = place.sheet.verdicts
    full = verdicts.lengthy["leather"]
    assert not full.isVisible()
    _click(qtbot, verdicts.buttons["leather"])
    assert full.isVisible()
    for said in ("fit:pva", "Source: ", "common practice", "What would change it: "):
        assert said in full.text()
    _stand(session, kind="vae", bought=_today(session) - timedelta(days=3))
    assert place.sheet.verdicts.lengthy["leather"].isVisible()


def test_a_test_is_recorded_with_its_photograph(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    strip = tmp_path / "strip.png"
    Image.new("RGB", (40, 20), (200, 180, 60)).save(strip)
    place = _place(qtbot, session)
    code = _stand(session, kind="pva", bought=_today(session))
    assert "Dry a film" in place.sheet.verdicts.test.text()
    _click(qtbot, place.sheet.test_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, TestDialog)
    dialog.choose("film_ph")
    assert "Dry a film" in dialog.how.text()
    qtbot.keyClicks(dialog.typed, "7.4")
    qtbot.keyClicks(dialog.method, "pH strip")
    dialog.take_photo(strip)
    _go(qtbot, session, dialog)
    (found,) = session.stockroom.lots.get(code).properties
    assert (found.value, found.evidence, found.on) == (7.4, Evidence.BENCH, _today(session))
    assert found.photo is not None
    assert session.stockroom.photos.path(found.photo).read_bytes() == strip.read_bytes()
    assert place.sheet.verdicts.test.text() == ""
    assert place.sheet.tests.words.startswith("cold-extract pH of the dry film: 7.4")
    (button,) = place.sheet.tests.buttons
    place.sheet.area.ensureWidgetVisible(button)
    _click(qtbot, button)
    picture = place.sheet.tests.picture
    assert picture is not None
    qtbot.waitUntil(lambda: picture.picture.pixmap().width() == 40)
    picture.close()


def test_a_photograph_of_a_test_that_is_gone_is_said_to_be(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    strip = tmp_path / "strip.png"
    Image.new("RGB", (40, 20)).save(strip)
    room = session.stockroom
    kept = room.photos.archive(strip, name="strip.png", width=40, height=20)
    seen = Property(name="lumpy", value=False, evidence=Evidence.LOOK, photo=kept.sha256)
    place = _place(qtbot, session)
    code = _stand(session, properties=(seen,))
    room.photos.path(kept.sha256).unlink()
    (button,) = place.sheet.tests.buttons
    place.sheet.area.ensureWidgetVisible(button)
    with qtbot.waitSignal(session.trouble) as told:
        _click(qtbot, button)
    assert "strip.png is missing" in told.args[0]
    picture = place.sheet.tests.picture
    assert picture is not None
    assert picture.picture.text() == "The photograph cannot be shown."
    picture.close()
    assert code == "A-0001"


def test_a_lot_is_opened_and_finished(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    code = _stand(session, kind="vae", bought=_today(session) - timedelta(days=3))
    with qtbot.waitSignal(session.changed):
        _click(qtbot, place.sheet.open_button)
    assert session.stockroom.lots.get(code).opened == _today(session)
    assert not place.sheet.open_button.isEnabled()
    _click(qtbot, place.sheet.finish_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, AskWords)
    dialog.entry.setCurrentText("thrown away, spoiled")
    with qtbot.waitSignal(session.changed):
        _click(qtbot, dialog.go)
    assert place.empty.isVisible()
    said: list[str] = []
    session.noticed.connect(said.append)
    session.show_code(code)
    assert said == [f"{code}, Cooked paste, is finished: thrown away, spoiled."]


def test_what_is_low_goes_on_the_wanted_list_and_off_again(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    _stand(session, made=_today(session), unit=Measure.GRAM, held=20.0)
    place.tasks.set_reorder_point()
    reorder = place.tasks.dialog
    assert isinstance(reorder, ReorderDialog)
    _pick(reorder.kind, "wheat-starch-paste")
    qtbot.keyClicks(reorder.least, "50")
    _go(qtbot, session, reorder)
    low = place.morning.buttons[-1]
    assert low.toolTip() == "wheat starch paste: 20 g at hand, reorder at 50 g"
    _click(qtbot, low)
    want = place.tasks.dialog
    assert isinstance(want, WantDialog)
    assert want.what.text() == "wheat starch paste"
    _go(qtbot, session, want)
    place.show_page(1)
    assert place.wanted.table.isVisible()
    assert place.wanted.table.item(0, 1).text() == "wheat starch paste"
    place.wanted.choose("W-0001")
    _click(qtbot, place.wanted.close_button)
    how = place.tasks.dialog
    assert isinstance(how, AskWords)
    how.entry.setCurrentText("bought")
    with qtbot.waitSignal(session.changed):
        _click(qtbot, how.go)
    assert place.wanted.empty.isVisible()


def test_the_tab_key_goes_through_the_entries_and_then_to_the_buttons(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    place.tasks.want()
    dialog = place.tasks.dialog
    assert isinstance(dialog, WantDialog)
    QApplication.processEvents()
    dialog.what.setFocus()
    reached = []
    for _ in range(9):
        focus = dialog.focusWidget()
        reached.append(focus)
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    entries = [dialog.purpose, dialog.width_entry, dialog.height_entry, *dialog.lab, dialog.note]
    assert reached == [dialog.what, *entries, dialog.go]
    dialog.reject()


def test_a_want_has_a_size_and_a_colour_or_none(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    place.show_page(1)
    _click(qtbot, place.wanted.add_button)
    dialog = place.tasks.dialog
    assert isinstance(dialog, WantDialog)
    qtbot.keyClicks(dialog.what, "red rib")
    qtbot.keyClicks(dialog.width_entry, "60")
    qtbot.keyClicks(dialog.lab[0], "33")
    _click(qtbot, dialog.go)
    assert "all three" in dialog.wrong.text()
    qtbot.keyClicks(dialog.lab[1], "33")
    qtbot.keyClicks(dialog.lab[2], "17")
    _go(qtbot, session, dialog)
    (want,) = session.stockroom.wants.listed()
    assert (want.width, want.height, want.lab) == (60.0, None, (33.0, 33.0, 17.0))
    assert place.wanted.table.item(0, 3).text() == "60 mm wide"
    assert place.wanted.table.item(0, 4).text().startswith("red")


def test_a_code_goes_to_its_lot_or_its_want(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    first = _stand(session, made=_today(session))
    _stand(session, made=_today(session) - timedelta(days=2))
    session.heard(session.stockroom.wants.add(NewWanted(what="red rib")))
    session.show_code("W-0001")
    assert place.wanted.isVisible()
    session.show_code(first)
    assert place.sheet.isVisible()
    assert place.sheet.row is not None
    assert place.sheet.row.lot.code == first


def test_old_finds_tell_how_to_know_them_and_what_to_mind(qtbot: QtBot, session: Session) -> None:
    place = _place(qtbot, session)
    place.show_page(2)
    finds = place.finds
    assert finds.list.count() == len(session.rules.finds)
    row = [finds.list.item(n).text() for n in range(finds.list.count())].index(
        "Residue of pressure tape"
    )
    finds.list.setCurrentRow(row)
    assert "quiet time" in finds.parts["How it ages"].text()
    assert "△ Solvents: flammable" in finds.parts["Mind"].text()
    assert "licensed practice" in finds.parts["Mind"].text()
    assert finds.source.text().startswith("Source: published")


def test_a_mistake_in_the_binders_rules_is_shown_with_its_line(
    qtbot: QtBot, session: Session
) -> None:
    place = _place(qtbot, session)
    assert not place.rules_line.isVisible()
    own = session.stockroom.own_rules
    own.write_text('[limit.x]\nmark = "of my own"\n', encoding="utf-8")
    with qtbot.waitSignal(session.said):
        place.read_rules()
    assert "rules.toml, line 2" in place.rules_line.text()
    assert "shipped with the program" in place.rules_line.text()
    own.unlink()
    place.read_rules()
    assert not place.rules_line.isVisible()


def test_at_a_broken_rules_file_the_window_goes_on_and_says_so(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    folder = tmp_path / "other"
    Stockroom.create(folder).close()
    (folder / "rules.toml").write_text("nonsense", encoding="utf-8")
    with qtbot.waitSignal(session.noticed) as noticed:
        session.use(Stockroom.open(folder))
    assert "rules.toml, line 1" in noticed.args[0]
    place = _place(qtbot, session)
    _stand(session, made=_today(session))
    assert place.model.rows[0].fitness


def test_for_reading_only_nothing_can_be_done(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    _stand(session, made=_today(session))
    folder = session.stockroom.folder
    session.close_stockroom()
    session.use(Stockroom.open(folder, read_only=True))
    place = _place(qtbot, session)
    sheet = place.sheet
    for button in (sheet.use_button, sheet.open_button, sheet.edit_button, place.head.new_button):
        assert not button.isEnabled()
    assert not any(c.enabled() for c in place.commands() if c.name != "adhesives.rules")


@pytest.mark.parametrize("scheme", [Scheme.LIGHT, Scheme.DARK])
def test_the_rows_have_no_colour(qtbot: QtBot, session: Session, scheme: Scheme) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    dress(app, scheme)
    place = _place(qtbot, session)
    _stand(session, made=_today(session))
    _stand(session)
    image = place.list.viewport().grab().toImage()
    for x in range(0, image.width(), 7):
        for y in range(0, image.height(), 7):
            pixel = image.pixelColor(QPoint(x, y))
            assert (
                max(pixel.red(), pixel.green(), pixel.blue())
                - min(pixel.red(), pixel.green(), pixel.blue())
                <= 2
            )
    dress(app, Scheme.LIGHT)
