"""The clearance lap: the raised bit round the rectangle that its edge sweeps and past each clamp."""

import numpy as np

from core.router.clear_of import nearest_places
from core.router.extents import extents_of
from core.router.setup import Setup
from core.router.toolpath import Motion, Operation, Toolpath


def clearance_lap(toolpath: Toolpath, setup: Setup) -> Toolpath:
    """From the work zero round the rectangle swept by the bit's edge, past each clamp, and back.

    All at the safe height, spindle off; a clamp is passed where the path comes nearest to it. Fed, not
    rapid, so that a hand can stop it in time.
    """
    box, radius = extents_of(toolpath), setup.bit.radius_mm
    left, right = box.x_min - radius, box.x_max + radius
    near, far = box.y_min - radius, box.y_max + radius
    zero = setup.layout.zero_at
    round_all = np.array([[left, near], [right, near], [right, far], [left, far], [left, near]])
    corners = np.vstack((round_all, nearest_places(toolpath, setup.layout.clamps), [zero]))
    ends = np.column_stack((corners, np.full(len(corners), setup.safe_z)))
    return Toolpath(
        np.array([*zero, setup.safe_z]),
        ends,
        np.zeros(len(ends)),
        np.full(len(ends), int(Motion.FEED)),
        np.full(len(ends), setup.machine.top_feed_mm_min),
        np.zeros(len(ends), dtype=np.int64),
        (Operation("clearance lap"),),
    )
