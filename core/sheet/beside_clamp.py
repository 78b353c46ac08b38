"""How far places lie from a clamp seen from above."""

import numpy as np

from core.outline.segments import Floats
from core.sheet.clamp import Clamp


def distances_to(clamp: Clamp, points: Floats) -> Floats:
    """(n,) mm from points (n, 2) in the frame to the clamp; 0 inside it."""
    away = np.abs(points - np.array(clamp.at))
    if clamp.is_round:
        return np.asarray(np.maximum(np.hypot(*away.T) - clamp.size_mm[0] / 2.0, 0.0))
    beyond = np.maximum(away - np.array(clamp.size_mm) / 2.0, 0.0)
    return np.asarray(np.hypot(*beyond.T))
