"""From the bytes of an SVG to its ink: where every shape lies on the page, px, y down, and its colour.

What flat colours and lines cannot say (text, pictures, gradients, clips, masks, filters) is refused in one
sentence with what to do, never left out in silence. What can be left out harmlessly is a finding.
"""

import re
from dataclasses import dataclass, field, replace

from core.artwork.affine import Affine
from core.artwork.colour import read_colour
from core.artwork.hairlines import is_of_edges, of_edges
from core.artwork.ink import Box, Drawn, Ink
from core.artwork.stroke import Pen
from core.artwork.style import INITIAL, Sheet, Style, read_sheet, style_of
from core.artwork.svg_shapes import SHAPES, Viewport, sub_paths
from core.artwork.svg_tree import DEEPEST, MOST_ELEMENTS, Element, read_tree
from core.drawing.read.svg_units import MM, read_length, read_transform
from core.errors import UnreadableFile
from core.findings import Finding, Level
from core.patches.colour_names import Rgb

#: Units whose length is that of a ruler; px and plain numbers are mostly written without one in mind.
RULER = frozenset({"mm", "cm", "Q", "in", "pt", "pc"})

#: Elements of which nothing is drawn where they stand (SVG 2, chapters Document Structure and Painting).
SILENT = frozenset(
    {"title", "desc", "metadata", "defs", "symbol", "style", "script", "linearGradient", "radialGradient"}
    | {"pattern", "clipPath", "mask", "filter", "marker", "animate", "animateMotion", "animateTransform"}
    | {"set", "view", "cursor", "font", "font-face", "color-profile"}
)

GROUPS = frozenset({"g", "a", "svg", "use", "switch", "symbol"})

REFUSED = {
    "text": "text: make the text into outlines (paths) and save it again",
    "image": "an embedded picture: open that picture itself, or draw round it",
    "foreignObject": "content of another language: leave it out, or make it paths",
}


def read_svg(data: bytes) -> Drawn:
    """The ink of an SVG. UnreadableFile, one sentence, for what is none or holds what cannot be cut."""
    root = read_tree(data)
    page = page_of(root)
    walk = _Walk(by_id(root), read_sheet(" ".join(style_texts(root))))
    inside = Place(page.place, page.viewport, style_of(root, INITIAL, walk.sheet.rules))
    for child in root.children:
        walk.visit(child, inside, 1)
    if not walk.inks:
        raise UnreadableFile("The SVG drawing paints nothing that can be cut.")
    drawn = Drawn(tuple(walk.inks), "SVG", page.unit_mm, page.box, points_up=False, findings=walk.findings())
    return of_edges(drawn) if is_of_edges(drawn) else drawn


def by_id(root: Element) -> dict[str, Element]:
    """Every element that has an id, the first of each."""
    found: dict[str, Element] = {}
    waiting = [root]
    while waiting:
        element = waiting.pop()
        if element.get("id"):
            found.setdefault(element.get("id"), element)
        waiting.extend(element.children[::-1])
    return found


def style_texts(root: Element) -> list[str]:
    """The style sheets, in their order."""
    own = [root.text] if root.tag == "style" else []
    return own + [text for child in root.children for text in style_texts(child)]


@dataclass(frozen=True)
class Page:
    """Where the user's unit lies on the page, px; the page's box; mm of a px where a size is stated."""

    place: Affine
    viewport: Viewport
    box: Box | None
    unit_mm: float | None


def page_of(root: Element) -> Page:
    """The page that the outermost element makes."""
    sizes = [read_length(root.get(name) or None) for name in ("width", "height")]
    view = view_box(root)
    is_stated = any(size is not None and size.unit in RULER for size in sizes)
    wide, tall = (size.mm / MM["px"] if size else None for size in sizes)
    if view is None:
        box = (0.0, 0.0, wide, tall) if wide and tall else None
        viewport = Viewport(wide or 100.0, tall or 100.0)
        return Page(Affine(), viewport, box, MM["px"] if is_stated else None)
    ratio = view[3] / view[2]
    wide, tall = wide or (tall / ratio if tall else view[2]), tall or (wide * ratio if wide else view[3])
    place = fitted_view(view, (0.0, 0.0, wide, tall), root.get("preserveAspectRatio"))
    return Page(place, Viewport(view[2], view[3]), (0.0, 0.0, wide, tall), MM["px"] if is_stated else None)


def view_box(element: Element) -> Box | None:
    """x, y, width, height of a viewBox; None without one. UnreadableFile for one that is no rectangle."""
    text = element.get("viewBox")
    if not text:
        return None
    try:
        x, y, wide, tall = (float(word) for word in re.split(r"[\s,]+", text))
    except ValueError:
        raise UnreadableFile(f"The drawing's viewBox {text[:60]!r} is no rectangle.") from None
    if not (0.0 < wide < float("inf") and 0.0 < tall < float("inf") and abs(x) + abs(y) < float("inf")):
        raise UnreadableFile(f"The drawing's viewBox {text[:60]!r} is no rectangle.")
    return x, y, wide, tall


