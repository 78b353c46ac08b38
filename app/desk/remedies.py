"""The choices that a finding can open; what can be done about it at once is told in acts.py."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Remedy:
    """A word to press, and the choice that it opens."""

    words: str
    key: str


_HEIGHT = Remedy("height", "shape.height")
_BIT = Remedy("bit", "bit.diameter")
_PAPER, _SHEET_CORNERS = Remedy("sheet's size", "picture.paper"), Remedy("corners", "picture.corners")
_INSET = Remedy("inset", "film.inset")
_RIM = Remedy("rim", "film.rim")
_SMALLEST = Remedy("smallest patch", "shape.smallest")
_NECK = Remedy("tab neck", "part.tab_neck")
_HOLD = Remedy("what holds it", "part.hold")
_PAIRS = Remedy("pairs of points", "film.pairs")
_PIECES = Remedy("pieces", "shape.pieces")
_TOUCHES, _CORNERS = Remedy("touch-ups", "picture.touches"), Remedy("single corners", "shape.corners")
_SPEED, _FEED = Remedy("speed", "cutting.speed"), Remedy("feed", "cutting.feed")
_LEFT_OUT = Remedy("smallest piece", "film.smallest_piece")
_STOCK = (Remedy("sheet width", "stock.width"), Remedy("sheet depth", "stock.depth"))
_MARKS = Remedy("marks", "fit.marks")
_ENTRIES = Remedy("entries", "part.entries")
_TRAVEL = (Remedy("travel x", "machine.travel_x"), Remedy("travel y", "machine.travel_y"))

REMEDIES: dict[str, tuple[Remedy, ...]] = {
    "height-assumed": (_HEIGHT,),
    "height-from-paper": (_HEIGHT, _PAPER),
    "sheet-squared": (_SHEET_CORNERS, _PAPER),
    "no-sheet": (_SHEET_CORNERS, _HEIGHT),
    "proportion-guessed": (_PAPER,),
    "light-evened": (Remedy("light", "picture.light"),),
    "picture-reduced": (Remedy("pixels", "picture.pixels"),),
    "picture-coarse": (_HEIGHT,),
    "photograph": (Remedy("number of colours", "picture.colours"), Remedy("colours", "picture.palette")),
    "fewer-colours": (Remedy("number of colours", "picture.colours"),),
    "tiny-piece": (_HEIGHT, _LEFT_OUT, Remedy("colours", "shape.colours")),
    "small-pieces": (_HEIGHT, _LEFT_OUT, Remedy("colours", "shape.colours")),
    "colours-too-alike": (Remedy("merged colours", "picture.merged"), Remedy("colours", "shape.colours")),
    "corner-lifts": (Remedy("corner radius", "film.corner_radius"),),
    "tip-lost": (Remedy("tips", "film.tips"), _INSET),
    "inset-below-forecast": (_INSET, Remedy("eye", "fit.eye")),
    "fit-forecast": (_INSET,),
    "rim-moved": (_RIM, Remedy("widest", "film.rim_width")),
    "rim-thinned": (_RIM, _INSET),
    "rim-dropped": (_RIM,),
    "film-stencil": (Remedy("islands", "film.stencil_islands"),),
    "island-loose": (Remedy("bridge", "film.stencil_bridge"), _HEIGHT),
    "stencil-unknown": (Remedy("stencils", "film.stencils"),),
    "film-too-wide": (Remedy("film width", "film.stock_width"), Remedy("copies", "stock.copies"), _HEIGHT),
    "weed-line-outside": (Remedy("weed lines", "film.weed_lines"),),
    "weed-strip-narrow": (Remedy("weed lines", "film.weed_lines"),),
    "film-will-not-hold": (Remedy("material", "stock.material"),),
    "film-order-unknown": (Remedy("order", "film.order"),),
    "thin-stroke": (Remedy("stroke", "film.stroke"), _HEIGHT, _INSET),
    "thin-gap": (Remedy("gap", "film.gap"), _HEIGHT),
    "tiny-opening": (Remedy("openings", "film.small_openings"), _HEIGHT),
    "film-not-joined": (Remedy("bridge", "film.bridge"), Remedy("left out", "film.dropped")),
    "lettering-clipped": (_INSET, _HEIGHT),
    "lettering-whole": (Remedy("lettering", "film.lettering"),),
    "film-vanished": (_HEIGHT, _INSET),
    "corner-rounded": (_BIT,),
    "bit-too-wide": (_BIT, _HEIGHT),
    "chip-load": (_FEED, _SPEED),
    "chip-too-thin": (_FEED, _SPEED),
    "feed-beyond-machine": (_FEED, Remedy("top feed", "machine.top_feed")),
    "spindle-speed": (_SPEED,),
    "spindle-off": (Remedy("spindle", "machine.spindle"),),
    "deep-pass": (Remedy("depth", "cutting.depth"),),
    "flute-too-short": (Remedy("flute length", "bit.flute_length"),),
    "several-parts": (_PIECES,),
    "base-plate": (_PIECES, Remedy("base margin", "shape.base_margin")),
    "bridge": (_PIECES, Remedy("bridge width", "shape.bridge_width")),
    "bridge-weak": (Remedy("bridge width", "shape.bridge_width"), _PIECES),
    "part-thin": (_HEIGHT, _PIECES),
    "touch-idle": (_TOUCHES,),
    "touch-outside": (_TOUCHES,),
    "corner-not-found": (_CORNERS,),
    "corner-shared": (_CORNERS,),
    "corner-idle": (_CORNERS,),
    "corner-unmade": (_CORNERS,),
    "left-mirror": (Remedy("made regular", "shape.regular"),),
    "specks": (_SMALLEST,),
    "specks-removed": (_SMALLEST,),
    "few-tabs": (Remedy("tabs", "part.tab_count"), _NECK),
    "no-room-for-tabs": (_NECK, _HEIGHT),
    "neck-may-break": (Remedy("tabs", "part.tabs"), Remedy("depth", "cutting.depth"), _HEIGHT),
    "tab-on-bend": (_NECK,),
    "tab-too-high": (Remedy("tab height", "part.tab_height"),),
    "tab-without-footing": (_NECK,),
    "spindle-out-of-range": (_SPEED, Remedy("fastest", "machine.spindle_fastest")),
    "nothing-to-hold-on-to": (_BIT, Remedy("pieces", "shape.pieces")),
    "tabs-run-together": (_NECK,),
    "speed-by-hand": (_SPEED, _FEED),
    "tab-out-of-reach": (_NECK,),
    "allowance-too-wide": (Remedy("allowance", "cutting.allowance"),),
    "skin-needs-board-zero": (Remedy("Z zero", "stock.z_zero"), _HOLD),
    "skin-too-thin": (Remedy("skin", "part.skin"), _HOLD),
    "skin-too-thick": (Remedy("skin", "part.skin"),),
    "skin-thick": (Remedy("skin", "part.skin"),),
    "skim-too-deep": (Remedy("skim", "cutting.skim"), Remedy("board", "stock.board")),
    "skim-shallow": (Remedy("skim", "cutting.skim"), Remedy("board's error", "stock.board_error")),
    "stock-too-small": _STOCK,
    "entry-moved": (_ENTRIES, Remedy("tabs", "part.tabs")),
    "entry-on-bend": (_ENTRIES,),
    "entry-without-lead": (_ENTRIES, _BIT),
    "entries-at-one-edge": (_ENTRIES,),
    "no-fourth-mark": _STOCK,
    "no-mark-pattern": (*_STOCK, _MARKS),
    "mark-opens": (_MARKS,),
    "mark-wall-thin": (_MARKS,),
    "mark-in-hinge": (_MARKS, Remedy("hinge", "fit.hinge")),
    "mark-near-clamp": (_MARKS, Remedy("clamps", "stock.clamps")),
    "marks-too-close": (_MARKS,),
    "marks-fit-wrong": (_MARKS,),
    "marks-read-badly": (_MARKS,),
    "marks-unused": (_MARKS,),
    "parts-too-close": (_BIT,),
    "beyond-travel": (*_TRAVEL, _HEIGHT),
    "travel-too-short": (*_TRAVEL, _HEIGHT),
    "mark-too-small": (_BIT, Remedy("hole", "fit.hole")),
    "hinge-too-narrow": (Remedy("hinge", "fit.hinge"),),
    "colour-not-found": (Remedy("colours", "shape.colours"),),
    "patch-changed": (Remedy("patches", "shape.patches"),),
    "patch-not-found": (Remedy("patches", "shape.patches"),),
    "enclosed-bare": (Remedy("patches", "shape.patches"),),
    "second-strange": (_PAIRS, Remedy("match", "film.match")),
    "second-doubtful": (_PAIRS,),
    "second-pairs-apart": (_PAIRS,),
    "second-either-way": (_PAIRS,),
    "second-mirrored": (Remedy("side", "film.side"),),
    "second-loose": (_INSET,),
    "second-grown": (_INSET,),
    "second-cut-off": (Remedy("patches", "film.patches"),),
    "second-colour-not-found": (Remedy("colours", "film.colours"),),
    "second-patch-changed": (Remedy("patches", "film.patches"),),
    "second-patch-not-found": (Remedy("patches", "film.patches"),),
    "second-enclosed-bare": (Remedy("patches", "film.patches"),),
    "waste-not-held": (_BIT, _HEIGHT),
    "gauge-old": (Remedy("router", "machine.gauged"), Remedy("cutter", "knife.gauged")),
    "correction-large": (Remedy("router", "machine.scale_x"), Remedy("cutter", "knife.scale_x")),
}
