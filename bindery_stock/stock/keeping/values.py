"""What a check of the whole stockroom found."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Soundness:
    """What a check of the whole stockroom found."""

    faults: tuple[str, ...]
    """One sentence for each thing that is wrong; none where all is well."""
    orphans: tuple[str, ...] = ()
    """Files in the photo archive that no photograph of the stockroom names. They do no harm."""
    pieces: int = 0
    photos: int = 0
    steps: int = 0
    """How much was looked at."""

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults
