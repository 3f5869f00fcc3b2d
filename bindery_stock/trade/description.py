"""How a volume and its binding are described: words for each feature, in the terms of the trade."""

from dataclasses import dataclass, fields, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Description:
    """What is known of a volume as a copy, and of its binding; empty where nothing was said.

    The grain and the colour of the covering stand beside it, since cloth is matched by them.
    """

    imprint: str = ""
    """Place and publisher, as on the title page."""
    imprint_date: str = ""
    """As on the title page: ``1868``, ``[1868]``, ``MDCCCLXVIII``."""
    shelfmark: str = ""
    """Where its owner keeps it."""
    covering: str = ""
    boards: str = ""
    sewing: str = ""
    spine: str = ""
    endpapers: str = ""
    edges: str = ""
    decoration: str = ""
    former_repairs: str = ""
    """What was done to it before it came, as far as it is seen or known."""

    @property
    def handed_on(self) -> "Description":
        """What the volumes of a set have in common: all but what is each copy's own."""
        return replace(self, shelfmark="", former_repairs="")

    @property
    def told(self) -> bool:
        """Whether anything was said."""
        return any(getattr(self, spec.name) for spec in fields(self))


BINDING = ("covering", "boards", "sewing", "spine", "endpapers", "edges", "decoration")
"""The fields that describe the binding, in the order of a description."""

NOT_DESCRIBED = Description()
