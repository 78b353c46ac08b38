"""What a stage of the work is called while it runs."""

DOING = {
    "read": "reading the picture",
    "colours": "finding its colours",
    "first-trace": "taking a first look",
    "trace": "tracing its outline",
    "second-read": "reading the second picture",
    "second-colours": "finding its colours",
    "second-trace": "tracing its edges",
    "match": "laying it on the first picture",
    "second-patches": "finding its films",
    "shape": "taking it to its size",
    "hanger": "placing the hole it hangs by",
    "reach": "finding what the bit can reach",
    "sheet": "laying it on the sheet",
    "path": "planning the path",
    "films": "cutting the films",
    "nest": "making the nest board",
    "sight": "placing the sight edges",
    "program": "writing the program",
    "drawings": "writing the drawings",
    "papers": "writing the papers",
    "proof": "reading everything back",
}


def doing(stage: str) -> str:
    """The stage in words; a stage without words of its own is its own word."""
    return DOING.get(stage, stage)
