"""Models of what a camera did to the colours of a target, each with its few numbers.

A photograph's linear channels are first levelled for light that falls off across the target, then
taken through the camera's tone curve (fitted on the grey row), expanded into terms, brought to XYZ
by a matrix, and moved by a smooth remainder in CIELAB. Every model is this chain with parts of it
left neutral. Matrices are fitted in CIELAB, weighted as CIEDE2000 weighs lightness, chroma and hue,
because least squares in linear light spends its effort on the bright patches.

Sources: G. D. Finlayson, M. Mackiewicz, A. Hurlbert, "Color Correction Using Root-Polynomial
Regression", IEEE Trans. Image Process. 24(5), 2015, 1460-1470 (terms that keep when the exposure
changes); CIE 142-2001 (the weights).
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.space import D50, Array, apply_matrix, lab_to_xyz, xyz_to_lab

TONED: Final = (
    "grey-row tone, 3 × 3",
    "grey-row tone, root-polynomial",
    "grey-row tone, root-polynomial, smooth remainder",
    "grey-row tone, 3 × 3, fall-off of light, smooth remainder",
)
"""The models that begin with the tone curve of the grey row, under the names the user sees."""

_TINY: Final = 1e-6
_EPSILON: Final = 216 / 24389
_LINEAR: Final = 24389 / 27 / 116
"""CIE 15:2018: where the cube root gives way to a straight line, and its slope."""
_RIDGE_MATRIX: Final = 1.0
"""Pull of the nine matrix numbers towards the photograph's own profile, Lab units a unit."""
_RIDGE_ROOTS: Final = 10.0
"""Pull of the root terms towards nothing; twice or half changes left-out errors by 1 %."""
_REACH: Final = 25.0
"""How far in CIELAB one patch's remainder speaks for its neighbours."""
_DOUBT: Final = 0.3
"""How much of a remainder is taken for noise."""
_FALL_SCALE: Final = 0.1
_FALL_PULL: Final = 3.0
_FALL_LIMIT: Final = 1.5
"""In half widths of the target: light is not extrapolated further."""


@dataclass(frozen=True)
class Sightings:
    """What a photograph shows of the usable patches of a target, and what they are."""

    linear: Array
    """n × 3 linear channels."""
    where: Array
    """n × 2, across and down the target, ±1 at the outer columns."""
    labs: Array
    """n × 3 reference colours."""
    greys: NDArray[np.bool_]
    """Which of them belong to the grey row."""
    matrix: Array
    """3 × 3, linear channels to XYZ, as the photograph's profile has it."""

    def without(self, index: int) -> "Sightings":
        """The same with one patch left out."""
        keep = np.arange(len(self.linear)) != index
        return self.only(keep)

    def only(self, keep: NDArray[np.bool_]) -> "Sightings":
        """Those patches alone."""
        return replace(
            self,
            linear=self.linear[keep],
            where=self.where[keep],
            labs=self.labs[keep],
            greys=self.greys[keep],
        )


@dataclass(frozen=True)
class Chain:
    """A fitted model: linear channels to CIELAB."""

    fall: Array
    """(2,) logarithm of the light per half width, across and down."""
    gain: Array
    """(3,) tone curve: gain · (x − offset)^power, a channel each."""
    offset: Array
    power: Array
    matrix: Array
    """3 × 3 or 3 × 6, from the terms to XYZ."""
    anchors: Array
    """m × 3 colours at which the smooth remainder is known (m may be 0)."""
    pulls: Array
    """m × 3 weights of the remainder."""

    def predict(self, linear: Array, where: Array) -> Array:
        """CIELAB (n × 3) of linear channels (n × 3) seen at places (n × 2) of the target."""
        levelled = linear * np.exp(_across(where, self.fall))[:, None]
        toned = self.gain * np.maximum(levelled - self.offset, _TINY) ** self.power
        lab = xyz_to_lab(_mapped(self.matrix, _terms(toned, self.matrix.shape[1])))
        if not len(self.anchors):
            return lab
        remainder = np.einsum("ij,jk->ik", _kernel(lab, self.anchors), self.pulls)
        return np.asarray(lab + remainder)


