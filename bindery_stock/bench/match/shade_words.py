"""The shade of a part in words, the same wherever it is told."""

from bindery_stock.stock import KeptShade


def shade_words(shade: KeptShade) -> str:
    """``ΔE00 2.2 ± 3.1 under the part``; of the reading of the whole piece without the last."""
    band = "" if shade.u is None else f" ± {shade.u:.1f}"
    where = " under the part" if shade.under else ""
    unknown = ", band not known" if shade.u is None else ""
    return f"ΔE00 {shade.delta_e:.1f}{band}{where}{unknown}"
