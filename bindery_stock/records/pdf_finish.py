"""The last touch to a PDF: words that can be searched, its language, and printing at full size.

Qt's writer maps the glyph of the blank to a tab, so that two words cannot be found together; that
is put right in each font's character map (ISO 32000-1, 9.10.3). The document says its language
(14.9.2), shows its title, and asks viewers not to scale it when printing (12.2, ``PrintScaling``).
"""

from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    BooleanObject,
    DictionaryObject,
    NameObject,
    StreamObject,
    TextStringObject,
)

_TAB, _BLANK = b"<0009>", b"<0020>"


def finished(pdf: bytes, *, language: str = "en") -> bytes:
    """The same pages, finished."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pdf)))
    seen: set[int] = set()
    for page in writer.pages:
        for reference in page.get("/Resources", {}).get("/Font", {}).values():
            font = reference.get_object()
            if id(font) not in seen:
                seen.add(id(font))
                _mend_blanks(font)
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(language)
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {
            NameObject("/PrintScaling"): NameObject("/None"),
            NameObject("/DisplayDocTitle"): BooleanObject(value=True),
        }
    )
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _mend_blanks(font: Any) -> None:
    if "/ToUnicode" not in font:
        return
    told = font["/ToUnicode"].get_object()
    if not isinstance(told, StreamObject):
        return
    was = told.get_data()
    if _TAB in was:
        mended = StreamObject()
        mended.set_data(was.replace(_TAB, _BLANK))
        font[NameObject("/ToUnicode")] = mended.flate_encode()