def fitted_view(view: Box, room: Box, aspect: str) -> Affine:
    """Where a viewBox (x, y, width, height) lies in a room of the same form (SVG 2, equivalent transform)."""
    words = aspect.split() or ["xMidYMid"]
    x, y = room[2] / view[2], room[3] / view[3]
    if words[0] == "none":
        return Affine(c=complex(room[0], room[1])).after(
            Affine.scale(x, y).after(Affine(c=-complex(view[0], view[1])))
        )
    one = max(x, y) if "slice" in words else min(x, y)
    share = {"xMin": 0.0, "xMid": 0.5, "xMax": 1.0}, {"YMin": 0.0, "YMid": 0.5, "YMax": 1.0}
    spare = room[2] - view[2] * one, room[3] - view[3] * one
    shift = complex(
        room[0] + share[0].get(words[0][:4], 0.5) * spare[0],
        room[1] + share[1].get(words[0][4:], 0.5) * spare[1],
    )
    return Affine(c=shift).after(Affine(a=one).after(Affine(c=-complex(view[0], view[1]))))


@dataclass(frozen=True)
class Place:
    """What holds where an element stands: the way to the page, what percentages are of, the style."""

    to_page: Affine
    viewport: Viewport
    style: Style
    layer: str = ""


@dataclass
class _Walk:
    """A walk through the tree in painter's order."""

    named: dict[str, Element]
    sheet: Sheet
    inks: list[Ink] = field(default_factory=list)
    count: int = 0
    notes: set[str] = field(default_factory=set)

    def visit(self, element: Element, outside: Place, depth: int) -> None:
        """Paint an element and what is in it."""
        self.count += 1
        if self.count > MOST_ELEMENTS or depth > DEEPEST:
            raise UnreadableFile("The SVG drawing uses its own parts again too often, or without an end.")
        if (element.tag in SILENT and element.tag != "symbol") or not element.tag:
            return
        here = self._place(element, outside)
        if here.style.get("display") == "none":
            return
        self._refuse(element, here.style)
        if element.tag in GROUPS:
            self._open(element, here, depth)
        elif element.tag in SHAPES and here.style.get("visibility", "visible") == "visible":
            self._paint(element, here)

    def _place(self, element: Element, outside: Place) -> Place:
        style = style_of(element, outside.style, self.sheet.rules)
        layer = outside.layer or (element.get("id") if element.tag == "g" else "")
        outside = replace(outside, layer=layer)
        text = element.get("transform")
        if not text:
            return replace(outside, style=style)
        matrix = read_transform(text)
        own = Affine.matrix(*(complex(matrix[0, k], matrix[1, k]) for k in range(3)))
        return replace(outside, to_page=outside.to_page.after(own), style=style)

    def _refuse(self, element: Element, style: Style) -> None:
        what = REFUSED.get(element.tag)
        if what and (element.tag != "text" or _says_something(element)):
            raise UnreadableFile(f"The SVG drawing holds {what}.")
        for name, remedy in (("clip-path", "a clip"), ("mask", "a mask"), ("filter", "a filter")):
            if style.get(name, "none") != "none":
                raise UnreadableFile(
                    f"The SVG drawing holds {remedy}, which no blade follows: apply it, or leave it out."
                )
        if float_of(style.get("opacity", "1")) < 1.0:
            self.notes.add("opacity")
        if any(style.get(f"marker-{end}", "none") != "none" for end in ("start", "mid", "end")):
            self.notes.add("markers")

    def _open(self, element: Element, here: Place, depth: int) -> None:
        """Go into a group; a use brings in another element, svg and symbol make a view of their own."""
        if float_of(here.style.get("opacity", "1")) == 0.0:
            return
        children = element.children
        if element.tag == "use":
            self._use(element, here, depth)
            return
        if element.tag == "switch":
            children = [child for child in children if child.tag != "foreignObject"][:1]
        inside = self._view(element, here, element) if element.tag in ("svg", "symbol") else here
        for child in children:
            self.visit(child, inside, depth + 1)

    def _view(self, element: Element, here: Place, sized_by: Element) -> Place:
        """The place inside an element with a view of its own."""
        viewport = here.viewport
        x, y = viewport.length(element.get("x"), "width"), viewport.length(element.get("y"), "height")
        wide = viewport.length(sized_by.get("width") or element.get("width") or "100%", "width")
        tall = viewport.length(sized_by.get("height") or element.get("height") or "100%", "height")
        view = view_box(element)
        if view is None:
            shifted = here.to_page.after(Affine(c=complex(x, y)))
            return replace(here, to_page=shifted, viewport=Viewport(wide, tall))
        own = fitted_view(view, (x, y, wide, tall), element.get("preserveAspectRatio"))
        return replace(here, to_page=here.to_page.after(own), viewport=Viewport(view[2], view[3]))

    def _use(self, element: Element, here: Place, depth: int) -> None:
        link = element.link()
        if not link.startswith("#"):
            raise UnreadableFile("The SVG drawing uses parts of another file; embed them and save it again.")
        used = self.named.get(link[1:])
        if used is None:
            self.notes.add("missing")
            return
        viewport = here.viewport
        shift = complex(
            viewport.length(element.get("x"), "width"), viewport.length(element.get("y"), "height")
        )
        inside = replace(here, to_page=here.to_page.after(Affine(c=shift)))
        if used.tag not in ("symbol", "svg"):
            self.visit(used, inside, depth + 1)
            return
        inside = replace(inside, style=style_of(used, inside.style, self.sheet.rules))
        self._refuse(used, inside.style)
        inside = self._view(used, inside, element)
        for child in used.children:
            self.visit(child, inside, depth + 1)

    def _paint(self, element: Element, here: Place) -> None:
        style = here.style
        paths = tuple(path for path in sub_paths(element, here.viewport) if path.edges)
        if not paths or float_of(style.get("opacity", "1")) == 0.0:
            return
        if not here.to_page.is_finite():
            raise UnreadableFile("The drawing has a shape that lies nowhere.")
        fill, stroke = self._colour(style, "fill"), self._colour(style, "stroke")
        painted = []
        if fill is not None and element.tag != "line":
            even_odd = style.get("fill-rule", "nonzero") == "evenodd"
            painted.append(Ink(paths, fill, here.to_page, even_odd, layer=here.layer))
        if stroke is not None and (pen := self._pen(style, here)) is not None:
            painted.append(Ink(paths, stroke, here.to_page, pen=pen, layer=here.layer))
        is_turned = style.get("paint-order", "normal").split()[0:1] == ["stroke"]
        self.inks.extend(painted[::-1] if is_turned else painted)

    def _colour(self, style: Style, name: str) -> Rgb | None:
        text = style.get(name, INITIAL[name])
        if text.lower() == "currentcolor":
            text = style.get("color", "black")
        if "url(" in text:
            raise UnreadableFile("The SVG drawing holds a gradient or pattern: give it one flat colour.")
        if text.startswith("context-"):
            return None
        found = read_colour(text)
        if found is None:
            return None
        opacity = found[1] * float_of(style.get(f"{name}-opacity", "1"))
        if opacity == 0.0:
            return None
        if opacity < 1.0:
            self.notes.add("opacity")
        return found[0]

    def _pen(self, style: Style, here: Place) -> Pen | None:
        width = here.viewport.length(style.get("stroke-width", "1"))
        if not width > 0.0:
            return None
        if style.get("stroke-dasharray", "none") not in ("none", "0"):
            self.notes.add("dashes")
        if style.get("vector-effect") == "non-scaling-stroke":
            width /= max(here.to_page.size(), 1e-12)
        return Pen(
            width / 2.0,
            style.get("stroke-linecap", "butt"),
            style.get("stroke-linejoin", "miter"),
            max(float_of(style.get("stroke-miterlimit", "4")), 1.0),
        )

    def findings(self) -> tuple[Finding, ...]:
        """What was left out or taken otherwise, each said once."""
        said = [NOTES[note] for note in NOTES if note in self.notes]
        if self.sheet.not_followed:
            said.append(_selector(self.sheet.not_followed[0]))
        return tuple(said)