def candidates(seen: Sightings, toned: Chain) -> dict[str, Chain]:
    """Every model fitted, simplest first, under the names the user sees.

    ``toned`` is ``grey_curve`` of the same greys: it need not be fitted again where only another
    patch was left out.
    """
    plain = as_photographed(seen)
    roots = _with_matrix(seen, toned, 6)
    return {
        "as photographed": plain,
        "exposure": exposure(seen),
        TONED[0]: _with_matrix(seen, toned, 3),
        TONED[1]: roots,
        TONED[2]: _with_remainder(seen, roots),
        TONED[3]: _with_remainder(seen, _with_fall(seen, toned)),
    }


def as_photographed(seen: Sightings) -> Chain:
    """No correction: kept where nothing does better."""
    none = np.zeros((0, 3))
    return Chain(
        fall=np.zeros(2),
        gain=np.ones(3),
        offset=np.zeros(3),
        power=np.ones(3),
        matrix=seen.matrix,
        anchors=none,
        pulls=none,
    )


def exposure(seen: Sightings) -> Chain:
    """One gain for all channels, from the greys where there are any, in lightness."""
    chosen = seen.only(seen.greys) if seen.greys.any() else seen
    y = apply_matrix(seen.matrix, chosen.linear)[:, 1]
    wanted = lab_to_xyz(chosen.labs)[:, 1]
    gain = float(np.median(wanted / np.maximum(y, _TINY)))
    return replace(as_photographed(seen), gain=np.full(3, gain))


def grey_tone(seen: Sightings) -> Chain:
    """Tone curve from the grey row, then 3 × 3: stiff enough to tell foreign patches by."""
    return _with_matrix(seen, grey_curve(seen), 3)


def grey_curve(seen: Sightings) -> Chain:
    """The tone curve of each channel from the greys, cube-root residuals, outliers damped."""
    if int(seen.greys.sum()) < 3:
        return exposure(seen)
    greys = seen.only(seen.greys)
    wanted = apply_matrix(np.asarray(np.linalg.inv(seen.matrix)), lab_to_xyz(greys.labs))
    curves = [_tone(greys.linear[:, c], wanted[:, c]) for c in range(3)]
    gain, offset, power = np.array(curves).T
    return replace(as_photographed(seen), gain=np.exp(gain), offset=offset, power=power)


def _tone(x: Array, wanted: Array) -> Array:
    goal = np.cbrt(np.maximum(wanted, _TINY))

    def residual(p: Array) -> Array:
        made = np.exp(p[0]) * np.maximum(x - p[1], _TINY) ** p[2]
        # A hair of pull keeps three greys from bending into a curve no camera has.
        return np.concatenate([np.cbrt(made) - goal, [0.2 * p[1], 0.02 * (p[2] - 1)]])

    start = [float(np.log(np.median(wanted / np.maximum(x, 1e-4)))), 0.0, 1.0]
    from scipy.optimize import least_squares  # noqa: PLC0415 - at first use

    fit = least_squares(residual, start, x_scale=[1.0, 0.01, 1.0], loss="soft_l1", f_scale=0.05)
    return np.asarray(fit.x)


def _with_matrix(seen: Sightings, chain: Chain, terms: int) -> Chain:
    toned = chain.gain * np.maximum(seen.linear - chain.offset, _TINY) ** chain.power
    expanded = _terms(toned, terms)
    start = np.zeros((3, terms))
    start[:, :3] = seen.matrix
    pull = np.full((3, terms), _RIDGE_ROOTS)
    pull[:, :3] = _RIDGE_MATRIX
    weigh = _weights(seen.labs)

    def residual(p: Array) -> Array:
        matrix = p.reshape(3, terms)
        away = _weighed(weigh, xyz_to_lab(_mapped(matrix, expanded)) - seen.labs)
        return np.concatenate([away.ravel(), (pull * (matrix - start)).ravel()])

    def slope(p: Array) -> Array:
        by_xyz = np.einsum(
            "nij,njk->nik", weigh, _lab_by_xyz(_mapped(p.reshape(3, terms), expanded))
        )
        by_matrix = np.einsum("nri,nk->nrik", by_xyz, expanded)
        return np.concatenate([by_matrix.reshape(-1, 3 * terms), np.diag(pull.ravel())])

    from scipy.optimize import least_squares  # noqa: PLC0415 - at first use

    fit = least_squares(residual, start.ravel(), jac=slope, method="lm")
    return replace(chain, matrix=fit.x.reshape(3, terms))


