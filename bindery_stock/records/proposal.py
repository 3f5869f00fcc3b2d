"""What is proposed for one volume, as a page for its owner, made of the facts of its record."""

from collections.abc import Sequence

from markupsafe import Markup

from bindery_stock.records import html
from bindery_stock.records.treatment_record import (
    BROWSER_DOTS_PER_MM,
    CONTENTS_AFTER,
    in_rows,
    options_grid,
    side_by_side,
)
from bindery_stock.records.volume_facts import PartLine, TreatmentRecord

CONSENT_TERMS = (
    "Work begins once the owner has consented in writing. Where what is found on the way asks for "
    "another course, more hours or a higher price, consent is asked again before it is followed."
)
"""After the AIC's Commentaries on consent (published, read in excerpt)."""
_FEWEST_OPTIONS = 2
"""Leaving the volume as it is, is one of them: proposed, no source."""


def proposal_title(record: TreatmentRecord) -> str:
    """What stands over the proposal."""
    return f"Proposal for treatment: {record.name}"


def proposal_gaps(record: TreatmentRecord) -> tuple[str, ...]:
    """What a proposal should hold before it goes to the owner, and does not."""
    gaps = [
        ("the examiner and the day", bool(record.examined)),
        ("the condition", bool(record.condition or record.damage)),
        ("photographs before treatment", bool(record.before)),
        ("the aims of the treatment", bool(record.aims)),
        ("two options at least", len(record.options) >= _FEWEST_OPTIONS),
        ("how each option can be undone", all(one.undo for one in record.options)),
        ("a recommendation", bool(record.recommendation)),
        ("the risks", bool(record.risks)),
    ]
    return tuple(words for words, there in gaps if not there)


def proposal_page(record: TreatmentRecord, *, picture_mm: float = 80.0) -> Markup:
    """The proposal as an HTML document that holds everything in itself."""
    return html.page(proposal_title(record), proposal_body(record, picture_mm=picture_mm))


def proposal_body(
    record: TreatmentRecord,
    *,
    picture_mm: float,
    dots_per_mm: float = BROWSER_DOTS_PER_MM,
) -> Markup:
    """What stands in it; ``picture_mm`` is the width of one of three pictures in a row."""
    return html.rendered(
        "proposal.html",
        record=record,
        title=proposal_title(record),
        identity=side_by_side(record.identity),
        binding=side_by_side(record.binding),
        before=in_rows(record.before, picture_mm * dots_per_mm),
        options=options_grid(record.options),
        estimate=[(pair,) for pair in record.estimate if pair[1]],
        parts=_parts(record.plan),
        missing=proposal_gaps(record),
        terms=CONSENT_TERMS,
        closing=f"Proposal made on {record.made_on}. {CONTENTS_AFTER}",
    )


def _parts(parts: Sequence[PartLine]) -> Markup | None:
    if not parts:
        return None
    heads = ("Part", "Width × height", "Material", "Stock chosen", "Seen or hidden", "Colour")
    rows = (
        (
            html.text(part.name),
            html.unbroken(part.size),
            html.text(part.material),
            html.text(part.piece.split(",")[0]) or html.text("not chosen yet"),
            html.text(part.where),
            html.text(part.colour),
        )
        for part in parts
    )
    return html.grid(heads, rows, shares=(18, 20, 20, 14, 14, 14))
