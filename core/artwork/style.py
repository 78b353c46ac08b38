"""How an element is painted: presentation attributes, style sheets of simple selectors, style attributes.

Cascade and inheritance by SVG 2, chapter Styling, and CSS Cascading 4, as far as painting with flat
colours goes: a selector is a tag, classes and an id at once; what asks for more is reported, not guessed.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from core.artwork.svg_tree import Element

#: Properties that say how a shape is painted, and whether each is handed down (SVG 2, property index).
HANDED_DOWN = {
    "fill": True, "fill-rule": True, "fill-opacity": True, "color": True, "visibility": True,
    "stroke": True, "stroke-width": True, "stroke-linecap": True, "stroke-linejoin": True,
    "stroke-miterlimit": True, "stroke-dasharray": True, "stroke-opacity": True, "marker": True,
    "marker-start": True, "marker-mid": True, "marker-end": True, "paint-order": True,
    "display": False, "opacity": False, "clip-path": False, "mask": False, "filter": False,
    "vector-effect": False, "transform": False,
}  # fmt: skip

_COMMENT = re.compile(r"/\*.*?\*/|<!--|-->", re.DOTALL)
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_SELECTOR = re.compile(r"([A-Za-z][\w-]*|\*)?((?:[.#][\w-]+)*)")
_MARK = re.compile(r"([.#])([\w-]+)")

Style = Mapping[str, str]

INITIAL: Style = {"fill": "black", "stroke": "none", "stroke-width": "1", "color": "black"}


@dataclass(frozen=True)
class Rule:
    """Declarations for elements of this tag ("" any), these classes and this id ("" any)."""

    tag: str
    classes: frozenset[str]
    name: str
    declarations: Style

    def weight(self) -> tuple[int, int, int]:
        """Its specificity: ids, classes, tags."""
        return bool(self.name), len(self.classes), bool(self.tag)

    def fits(self, element: Element) -> bool:
        """Whether the element is one of those meant."""
        return (
            self.tag in ("", element.tag)
            and self.name in ("", element.get("id"))
            and self.classes <= set(element.get("class").split())
        )


@dataclass(frozen=True)
class Sheet:
    """Rules, weaker ones first, and the selectors that could not be followed."""

    rules: tuple[Rule, ...]
    not_followed: tuple[str, ...]


def read_sheet(text: str) -> Sheet:
    """A style sheet; what stands in @-rules (other media, fonts) is left out."""
    rules, others = [], []
    for selectors, body in _RULE.findall(_without_at_rules(_COMMENT.sub(" ", text))):
        declarations = read_declarations(body)
        for selector in selectors.split(","):
            match = _SELECTOR.fullmatch(selector.strip())
            if match is None or not selector.strip():
                others.append(selector.strip())
                continue
            marks = _MARK.findall(match.group(2))
            classes = frozenset(word for kind, word in marks if kind == ".")
            name = next((word for kind, word in marks if kind == "#"), "")
            tag = (match.group(1) or "").replace("*", "")
            rules.append(Rule(tag, classes, name, declarations))
    return Sheet(tuple(sorted(rules, key=Rule.weight)), tuple(others))


def _without_at_rules(text: str) -> str:
    kept, depth, is_at = [], 0, False
    for letter in text:
        is_at = is_at or (letter == "@" and depth == 0)
        depth += (letter == "{") - (letter == "}")
        if not is_at:
            kept.append(letter)
        is_at = is_at and not (depth <= 0 and letter in ";}")
    return "".join(kept)


def read_declarations(text: str) -> Style:
    """property: value; ... as a mapping."""
    found = {}
    for declaration in text.split(";"):
        name, _, value = declaration.partition(":")
        if value:
            found[name.strip().lower()] = value.replace("!important", "").strip()
    return found


def style_of(element: Element, parent: Style, rules: tuple[Rule, ...]) -> Style:
    """The style of an element whose parent has that one."""
    style = {name: value for name, value in parent.items() if HANDED_DOWN.get(name)}
    for name, value in _said(element, rules):
        if name == "marker":
            style |= {f"marker-{end}": value for end in ("start", "mid", "end")}
        elif value == "inherit":
            style |= {name: parent[name]} if name in parent else {}
        elif name in HANDED_DOWN:
            style[name] = value
    return style


def _said(element: Element, rules: tuple[Rule, ...]) -> Iterator[tuple[str, str]]:
    """What is said of the element itself, the strongest last."""
    yield from ((name, value.strip()) for name, value in element.attributes.items() if name != "transform")
    for rule in rules:
        if rule.fits(element):
            yield from rule.declarations.items()
    yield from read_declarations(element.get("style")).items()
