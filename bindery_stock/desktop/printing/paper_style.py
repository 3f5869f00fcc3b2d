"""How a text looks on paper: quiet rules between rows, headings that stand clear of what is above.

Qt gives the lengths of a style sheet in dots of the screen and carries them over to the paper; here
they are written in millimetres of the paper.
"""

from string import Template

from PySide6.QtGui import QGuiApplication

from bindery_stock.desktop.printing.page_painter import MM_PER_INCH

_RULE_MM = 0.2
_SHEET = Template("""
h1 { font-size: ${title}pt; font-weight: bold; margin-top: 0px; margin-bottom: $mm3; }
h2 { font-size: ${section}pt; font-weight: bold; margin-top: $mm5; margin-bottom: $mm1; }
p { margin-top: 0px; margin-bottom: $mm2; }
ul { margin-top: 0px; margin-bottom: $mm2; }
li { margin-bottom: $mm1; }
table { margin-top: $mm1; margin-bottom: $mm2; }
th, td { padding-left: $mm1; padding-right: $mm2; }
th { font-weight: bold; text-align: left; background-color: #f0f0f0;
     border-bottom: $rule solid #000; }
th.figure, td.figure { text-align: right; }
td { border-bottom: $rule solid #aaa; }
table.plain th, table.plain td { padding-left: 0px; padding-right: $mm4; }
table.plain td { border-bottom: 0px; }
table.plain th { border-bottom: 0px; background-color: #fff; font-weight: normal; color: #444; }
table.signed { margin-top: $mm8; }
table.signed td { border-bottom: 0px; }
table.signed td.line { border-top: $rule solid #000; }
.small { font-size: ${small}pt; color: #333; }
""")


def dots_per_mm() -> float:
    """Dots of a style sheet and of a picture's size to the millimetre of the paper."""
    return float(QGuiApplication.primaryScreen().logicalDotsPerInchY()) / MM_PER_INCH


def paper_style(points: float) -> str:
    """The style sheet of a text in type of this size."""
    lengths = {f"mm{n}": f"{n * dots_per_mm():.2f}px" for n in (1, 2, 3, 4, 5, 8)}
    return _SHEET.substitute(
        lengths,
        rule=f"{_RULE_MM * dots_per_mm():.2f}px",
        title=f"{points * 1.7:.1f}",
        section=f"{points * 1.2:.1f}",
        small=f"{points * 0.85:.1f}",
    )
