"""How far the cloth of a part was from the colour sought, as it is kept with the part."""

from dataclasses import dataclass

UNDER_THE_PART = "under the part"
"""What a shade is of that was read from the cloth where a part lies."""


@dataclass(frozen=True, slots=True)
class KeptShade:
    """How far the cloth chosen for a part lies from the colour sought."""

    delta_e: float
    """ΔE00."""
    u: float | None = None
    """95 % band of that ΔE00; nothing where it is not known."""
    under: bool = False
    """True where it is of the cloth that is seen under the part as it lies, else of the reading
    of the whole piece."""

    @property
    def columns(self) -> dict[str, object]:
        """What stands in the columns of the part."""
        of = UNDER_THE_PART if self.under else ""
        return {"delta_e": self.delta_e, "delta_u": self.u, "shade_of": of}


NO_SHADE: dict[str, object] = {"delta_e": None, "delta_u": None, "shade_of": ""}
"""The columns of a part without one."""