def _says_something(element: Element) -> bool:
    return bool(element.text) or any(_says_something(child) for child in element.children)


def float_of(text: str) -> float:
    """A number or a percentage; 1 for anything else, which is the initial value of every opacity."""
    try:
        return float(text[:-1]) / 100.0 if text.endswith("%") else float(text)
    except ValueError:
        return 1.0


NOTES = {
    "opacity": Finding(
        Level.NOTE,
        "opaque",
        "Something in the drawing is partly transparent; vinyl is not, so it is taken as opaque.",
        "Give it the colour that it is to have.",
    ),
    "dashes": Finding(
        Level.CAUTION,
        "dashes",
        "A dashed line of the drawing is taken as a whole one.",
        "Make the dashes into outlines, if they are to be cut as dashes.",
    ),
    "markers": Finding(
        Level.CAUTION,
        "markers",
        "Arrow heads or other markers on lines of the drawing are left out.",
        "Make them into outlines, if they are to be cut.",
    ),
    "missing": Finding(
        Level.CAUTION,
        "part-missing",
        "The drawing uses a part that is not in the file; it is left out.",
        "Save the drawing again with everything in it.",
    ),
}


def _selector(selector: str) -> Finding:
    return Finding(
        Level.CAUTION,
        "style-not-followed",
        f'The style rule "{selector[:40]}" asks for more than a tag, classes and an id; it is left out.',
        "Look whether the colours are right; else save the drawing with its styles on the shapes.",
    )
