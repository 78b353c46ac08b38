"""Least-squares lines and arcs through runs of samples, many at once, from their moments.

A run of samples is known by nine sums (SUMS). Lines are total least squares: the smaller eigenvalue of the
scatter. Arcs minimise Taubin's measure, sum F^2 / mean |grad F|^2 with F = |p - c|^2 - r^2, which is the
squared distance to first order and does not shrink short noisy arcs as the plain algebraic fit does
(G. Taubin, IEEE PAMI 13, 1991; the root is found by N. Chernov's Newton iteration from 0).
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats

#: The sums a run is known by: n, x, y, xx, xy, yy, xz, yz, zz with z = xx + yy.
SUMS = 9

#: Newton steps for Taubin's root; it starts on the right side and converges quadratically.
NEWTON_STEPS = 8

#: A step this small beside the root is the last.
ROOT_STILL = 1e-12

#: px; arcs flatter than this radius are lines to every sample of a picture.
FLATTEST = 1e6


@dataclass(frozen=True, eq=False)
class Fits:
    """For every run the sum of squared distances, px^2, to its best line and to its best arc (or infinite).

    centre (..., 2) and radius (...) are the arc's, mean (..., 2) the line's;
    spread (..., 2) is the scatter along x less that along y, and twice the mixed one.
    """

    count: Floats
    line: Floats
    arc: Floats
    centre: Floats
    radius: Floats
    mean: Floats
    spread: Floats

    def directions(self) -> Floats:
        """(..., 2) along each line, or against it."""
        angle = 0.5 * np.arctan2(self.spread[..., 1], self.spread[..., 0])
        return np.stack((np.cos(angle), np.sin(angle)), axis=-1)


def powers(points: Floats, weight: Floats | float = 1.0) -> Floats:
    """(9, n): what each point (n, 2) of a weight adds to the sums; best near their run's origin."""
    x, y = points[:, 0], points[:, 1]
    own = np.empty((SUMS, len(points)))
    own[0] = weight
    np.multiply(x, weight, out=own[1])
    np.multiply(y, weight, out=own[2])
    np.multiply(own[1], x, out=own[3])
    np.multiply(own[1], y, out=own[4])
    np.multiply(own[2], y, out=own[5])
    z = x * x + y * y
    np.multiply(own[1:3], z, out=own[6:8])
    np.multiply(z * z, weight, out=own[8])
    return own


def moved(sums: Floats, shift: Floats) -> Floats:
    """Sums (9, n) as they are about an origin that lies shift (n, 2) back."""
    n, x, y, xx, xy, yy, xz, yz, zz = sums
    u, v = shift[:, 0], shift[:, 1]
    far, along = u * u + v * v, u * x + v * y
    z = xx + yy
    # z of a moved point is z + 2 (u x + v y) + u^2 + v^2.
    return np.stack(
        (
            n,
            x + n * u,
            y + n * v,
            xx + u * (2.0 * x + n * u),
            xy + u * y + v * x + n * u * v,
            yy + v * (2.0 * y + n * v),
            xz + 2.0 * (u * xx + v * xy) + far * x + u * (z + 2.0 * along + n * far),
            yz + 2.0 * (u * xy + v * yy) + far * y + v * (z + 2.0 * along + n * far),
            zz
            + 4.0 * (u * xz + v * yz + u * u * xx + 2.0 * u * v * xy + v * v * yy)
            + far * (2.0 * z + 4.0 * along + n * far),
        )
    )


def fits(sums: Floats) -> Fits:
    """Lines and arcs for sums (9, ...)."""
    count = np.maximum(sums[0], 1e-12)
    mx, my, xx, xy, yy, xz, yz, zz = sums[1:] / count
    cxx, cxy, cyy = xx - mx * mx, xy - mx * my, yy - my * my
    half, gap = (cxx + cyy) / 2.0, np.hypot((cxx - cyy) / 2.0, cxy)
    small = np.maximum(half - gap, 0.0)
    # Moments about the mean, with z' = |p - m|^2 there.
    mz, mm = xx + yy, mx * mx + my * my
    cz = mz - mm
    cxz = xz - mx * mz - 2.0 * (mx * cxx + my * cxy)
    cyz = yz - my * mz - 2.0 * (mx * cxy + my * cyy)
    czz = (
        zz
        - mz * mz
        - 4.0 * (mx * (xz - mx * mz) + my * (yz - my * mz))
        + 4.0 * (mx * mx * cxx + 2.0 * mx * my * cxy + my * my * cyy)
    )
    a, b = _taubin((cxx, cxy, cyy, cxz, cyz, czz, cz))
    square = cz + a * a + b * b
    misfit = czz - 4.0 * (a * cxz + b * cyz) + 4.0 * (a * a * cxx + 2.0 * a * b * cxy + b * b * cyy)
    arc = np.maximum(misfit, 0.0) / np.maximum(4.0 * square, 1e-30) * count
    radius = np.sqrt(square)
    bad = ~np.isfinite(arc) | ~(radius < FLATTEST)
    return Fits(
        count=sums[0],
        line=small * count,
        arc=np.where(bad, np.inf, arc),
        centre=np.stack((mx + a, my + b), axis=-1),
        radius=radius,
        mean=np.stack((mx, my), axis=-1),
        spread=np.stack((cxx - cyy, 2.0 * cxy), axis=-1),
    )


def _taubin(moments: tuple[Floats, ...]) -> tuple[Floats, Floats]:
    """Centre about the mean, from the central moments xx, xy, yy, xz, yz, zz and the mean of z."""
    cxx, cxy, cyy, cxz, cyz, czz, cz = moments
    cov = cxx * cyy - cxy * cxy
    # Here mean z'^2 = czz + cz^2; the polynomial is Chernov's for data centred in x and y.
    mzz = czz + cz * cz
    a3 = 4.0 * cz
    a2 = -3.0 * cz * cz - mzz
    a1 = czz * cz + 4.0 * cov * cz - cxz * cxz - cyz * cyz
    a0 = cxz * (cxz * cyy - cyz * cxy) + cyz * (cyz * cxx - cxz * cxy) - czz * cov
    root = np.zeros_like(cz)
    with np.errstate(divide="ignore", invalid="ignore"):
        for _ in range(NEWTON_STEPS):
            value = a0 + root * (a1 + root * (a2 + root * a3))
            slope = a1 + root * (2.0 * a2 + 3.0 * root * a3)
            step = np.where(slope != 0.0, value / slope, 0.0)
            step = np.where(np.isfinite(step), step, 0.0)
            root = np.maximum(root - step, 0.0)
            if np.all(np.abs(step) <= ROOT_STILL * root):
                break
        det = root * root - root * cz + cov
        a = (cxz * (cyy - root) - cyz * cxy) / det / 2.0
        b = (cyz * (cxx - root) - cxz * cxy) / det / 2.0
    good = np.isfinite(a) & np.isfinite(b)
    return np.where(good, a, 1e9), np.where(good, b, 1e9)
