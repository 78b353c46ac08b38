"""What transparency is laid over, so that a soft edge of alpha becomes a soft edge between two colours."""

from itertools import product

import numpy as np

from core.picture.decode import Raster
from core.picture.oklab import Floats, to_oklab
from core.picture.picture import Pixels

Matte = tuple[float, float, float]

#: Paper: kept unless something in the picture is as light as it.
WHITE: Matte = (1.0, 1.0, 1.0)
#: Oklab distance from the nearest colour of the picture that white needs: a pale tint is that far away.
_CLEAR_OF_WHITE = 0.15
#: Alpha above which a pixel shows its own colour rather than the edge of one.
_SOLID = 0.9
#: At most so many solid pixels are looked at; more would not move the choice.
_LOOKED_AT = 20_000
#: Share of the solid pixels that may come nearer to the matte: blends and noise, not colours.
_STRAYS = 0.002
#: What else may stand in for white: the corners and middles of the RGB cube, in a fixed order.
_OTHERS: tuple[Matte, ...] = tuple(
    (red, green, blue) for red, green, blue in product((0.0, 0.5, 1.0), repeat=3)
)


def matte_for(raster: Raster) -> Matte:
    """Choose white, or where the art is light, the colour farthest from every colour of the art."""
    solid = _solid_colours(raster)
    if solid.size == 0 or _clearance(solid, WHITE) >= _CLEAR_OF_WHITE:
        return WHITE
    return max(_OTHERS, key=lambda matte: _clearance(solid, matte))


def laid_over(raster: Raster, matte: Matte) -> Pixels:
    """Blend colour over the matte by alpha, on the file's own curve as every viewer does."""
    if raster.alpha is None:
        return raster.colour
    ground = np.array(matte, dtype=np.float32)
    blended: Pixels = ground + (raster.colour - ground) * raster.alpha[..., np.newaxis]
    return blended


def _solid_colours(raster: Raster) -> Floats:
    if raster.alpha is None:
        return np.empty((0, 3))
    places = np.flatnonzero(raster.alpha.ravel() >= _SOLID)
    chosen = places[:: max(1, places.size // _LOOKED_AT)]
    return to_oklab(raster.colour.reshape(-1, 3)[chosen])


def _clearance(solid: Floats, matte: Matte) -> float:
    """Oklab distance from the matte to the nearest of the colours, strays left out."""
    return float(np.quantile(np.linalg.norm(solid - to_oklab(matte), axis=1), _STRAYS))
