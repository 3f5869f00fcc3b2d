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
    "Laid out after the AIC Guidelines for Practice, 24 to 28: documentation, examination, "
    "treatment plan, treatment, and keeping of the record."
)
_NOT_WRITTEN = "<i>not written</i>"
_PX_PER_MM = 96 / 25.4
"""Pictures are given in the pixels of a browser, 96 to the inch (CSS Values and Units 3)."""


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
    """Code of the stock it was cut from."""
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
    hours: str
    during: tuple[Picture, ...]
    after: tuple[Picture, ...]
    note: str = ""

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


def record_page(record: TreatmentRecord, *, picture_mm: float = 52.0) -> str:
    """The record as an HTML document that holds everything in itself."""
    return html.page(record.title, "".join(_sections(record, picture_mm)))


def _sections(record: TreatmentRecord, picture_mm: float) -> Sequence[str]:
    return (
        f"<h1>{html.text(record.title)}</h1>",
        _pairs(record.identity),
        "<h2>Examination: how it was found</h2>",
        _prose(record.measures),
        _prose(record.condition) if record.condition else f"<p>In words: {_NOT_WRITTEN}.</p>",
        _bullets(record.damage),
        _pictures(record.before, picture_mm),
        "<h2>Plan: the parts and where they lie</h2>",
        _plan(record.plan),
        "<h2>Treatment</h2>",
        _steps(record.steps),
        _prose(record.hours),
        _pictures(record.during, picture_mm),
        "<h2>Materials</h2>",
        _materials(record.materials),
        _cautions(record.cautions),
        "<h2>After treatment</h2>" if record.after or record.note else "",
        _prose(record.note),
        _pictures(record.after, picture_mm),
        _closing(record),
    )


def _prose(words: str) -> str:
    return f"<p>{html.text(words)}</p>" if words else ""


def _pairs(pairs: Sequence[tuple[str, str]]) -> str:
    lines = (f"<b>{html.text(label)}:</b> {html.text(words)}" for label, words in pairs if words)
    return f"<p>{'<br>'.join(lines)}</p>"


def _bullets(lines: Sequence[str]) -> str:
    return f"<ul>{''.join(f'<li>{html.text(line)}</li>' for line in lines)}</ul>" if lines else ""


def _pictures(pictures: Sequence[Picture], wide_mm: float) -> str:
    """Three to a row, each with its caption; a picture never parts from its words."""
    if not pictures:
        return ""
    rows = []
    for start in range(0, len(pictures), 3):
        cells = "".join(f"<td>{_picture(one, wide_mm)}</td>" for one in pictures[start : start + 3])
        rows.append(f"<tr>{cells}</tr>")
    return f'<table cellpadding="3">{"".join(rows)}</table>'


def _picture(picture: Picture, wide_mm: float) -> str:
    scale = min(wide_mm / picture.width, wide_mm / picture.height) * _PX_PER_MM
    width, height = round(picture.width * scale), round(picture.height * scale)
    caption = html.text(picture.caption)
    if not picture.data:
        return f"<small>{caption}</small>"
    return (
        f'<img src="{picture.data}" width="{width}" height="{height}" alt="{caption}">'
        f"<br><small>{caption}</small>"
    )


def _plan(parts: Sequence[PartLine]) -> str:
    if not parts:
        return f"<p>Parts: {_NOT_WRITTEN}.</p>"
    heads = ("Part", "Width × height", "Material", "From", "Seen and hidden", "Colour", "State")
    return html.grid(
        heads,
        (
            map(
                html.text,
                (p.name, p.size, p.material, p.piece, p.where, p.colour, p.state),
            )
            for p in parts
        ),
    )


def _steps(steps: Sequence[StepLine]) -> str:
    if not steps:
        return f"<p>What was done: {_NOT_WRITTEN}.</p>"
    heads = ("Date", "What was done", "With", "How to undo it", "Hours")
    return html.grid(
        heads,
        (
            (
                html.text(step.day),
                html.text(step.what),
                html.text(step.material),
                html.text(step.undo) or _NOT_WRITTEN,
                html.text(step.hours),
            )
            for step in steps
        ),
        figures=frozenset({4}),
    )


def _materials(materials: Sequence[MaterialLine]) -> str:
    if not materials:
        return f"<p>Materials: {_NOT_WRITTEN}.</p>"
    heads = ("Code", "What", "Origin and dates", "Verdict", "Used all the same, because")
    return html.grid(
        heads,
        (
            map(html.text, (one.code, one.what, one.origin, one.verdict, one.override))
            for one in materials
        ),
    )


def _cautions(cautions: Sequence[str]) -> str:
    return f"<h2>Cautions</h2>{_bullets(cautions)}" if cautions else ""


def _closing(record: TreatmentRecord) -> str:
    missing = ", ".join(record.missing)
    gaps = f"<p>Not written in this record: {html.text(missing)}.</p>" if missing else ""
    return (
        f"{gaps}<p><small>{html.text(CODE_OF_ETHICS)} Record made on "
        f"{html.text(record.made_on)}.</small></p>"
        "<p>Consent of the owner, date: ____________________ &nbsp; "
        "Binder, signature, date: ____________________</p>"
    )
