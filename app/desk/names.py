"""What the window calls a choice."""

#: Groups whose choices need no word before them.
_SAY_THEMSELVES = ("part", "shape", "files")
_CALLED = {
    "files.name": "job's name",
    "fit.way": "way of fitting",
    "fit.hole": "hole for a dot",
    "fit.key": "key hole",
    "fit.marks": "places of the marks",
    "shape.colours": "what becomes of colours",
    "shape.patches": "what becomes of single patches",
    "shape.smallest": "smallest patch",
    "shape.corners": "single corners",
    "shape.regular": "made regular",
    "shape.pieces": "pieces that do not touch",
    "picture.touches": "touch-ups",
    "picture.corners": "sheet's corners",
    "picture.paper": "sheet's size",
    "picture.level": "turned by",
    "picture.crop": "cropped to",
    "picture.colours": "number of colours",
    "picture.palette": "colours by hand",
    "picture.merged": "colours made one",
    "picture.transfer": "pixels at edges",
    "picture.ground": "colour of the ground",
    "stock.zero_at": "work zero",
    "stock.z_zero": "Z zeroed on",
    "stock.zero_on": "work zero stands on",
    "stock.copies": "pieces on one sheet",
    "stock.nesting": "pieces lie in",
    "stock.touch": "thickness under the bit",
    "film.side": "films lie on the",
    "film.inset": "film inset",
    "film.order": "which film lies on top",
    "film.weed_lines": "heights of weed lines",
    "film.match": "second picture laid by",
    "film.pairs": "pairs of points",
    "film.picture_colours": "colours of the second",
    "film.picture_ground": "ground of the second",
    "film.colours": "roles of its colours",
    "film.patches": "roles of its patches",
}


def name_of(key: str) -> str:
    """The choice's name: bit diameter, tab neck, height."""
    if key in _CALLED:
        return _CALLED[key]
    group, _, name = key.partition(".")
    words = name.replace("_", " ")
    return words if group in _SAY_THEMSELVES else f"{group} {words}"
