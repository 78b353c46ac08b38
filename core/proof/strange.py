"""What a drawing holds beyond what it should: a machine would cut it all the same."""

from collections.abc import Collection

from core.findings import Finding
from core.proof.layers import Layers
from core.proof.readback import breach

#: The one layer on which something may stand that the proof does not read: nothing on it is cut. What is
#: read of it is the height, which no style may hide or move.
NOT_CUT = "notes"


def strange_findings(path: str, layers: Layers, known: Collection[str]) -> tuple[Finding, ...]:
    """Stops: a layer that no drawing of this kind has, and anything that is no line and no circular arc."""
    strange = [name for name in layers.contours if name not in known]
    unread = [one for one in layers.not_read if one.layer != NOT_CUT or one.is_style]
    return (
        *(breach("layer-strange", f"{path} has shapes {_on(name)}, where none belong.") for name in strange),
        *(breach("shape-unread", f"{path} has {one.what} {_on(one.layer)}.") for one in unread),
    )


def _on(layer: str) -> str:
    return f"on the layer {layer}" if layer else "on no layer"