def _with_fall(seen: Sightings, chain: Chain) -> Chain:
    weigh = _weights(seen.labs)

    def made(p: Array) -> Chain:
        return replace(chain, fall=p[:2] * _FALL_SCALE, matrix=p[2:].reshape(3, 3))

    def residual(p: Array) -> Array:
        away = _weighed(weigh, made(p).predict(seen.linear, seen.where) - seen.labs).ravel()
        pull = _RIDGE_MATRIX * (p[2:] - seen.matrix.ravel())
        return np.concatenate([away, pull, _FALL_PULL * p[:2]])

    start = np.concatenate([np.zeros(2), seen.matrix.ravel()])
    from scipy.optimize import least_squares  # noqa: PLC0415 - at first use

    return made(np.asarray(least_squares(residual, start, method="lm").x))


def _with_remainder(seen: Sightings, chain: Chain) -> Chain:
    anchors = chain.predict(seen.linear, seen.where)
    blurred = _kernel(anchors, anchors) + _DOUBT * np.eye(len(anchors))
    pulls = np.linalg.solve(blurred, seen.labs - anchors)
    return replace(chain, anchors=anchors, pulls=np.asarray(pulls))


def _across(where: Array, fall: Array) -> Array:
    near = np.clip(where, -_FALL_LIMIT, _FALL_LIMIT)
    return np.asarray(near[:, 0] * fall[0] + near[:, 1] * fall[1])


def _terms(light: Array, count: int) -> Array:
    if count == 3:
        return light
    r, g, b = light[:, 0], light[:, 1], light[:, 2]
    roots = [np.sqrt(r * g), np.sqrt(g * b), np.sqrt(r * b)]
    return np.stack([r, g, b, *roots], axis=1)


def _mapped(matrix: Array, terms: Array) -> Array:
    return np.asarray(np.einsum("ij,nj->ni", matrix, terms))


def _kernel(one: Array, other: Array) -> Array:
    square = ((one[:, None] - other[None]) ** 2).sum(axis=-1)
    return np.asarray(np.exp(-square / (2 * _REACH**2)))


def _weights(labs: Array) -> Array:
    """n × 3 × 3: CIELAB residuals to steps of lightness, chroma and hue about the reference."""
    chroma = np.hypot(labs[:, 1], labs[:, 2])
    safe = np.maximum(chroma, _TINY)
    along, aside = labs[:, 1] / safe, labs[:, 2] / safe
    middle = (labs[:, 0] - 50) ** 2
    s_l = 1 + 0.015 * middle / np.sqrt(20 + middle)
    s_c, s_h = 1 + 0.045 * chroma, 1 + 0.015 * chroma
    weights = np.zeros((len(labs), 3, 3))
    weights[:, 0, 0] = 1 / s_l
    weights[:, 1, 1], weights[:, 1, 2] = along / s_c, aside / s_c
    weights[:, 2, 1], weights[:, 2, 2] = -aside / s_h, along / s_h
    return weights


def _weighed(weights: Array, away: Array) -> Array:
    return np.asarray(np.einsum("nij,nj->ni", weights, away))


def _lab_by_xyz(xyz: Array) -> Array:
    """n × 3 × 3: how CIELAB changes with XYZ."""
    t = xyz / D50
    root = np.cbrt(np.maximum(t, _EPSILON))
    f = np.where(t > _EPSILON, 1 / (3 * root * root), _LINEAR) / D50
    change = np.zeros((len(xyz), 3, 3))
    change[:, 0, 1] = 116 * f[:, 1]
    change[:, 1, 0], change[:, 1, 1] = 500 * f[:, 0], -500 * f[:, 1]
    change[:, 2, 1], change[:, 2, 2] = 200 * f[:, 1], -200 * f[:, 2]
    return change
