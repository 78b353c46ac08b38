"""The sheet on the router's table."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Stock:
    """All in mm; the stock's left near corner is the frame's origin, its bare top is z = 0 here.

    thickness is the mean of the places measured, spread the largest less the smallest of them.
    """

    width_mm: float
    depth_mm: float
    thickness_mm: float
    thickness_spread_mm: float
    masking_top_mm: float
    masking_bottom_mm: float
    is_clear: bool
