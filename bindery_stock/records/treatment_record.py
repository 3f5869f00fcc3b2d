"""The record of the treatment of one volume, as a page.

It keeps what a code of ethics asks to be written down: the *Guidelines for Practice* of the
American Institute for Conservation, 24 (documentation), 25 (examination), 26 (treatment plan), 27
(treatment) and 28 (keeping the record) (numbers from memory). What was not written is said to be
missing, so that a gap is never taken for a finding.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.records import html

CODE_OF_ETHICS = (
    "Laid out after the American Institute for Conservation (AIC), Code of Ethics and Guidelines "
    "for Practice, 24 to 28: documentation, examination, treatment plan, treatment, and keeping of "
    "the record."
)
_NOT_WRITTEN = "<i>not written</i>"
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


def record_page(record: TreatmentRecord, *, picture_mm: float = 80.0) -> str:
    """The record as an HTML document that holds everything in itself."""
    return html.page(record.title, record_body(record, picture_mm=picture_mm))


def record_body(
    record: TreatmentRecord,
    *,
    picture_mm: float,
    dots_per_mm: float = _BROWSER_DOTS_PER_MM,
) -> str:
    """What stands in the record; ``picture_mm`` is the width of one of three pictures in a row."""
    size = picture_mm * dots_per_mm
    return "".join(_sections(record, size))


def _sections(record: TreatmentRecord, size: float) -> Sequence[str]:
    return (
        f"<h1>{html.text(record.title)}</h1>",
        _pairs(record.identity),
        "<h2>Examination: how it was found</h2>",
        _prose(record.measures),
        _prose(record.condition) if record.condition else f"<p>In words: {_NOT_WRITTEN}.</p>",
        _bullets(record.damage),
        _pictures(record.before, size),
        "<h2>Plan: the parts and where they lie</h2>",
        _plan(record.plan),
        "<h2>Treatment</h2>",
        _steps(record.steps),
        _prose(record.hours),
        _pictures(record.during, size),
        "<h2>Materials</h2>",
        _materials(record),
        _rulings(record.rulings),
        _cautions(record),
        "<h2>After treatment</h2>" if record.after or record.note else "",
        _prose(record.note),
        _pictures(record.after, size),
        _closing(record),
    )


def _prose(words: str) -> str:
    return f"<p>{html.text(words)}</p>" if words else ""


def _pairs(pairs: Sequence[tuple[str, str]]) -> str:
    """Two pairs to a line, read down the left side first."""
    told = [
        f'<th scope="row">{html.text(label)}</th><td>{html.text(words)}</td>'
        for label, words in pairs
        if words
    ]
    half = (len(told) + 1) // 2
    left, right = told[:half], [*told[half:], "<th></th><td></td>"]
    lines = (f"<tr>{a}{b}</tr>" for a, b in zip(left, right, strict=False))
    return f'<table class="plain" cellspacing="0" cellpadding="2">{"".join(lines)}</table>'


def _bullets(lines: Sequence[str]) -> str:
    return f"<ul>{''.join(f'<li>{html.text(line)}</li>' for line in lines)}</ul>" if lines else ""


def _pictures(pictures: Sequence[Picture], size: float) -> str:
    """At most three to a row, all of one height; a picture never parts from its words."""
    if not pictures:
        return ""
    rows = []
    for start in range(0, len(pictures), _IN_A_ROW):
        row = pictures[start : start + _IN_A_ROW]
        widths = sum(picture.width / picture.height for picture in row)
        height = min(_HIGHEST * size, _IN_A_ROW * size / widths)
        rows.append(f"<tr>{''.join(f'<td>{_picture(one, height)}</td>' for one in row)}</tr>")
    return "".join(
        f'<table class="plain" role="presentation" cellspacing="0" cellpadding="2">{row}</table>'
        for row in rows
    )


def _picture(picture: Picture, height: float) -> str:
    """A picture of this height in dots, its caption below it."""
    caption = f'<span class="small">{html.text(picture.caption)}</span>'
    if not picture.data:
        return caption
    width, alt = round(height * picture.width / picture.height), html.text(picture.caption)
    size = f'width="{width}" height="{round(height)}"'
    return f'<img src="{picture.data}" {size} alt="{alt}"><br>{caption}'


def _plan(parts: Sequence[PartLine]) -> str:
    if not parts:
        return f"<p>Parts: {_NOT_WRITTEN}.</p>"
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


def _steps(steps: Sequence[StepLine]) -> str:
    if not steps:
        return f"<p>What was done: {_NOT_WRITTEN}.</p>"
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


def _materials(record: TreatmentRecord) -> str:
    if not record.materials:
        return f"<p>Materials: {_NOT_WRITTEN}.</p>"
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
    judged = "Adhesives were judged on the day they were used, the rest on the day of this record."
    return f'{html.grid(heads, rows, shares=shares)}<p class="small">{judged}</p>'


def _rulings(rulings: Sequence[RulingLine]) -> str:
    if not rulings:
        return ""
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
    grid = html.grid(heads, rows, shares=(13, 13, 46, 28))
    return f"<h2>Done against a rule</h2>{grid}"


def _cautions(record: TreatmentRecord) -> str:
    if not record.cautions:
        return ""
    return f"<h2>Cautions</h2>{_bullets(record.cautions)}{_prose(record.deferring)}"


def _closing(record: TreatmentRecord) -> str:
    missing = ", ".join(record.missing)
    gaps = f"<p>Not written in this record: {html.text(missing)}.</p>" if missing else ""
    made = f"Record made on {record.made_on}. {CODE_OF_ETHICS}"
    return (
        f'{gaps}<p class="small">{html.text(made)}</p><h2>Signed</h2>'
        '<table class="signed" cellspacing="0" cellpadding="2" width="100%"><tr>'
        '<td class="line" width="46%"><span class="small">Consent of the owner, date</span></td>'
        '<td width="8%"></td>'
        '<td class="line" width="46%"><span class="small">Binder, signature, date</span></td>'
        "</tr></table>"
    )
