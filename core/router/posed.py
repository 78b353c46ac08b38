"""A path turned and shifted to where the sheet was found on the machine."""

from dataclasses import replace

import numpy as np

from core.findings import Point
from core.outline.segments import Floats
from core.router.toolpath import Toolpath
from core.sheet.pose import Pose


def posed(toolpath: Toolpath, pose: Pose | None, zero_at: Point) -> Toolpath:
    """A path of the frame by the controller's numbers, zero_at added; as it is where nothing was found."""
    if pose is None:
        return toolpath
    zero = np.array(zero_at)

    def moved(points: Floats) -> Floats:
        return np.column_stack((pose.of(points[:, :2] - zero) + zero, points[:, 2]))

    return replace(toolpath, start=moved(toolpath.start[None, :])[0], ends=moved(toolpath.ends))
