"""The record of the treatment of one volume, as a page.

It keeps what a code of ethics asks to be written down: the *Guidelines for Practice* of the
American Institute for Conservation, 24 (documentation), 25 (examination), 26 (treatment plan), 27
(treatment) and 28 (keeping the record) (numbers from memory). What was not written is said to be
missing, so that a gap is never taken for a finding.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from bindery_stock.records import html

CODE_OF_ETHICS = (
    "Laid out after the American Institute for Conservation (AIC), Code of Ethics and Guidelines "
    "for Practice, 24 to 28: documentation, examination, treatment plan, treatment, and keeping of "
    "the record."
)
_NOT_WRITTEN = Markup("<i>not written</i>")
_BROWSER_DOTS_PER_MM = 96 / 25.4
"""Dots of a browser to the millimetre, 96 to the inch (CSS Values and Units 3)."""
_IN_A_ROW = 3
_HIGHEST = 0.8
"""The height of a row of pictures at most, as a share of the width of one of three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photograph in the record."""

    caption: str
    data: str
    """A ``data:`` address with the whole picture, so that the record is one file;
    empty where it is gone."""
    width: int
    height: int
    """Pixels of the picture in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One piece put into the book."""

    name: str
    size: str
    material: str
    piece: str
    """Code of the stock it was cut from, and where it lay in that."""
    where: str
    """What of it is seen and what lies hidden."""
    colour: str
    """ΔE00 from the colour sought, where both were measured."""
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One thing that was done."""

    day: str
    what: str
    material: str
    undo: str
    """How it can be undone; empty where that was not written."""
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialLine:
    """A piece of stock or a lot of adhesive that went into the book."""

    code: str
    what: str
    origin: str
    """Where it came from, its maker's batch, its dates."""
    verdict: str
    """What the rules said of its use, and of what it was tested for."""
    override: str
    """The reason written where it was used against a verdict."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingLine:
    """What the rules said against something that was done, and why it was done all the same."""

    day: str
    what: str
    ruling: str
    reason: str
    """The binder's own; empty where none was written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentRecord:
    """Everything the record says; what was not written is empty."""

    title: str
    made_on: str
    identity: tuple[tuple[str, str], ...]
    """Label and words: title, author, owner, set and volume, code."""
    measures: str
    condition: str
    damage: tuple[str, ...]
    before: tuple[Picture, ...]
    plan: tuple[PartLine, ...]
    steps: tuple[StepLine, ...]
    materials: tuple[MaterialLine, ...]
    cautions: tuple[str, ...]
    deferring: str
    """To whom cautions give way; empty where there is none."""
    hours: str
    during: tuple[Picture, ...]
    after: tuple[Picture, ...]
    note: str = ""
    rulings: tuple[RulingLine, ...] = ()

    @property
    def missing(self) -> tuple[str, ...]:
        """What the guidelines ask for and the record does not have."""
        gaps = [
            ("the condition before treatment", bool(self.condition or self.damage)),
            ("photographs before treatment", bool(self.before)),
            ("what was done", bool(self.steps)),
            ("how each step can be undone", all(step.undo for step in self.steps)),
            ("photographs after treatment", bool(self.after)),
        ]
        return tuple(words for words, there in gaps if not there)


def record_page(record: TreatmentRecord, *, picture_mm: float = 80.0) -> Markup:
    """The record as an HTML document that holds everything in itself."""
    return html.page(record.title, record_body(record, picture_mm=picture_mm))


def record_body(
    record: TreatmentRecord,
    *,
    picture_mm: float,
    dots_per_mm: float = _BROWSER_DOTS_PER_MM,
) -> Markup:
    """What stands in the record; ``picture_mm`` is the width of one of three pictures in a row."""
    size = picture_mm * dots_per_mm
    return html.rendered(
        "treatment_record.html",
        record=record,
        identity=_side_by_side(record.identity),
        before=_in_rows(record.before, size),
        plan=_plan(record.plan),
        steps=_steps(record.steps),
        during=_in_rows(record.during, size),
        materials=_materials(record),
        rulings=_rulings(record.rulings),
        after=_in_rows(record.after, size),
        closing=f"Record made on {record.made_on}. {CODE_OF_ETHICS}",
    )


def _side_by_side(pairs: Sequence[tuple[str, str]]) -> list[tuple[tuple[str, str], ...]]:
    """Two pairs to a line, read down the left side first; the last may stand alone."""
    told = [pair for pair in pairs if pair[1]]
    half = (len(told) + 1) // 2
    return list(zip(told[:half], [*told[half:], ("", "")], strict=False))


def _in_rows(pictures: Sequence[Picture], size: float) -> list[list[tuple[Picture, int, int]]]:
    """At most three to a row, all of one height; width and height in dots beside each."""
    rows = []
    for start in range(0, len(pictures), _IN_A_ROW):
        row = pictures[start : start + _IN_A_ROW]
        widths = sum(picture.width / picture.height for picture in row)
        height = min(_HIGHEST * size, _IN_A_ROW * size / widths)
        rows.append([(one, round(height * one.width / one.height), round(height)) for one in row])
    return rows


def _plan(parts: Sequence[PartLine]) -> Markup | None:
    if not parts:
        return None
    heads = (
        "Part", "Width × height", "Material asked for", "Cut from", "Seen or hidden", "Colour",
        "State",
    )  # fmt: skip
    return html.grid(
        heads,
        (
            (
                html.text(part.name),
                html.unbroken(part.size),
                html.text(part.material),
                html.text(part.piece),
                html.text(part.where),
                html.unbroken(part.colour),
                html.text(part.state),
            )
            for part in parts
        ),
        shares=(10, 17, 17, 21, 13, 12, 10),
    )


def _steps(steps: Sequence[StepLine]) -> Markup | None:
    if not steps:
        return None
    heads = ("Date", "What was done", "With", "How to undo it", "Hours")
    return html.grid(
        heads,
        (
            (
                html.unbroken(step.day),
                html.text(step.what),
                html.text(step.material),
                html.text(step.undo) or _NOT_WRITTEN,
                html.text(step.hours),
            )
            for step in steps
        ),
        figures=frozenset({4}),
        shares=(13, 29, 24, 27, 7),
    )


def _materials(record: TreatmentRecord) -> Markup | None:
    if not record.materials:
        return None
    heads, shares = ["Code", "What", "Origin and dates", "Verdict"], [8, 25, 27, 40]
    if any(one.override for one in record.materials):
        heads.append("Used all the same, because")
        shares = [8, 20, 20, 32, 20]
    rows = (
        [
            html.text(words)
            for words in (one.code, one.what, one.origin, one.verdict, one.override)[: len(heads)]
        ]
        for one in record.materials
    )
    return html.grid(heads, rows, shares=shares)


def _rulings(rulings: Sequence[RulingLine]) -> Markup | None:
    if not rulings:
        return None
    rows = (
        (
            html.unbroken(one.day),
            html.text(one.what),
            html.text(one.ruling),
            html.text(one.reason) or _NOT_WRITTEN,
        )
        for one in rulings
    )
    heads = ("Date", "Done", "What the rules said", "Done all the same, because")
    return html.grid(heads, rows, shares=(13, 13, 46, 28))
