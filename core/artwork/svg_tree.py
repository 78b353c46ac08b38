"""SVG bytes as a tree of elements, within bounds of size and depth; no entity and no other file is read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

from core.errors import UnreadableFile

#: Bytes of a drawing; its tree takes about ten times that.
MOST_BYTES = 24_000_000

#: Elements of a drawing, those that are used again counted each time (svg.py).
MOST_ELEMENTS = 50_000

#: Elements within one another; deeper ones are made to break readers.
DEEPEST = 200

NAMESPACE = "http://www.w3.org/2000/svg"
LINK = "http://www.w3.org/1999/xlink href"


@dataclass
class Element:
    """tag without namespace, "" for one of another language; text of a style sheet."""

    tag: str
    attributes: Mapping[str, str]
    children: "list[Element]" = field(default_factory=list)
    text: str = ""

    def get(self, name: str, default: str = "") -> str:
        """An attribute, blanks round it taken off."""
        return self.attributes.get(name, default).strip()

    def link(self) -> str:
        """Where it points to, by either way of writing it."""
        return self.get("href") or self.get(LINK)


def read_tree(data: bytes) -> Element:
    """The outermost element. UnreadableFile, one sentence, for what is no SVG, broken, or too large."""
    if len(data) > MOST_BYTES:
        size, most = len(data) / 1e6, MOST_BYTES / 1e6
        raise UnreadableFile(f"The SVG drawing is too large with {size:.0f} MB: at most {most:.0f} are read.")
    growing = _Growing()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = growing.start
    parser.EndElementHandler = growing.end
    parser.CharacterDataHandler = growing.write
    parser.EntityDeclHandler = _refuse_entity
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as error:  # the two others: an unknown encoding
        raise UnreadableFile(f"This is no readable SVG drawing: {error}.") from error
    return growing.whole()


def _refuse_entity(*_words: object) -> None:
    raise UnreadableFile("The SVG drawing declares entities of its own; save it as plain SVG without them.")


@dataclass
class _Growing:
    """What has been read so far, fed by the parser."""

    root: Element | None = None
    open_ones: list[Element] = field(default_factory=list)
    count: int = 0

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self.count += 1
        if self.count > MOST_ELEMENTS or len(self.open_ones) >= DEEPEST:
            raise UnreadableFile("The SVG drawing has too many elements, or too many within one another.")
        namespace, _, tag = name.rpartition(" ")
        element = Element(tag if namespace in ("", NAMESPACE) else "", attributes)
        if self.open_ones:
            self.open_ones[-1].children.append(element)
        else:
            self.root = element
        self.open_ones.append(element)

    def end(self, _name: str) -> None:
        self.open_ones.pop()

    def write(self, text: str) -> None:
        here = self.open_ones[-1]
        if here.tag == "style":
            here.text += text
        elif here.tag in ("text", "tspan", "textPath"):
            here.text += text.strip()

    def whole(self) -> Element:
        if self.root is None or self.root.tag != "svg":
            raise UnreadableFile("This is no SVG drawing: its outermost element is another one.")
        return self.root
