"""The papers of one volume: what is proposed before its treatment, and what was done to it.

Both are made of the same facts. They hold what the American Institute for Conservation asks of a
proposal and of a record, in the Commentaries to its *Guidelines for Practice* (published, read in
excerpt). What was not written is said to be missing, so that a gap is never taken for a finding.
"""

from collections.abc import Sequence

from markupsafe import Markup

from bindery_stock.records import html
from bindery_stock.records.volume_facts import (
    OptionLine,
    PartLine,
    Picture,
    RulingLine,
    StepLine,
    TreatmentRecord,
)

CONTENTS_AFTER = (
    "Contents after the American Institute for Conservation (AIC), Commentaries to the Guidelines "
    "for Practice, on documentation, examination, proposal, consent, report and keeping "
    "(published; read in excerpt)."
)
_NOT_WRITTEN = Markup("<i>not written</i>")
BROWSER_DOTS_PER_MM = 96 / 25.4
"""Dots of a browser to the millimetre, 96 to the inch (CSS Values and Units 3)."""
_IN_A_ROW = 3
_HIGHEST = 0.8
"""The height of a row of pictures at most, as a share of the width of one of three."""


def record_page(record: TreatmentRecord, *, picture_mm: float = 80.0) -> Markup:
    """The record as an HTML document that holds everything in itself."""
    return html.page(record.title, record_body(record, picture_mm=picture_mm))


def record_body(
    record: TreatmentRecord,
    *,
    picture_mm: float,
    dots_per_mm: float = BROWSER_DOTS_PER_MM,
) -> Markup:
    """What stands in the record; ``picture_mm`` is the width of one of three pictures in a row."""
    size = picture_mm * dots_per_mm
    return html.rendered(
        "treatment_record.html",
        record=record,
        identity=side_by_side(record.identity),
        binding=side_by_side(record.binding),
        before=in_rows(record.before, size),
        options=options_grid(record.options),
        plan=_plan(record.plan),
        steps=_steps(record.steps),
        during=in_rows(record.during, size),
        materials=_materials(record),
        rulings=_rulings(record.rulings),
        after=in_rows(record.after, size),
        closing=f"Record made on {record.made_on}. {CONTENTS_AFTER}",
    )


def side_by_side(pairs: Sequence[tuple[str, str]]) -> list[tuple[tuple[str, str], ...]]:
    """Two pairs to a line, read down the left side first; the last may stand alone."""
    told = [pair for pair in pairs if pair[1]]
    half = (len(told) + 1) // 2
    return list(zip(told[:half], [*told[half:], ("", "")], strict=False))


def in_rows(pictures: Sequence[Picture], size: float) -> list[list[tuple[Picture, int, int]]]:
    """At most three to a row, all of one height; width and height in dots beside each."""
    rows = []
    for start in range(0, len(pictures), _IN_A_ROW):
        row = pictures[start : start + _IN_A_ROW]
        widths = sum(picture.width / picture.height for picture in row)
        height = min(_HIGHEST * size, _IN_A_ROW * size / widths)
        rows.append([(one, round(height * one.width / one.height), round(height)) for one in row])
    return rows


def options_grid(options: Sequence[OptionLine]) -> Markup | None:
    """The courses weighed, one beside the other."""
    if not options:
        return None
    heads = ("Option", "Would be done", "Speaks for it", "Risk, and loss", "Undoing", "Hours")
    rows = (
        (
            html.text(f"{one.number}\nrecommended" if one.recommended else one.number),
            html.text(one.what),
            html.text(one.gain),
            html.text(one.risk) or _NOT_WRITTEN,
            html.text(one.undo) or _NOT_WRITTEN,
            html.text(one.hours),
        )
        for one in options
    )
    return html.grid(heads, rows, figures=frozenset({5}), shares=(14, 24, 19, 20, 16, 7))


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
                html.text(part.colour),
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
