"""What a ruler alone leaves unknown: how far aslant the camera stood, and its worst effect."""

from math import cos, radians, sin

TILT_BY_HAND = 20.0
"""Degrees a camera held by hand may stand aslant without being noticed (our own limit)."""
NEAREST_CAMERA = 350.0
"""mm from lens to bench, as near as a sheet of paper is photographed (our own limit)."""
_OVER = 200.0  # mm: the length of which the effect is said


def worst_by_tilt(length: float = _OVER) -> float:
    """mm by which a length may be told too long where the tilt is unseen, at the worst.

    The camera 20° aslant and 350 mm away, a short ruler lying up the slope at the far side, the
    length lying across at the near side: 1/cos of the tilt, times the nearness by perspective,
    which counts twice along the slope.
    """
    slant = radians(TILT_BY_HAND)
    rise = length * sin(slant) / 2.0
    far, near = NEAREST_CAMERA + rise, NEAREST_CAMERA - rise
    return length * (far / NEAREST_CAMERA * far / near / cos(slant) - 1.0)


def unseen_tilt_words() -> str:
    """What to tell the binder."""
    return (
        f"A ruler alone does not show the tilt of the camera: {TILT_BY_HAND:.0f}° aslant makes "
        f"{_OVER:.0f} mm up to {worst_by_tilt():.0f} mm too long. Mark the corners of a sheet "
        "instead."
    )
