"""Tips and labels: legible in both palettes, and never markup, whatever the binder typed."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6 import QtGui
from PySide6.QtCore import QAbstractItemModel, QAbstractListModel, QPoint, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLabel,
    QToolTip,
    QWidget,
)
from pytestqt.qtbot import QtBot

import bindery_stock
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.app import build
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.elided import ElidedBox, ElidedLabel
from bindery_stock.desktop.ledger.screen import LedgerScreen
from bindery_stock.desktop.look import DARK, LIGHT, Greys, Scheme, dress, grey
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.tray import Tray
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import (
    NewAdhesiveLot,
    NewBookSet,
    NewRepair,
    NewWanted,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, Survey
from tests.desktop.hands import shown_tip
from tests.desktop.shelving import shelve_cloth
from tests.scenes import place_of

MODULES = sorted((Path(bindery_stock.__file__).parent / "desktop").rglob("*.py"))
TYPED = "<img src=x> a <b>bold</b> claim &lt; more"


@pytest.fixture
def _light_again(qapp: QApplication) -> Iterator[None]:
    yield
    dress(qapp, Scheme.LIGHT)


@pytest.mark.qt_log_ignore(r"does not support raise\(\)")  # offscreen has no stack of windows
@pytest.mark.usefixtures("_light_again")
@pytest.mark.parametrize(("scheme", "steps"), [(Scheme.LIGHT, LIGHT), (Scheme.DARK, DARK)])
def test_a_tip_is_legible_in_either_palette(
    qtbot: QtBot, qapp: QApplication, scheme: Scheme, steps: Greys
) -> None:
    """4.5 to 1: success criterion 1.4.3 of WCAG 2.1, measured in the pixels of a tip."""
    dress(qapp, scheme)
    for role in ("shown over a widget", "shown by a list"):
        place = QWidget()
        qtbot.addWidget(place)
        place.show()
        QToolTip.showText(QPoint(5, 5), f"Step 180, {role}", place)
        label = _tip_label()
        picture = label.grab().toImage()
        QToolTip.hideText()
        inner = picture.rect().adjusted(3, 3, -3, -3)
        pixels = Counter(
            picture.pixelColor(x, y).name()
            for x in range(inner.left(), inner.right())
            for y in range(inner.top(), inner.bottom())
        )
        ground = pixels.most_common(1)[0][0]
        assert ground == grey(steps.text).name()
        assert max(_ratio(ground, ink) for ink in pixels) >= 4.5
        place.close()


def _tip_label() -> QLabel:
    shown = [w for w in QApplication.topLevelWidgets() if w.metaObject().className() == "QTipLabel"]
    (label,) = [w for w in shown if w.isVisible()]
    assert isinstance(label, QLabel)
    return label


def _ratio(first: str, second: str) -> float:
    """WCAG 2.1, contrast ratio of two sRGB greys."""
    bright, dim = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def _luminance(name: str) -> float:
    code = int(name[1:3], 16) / 255
    return code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4


@pytest.mark.parametrize("words", [TYPED, "<b>", "1 < 2", f"{TYPED}\nsecond  line", "x " * 200])
def test_a_tip_shows_what_was_typed_letter_for_letter(words: str) -> None:
    assert shown_tip(plain_tip(words)) == words


def test_a_long_tip_is_broken_at_the_edge_and_a_short_one_left_alone() -> None:
    assert QtGui.Qt.mightBeRichText(plain_tip("wheat starch paste " * 20))
    assert plain_tip("200 × 250 mm") == "200 × 250 mm"
    assert plain_tip("") == ""


def test_no_place_takes_the_names_of_things_for_markup(qtbot: QtBot, session: Session) -> None:
    _enter_typed_names(session)
    window, _desk = build(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    folder = session.stockroom.folder
    session.close_stockroom()
    session.use(Stockroom.open(folder))
    session.show_code(session.pieces[0].code)
    books, adhesives = place_of(window, BooksScreen), place_of(window, AdhesivesScreen)
    told = []
    for place in window.places:
        window.go_to(place)
        qtbot.waitUntil(lambda: not session.jobs.busy)
        told += _tips(window)
    books.show_volume(session.stockroom.books.repairs()[0].code)
    told += _tips(window)
    for page in range(3):
        adhesives.show_page(page)
        told += _tips(window)
    assert [tip for tip in told if "<img" in tip or "<b>" in tip] == []
    typed = [tip for tip in told if TYPED in shown_tip(tip)]
    assert len(set(typed)) >= 6  # ledger, wanted list, set board, volume, lot, …
    assert _rich_labels(window) == []
    qtbot.waitUntil(lambda: not session.jobs.busy)
    window.close()


def test_the_name_of_a_photograph_that_waits_is_no_markup(qtbot: QtBot) -> None:
    tray = Tray()
    qtbot.addWidget(tray)
    tray.show_drafts([ScrapDraft(Path("x.jpg"), TYPED)], None)
    assert shown_tip(tray.list.item(0).toolTip()) == TYPED


def test_a_long_name_with_signs_in_it_is_no_markup(qtbot: QtBot) -> None:
    label, box = ElidedLabel(), ElidedBox()
    for widget in (label, box):
        qtbot.addWidget(widget)
    label.setText(TYPED)
    box.addItem(TYPED)
    assert shown_tip(label.toolTip()) == shown_tip(box.toolTip()) == TYPED
    assert label.text() == TYPED


def test_a_step_of_the_ledger_is_told_as_it_was_typed(qtbot: QtBot, session: Session) -> None:
    session.heard(session.stockroom.wants.add(NewWanted(what=TYPED)))
    ledger = LedgerScreen(session)
    qtbot.addWidget(ledger)
    ledger.stock_opened()
    tips = [shown_tip(tip) for tip in _model_tips(ledger.model)]
    assert any(TYPED in tip for tip in tips)


def _enter_typed_names(session: Session) -> None:
    room = session.stockroom
    shelve_cloth(session, source=TYPED)
    room.wants.add(NewWanted(what=TYPED, purpose=TYPED, note=TYPED))
    code = room.books.add_set(NewBookSet(title=TYPED, pattern="rib")).born[0]
    survey = Survey(
        spine_width=33.0,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        damage=(Damage(Harm.SPINE_LOST),),
        old_spine=False,
    )
    room.books.add_repair(
        NewRepair(name=TYPED, title=TYPED, book_set=code, volume=1, survey=survey, note=TYPED)
    )
    room.lots.enter(
        NewAdhesiveLot(kind="wheat-starch-paste", name=TYPED, made=room.today, place=TYPED)
    )


def _tips(window: QWidget) -> list[str]:
    """Every tip there is to be seen in a window."""
    widgets = window.findChildren(QWidget)
    told = [widget.toolTip() for widget in widgets]
    models = {id(m): m for w in widgets for m in _models(w)}
    return [tip for tip in told + [t for m in models.values() for t in _model_tips(m)] if tip]


def _models(widget: QWidget) -> list[QAbstractItemModel]:
    model = widget.model() if isinstance(widget, QAbstractItemView | QComboBox) else None
    return [model] if model is not None else []


def _model_tips(model: QAbstractItemModel) -> list[str]:
    role = Qt.ItemDataRole.ToolTipRole
    rows = range(model.rowCount())
    is_list = isinstance(model, QAbstractListModel)
    columns = range(1 if is_list else model.columnCount())
    told = [model.index(row, column).data(role) for row in rows for column in columns]
    told += [model.headerData(row, Qt.Orientation.Vertical, role) for row in rows]
    told += [model.headerData(column, Qt.Orientation.Horizontal, role) for column in columns]
    return [tip for tip in told if tip]


def _rich_labels(window: QWidget) -> list[str]:
    return [
        label.text()
        for label in window.findChildren(QLabel)
        if label.textFormat() is not Qt.TextFormat.PlainText
        and QtGui.Qt.mightBeRichText(label.text())
    ]


# What holds tomorrow: whoever gives a tip or a label words that are not written out in the source
# goes the one way.


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.stem)
def test_tips_go_the_one_way(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    loose = [
        f"line {call.lineno}: {ast.unparse(call)}"
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Attribute)
        for words in _tip_words(call)
        if not (isinstance(words, ast.Constant) or _goes_the_way(words))
    ]
    handed_on = [
        f"line {node.lineno}: setToolTip handed on"
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        for argument in node.args
        if isinstance(argument, ast.Attribute) and argument.attr == "setToolTip"
    ]
    assert loose + handed_on + _loose_answers(tree) == []


def _tip_words(call: ast.Call) -> list[ast.expr]:
    """The words a call makes a tip of."""
    assert isinstance(call.func, ast.Attribute)
    name, arguments = call.func.attr, call.args
    if name in {"setToolTip", "setTabToolTip", "setItemToolTip"}:
        return arguments[-1:]
    if name == "showText":
        return arguments[1:2]
    roles = [ast.unparse(argument) for argument in arguments]
    if name in {"setItemData", "setData"} and any(r.endswith("ToolTipRole") for r in roles):
        return [a for a, r in zip(arguments, roles, strict=True) if _is_words(a, r)]
    return []


def _is_words(argument: ast.expr, text: str) -> bool:
    return not text.endswith("ToolTipRole") and text not in {"row", "index", "column"}


def _goes_the_way(words: ast.expr) -> bool:
    """``plain_tip(…)``, or a name that was given it in the same breath."""
    return isinstance(words, ast.Call) and ast.unparse(words.func) == "plain_tip"


def _loose_answers(tree: ast.Module) -> list[str]:
    """What a model answers to the question for its tip."""
    loose = []
    for node in ast.walk(tree):
        if isinstance(node, ast.If) and "ToolTipRole" in ast.unparse(node.test):
            loose += [
                f"line {answer.lineno}: {ast.unparse(answer)}"
                for part in node.body
                for answer in ast.walk(part)
                if isinstance(answer, ast.Return) and "plain_tip(" not in ast.unparse(answer)
            ]
    return loose


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.stem)
def test_labels_show_plain_text_unless_their_words_are_written_out(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    plain = {ast.unparse(c.func.value) for c in calls if _is_method(c, "setTextFormat")}  # type: ignore[attr-defined]
    said = [
        (ast.unparse(c.func.value), c.args[0])  # type: ignore[attr-defined]
        for c in calls
        if _is_method(c, "setText")
    ]
    named: set[int] = set()
    loose = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Assign | ast.AnnAssign) or not _is_label(node.value):
            continue
        assert isinstance(node.value, ast.Call)
        named.add(id(node.value))
        target = ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target)
        words = [*node.value.args, *(w for to, w in said if to == target)]
        if target not in plain and not all(isinstance(w, ast.Constant) for w in words):
            loose.append(f"line {node.lineno}: {target}")
    loose += [
        f"line {c.lineno}: {ast.unparse(c)}"
        for c in calls
        if _is_label(c)
        and id(c) not in named
        and not all(isinstance(a, ast.Constant) for a in c.args)
    ]
    assert loose == []


def _is_method(call: ast.Call, name: str) -> bool:
    return isinstance(call.func, ast.Attribute) and call.func.attr == name


def _is_label(node: ast.expr | None) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func) == "QLabel"
