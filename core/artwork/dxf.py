"""From the bytes of a DXF to its ink: the lines of the model space, joined to contours, in the file's unit.

Tags are read as the strict reader of our own drawings reads them (core/drawing/read/dxf_tags.py); what they
mean here is more: blocks, layers and their colours, ovals and splines, the old form of polylines. A drawing
is taken as flat: heights are dropped, what is mirrored through its plane is mirrored back.
"""

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from core.artwork.affine import Affine
from core.artwork.contours import JOIN_MM, DrawnLine, contours_of
from core.artwork.dxf_colours import colour_of_index, true_colour
from core.artwork.dxf_shapes import SHAPES, flat_place, is_flat
from core.artwork.ink import Drawn
from core.drawing.read.dxf import UNITS
from core.drawing.read.dxf_tags import Entity, Tags, entities, header_value, joined, read_tags, section
from core.errors import UnreadableFile
from core.findings import Finding, Level
from core.patches.colour_names import Rgb

#: Bytes of a drawing; its tags take about twenty times that.
MOST_BYTES = 16_000_000

#: Entities, those of blocks counted each time they are inserted.
MOST_ENTITIES = 100_000

#: Blocks within one another.
DEEPEST = 32

#: What says nothing about the shape and is left out without a word: points, light, views.
SILENT = frozenset({"POINT", "VIEWPORT", "ATTDEF", "ATTRIB", "SEQEND", "VERTEX", "LIGHT", "XLINE", "RAY"})

#: A layer that drawing programs keep for themselves.
OWN_LAYER = "DEFPOINTS"

BY_BLOCK, BY_LAYER = 0, 256


def read_dxf(data: bytes) -> Drawn:
    """The ink of a DXF. UnreadableFile, one sentence, for what is none or has no closed contour."""
    if len(data) > MOST_BYTES:
        size, most = len(data) / 1e6, MOST_BYTES / 1e6
        raise UnreadableFile(f"The DXF drawing is too large with {size:.0f} MB: at most {most:.0f} are read.")
    tags = read_tags(data)
    unit_mm, findings = _unit(header_value(tags, "$INSUNITS"))
    walk = _Walk(_layers(section(tags, "TABLES")), _blocks(section(tags, "BLOCKS")))
    walk.visit(entities(section(tags, "ENTITIES")), Inserted())
    contours = contours_of(walk.lines, JOIN_MM / unit_mm)
    if not contours.inks:
        raise UnreadableFile("The DXF drawing has no closed contour, so there is no shape in it.")
    said = (*findings, *contours.findings, *walk.findings())
    return Drawn(contours.inks, "DXF", unit_mm, None, points_up=True, has_holes=True, findings=said)


def _unit(text: str | None) -> tuple[float, tuple[Finding, ...]]:
    """Mm of the file's unit; one that states none is taken in mm, with a caution."""
    code = int(text) if text is not None and text.isdigit() else 0
    if code in UNITS:
        return UNITS[code][1], ()
    if code:
        raise UnreadableFile(f"The DXF drawing is in unit {code} of $INSUNITS, in which no shape is drawn.")
    return 1.0, (UNIT_ASSUMED,)


UNIT_ASSUMED = Finding(
    Level.CAUTION,
    "unit-assumed",
    "The drawing does not say in which unit it is; it is taken in mm.",
    "Measure it here; give the height, if it is to have another size.",
)


@dataclass(frozen=True)
class Layer:
    """A layer's colour, and whether it is shown."""

    colour: Rgb
    is_shown: bool


def _layers(tables: Tags) -> dict[str, Layer]:
    found = {}
    for entry in entities(tables):
        if entry.kind == "LAYER":
            index = entry.whole(62, 7)
            colour = true_colour(entry) or colour_of_index(abs(index))
            found[entry.text(2).upper()] = Layer(colour, index >= 0 and not entry.whole(70) & 1)
    return found


@dataclass(frozen=True)
class Block:
    """What stands in a block, and the point that is put where it is inserted."""

    base: complex
    content: tuple[Entity, ...]


def _blocks(body: Tags) -> dict[str, Block]:
    found: dict[str, Block] = {}
    name, base = "", 0j
    content: list[Entity] = []
    for entity in entities(body):
        if entity.kind == "BLOCK":
            name, base, content = (
                entity.text(2).upper(),
                complex(entity.number(10, 0.0), entity.number(20, 0.0)),
                [],
            )
        elif entity.kind == "ENDBLK":
            found[name] = Block(base, tuple(content))
        else:
            content.append(entity)
    return found


@dataclass(frozen=True)
class Inserted:
    """What holds inside a block: the way to the model space, its layer and colour, how deep it is."""

    to_model: Affine = field(default_factory=Affine)
    layer: str = "0"
    colour: Rgb | None = None
    depth: int = 0


@dataclass
class _Walk:
    """A walk through the entities of a drawing."""

    layers: dict[str, Layer]
    blocks: dict[str, Block]
    lines: list[DrawnLine] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    count: int = 0

    def visit(self, content: Iterable[Entity], inside: Inserted) -> None:
        """Take up every entity, blocks with what is in them."""
        waiting: list[Entity] = []
        for entity in content:
            self.count += 1
            if self.count > MOST_ENTITIES:
                raise UnreadableFile("The DXF drawing has too many entities, or inserts blocks too often.")
            if waiting and entity.kind == "VERTEX":
                waiting.append(entity)
                continue
            if waiting:
                self._take(_gathered(waiting), inside)
                waiting = []
            if entity.kind == "POLYLINE":
                waiting = [entity]
            elif entity.kind not in SILENT:
                self._take(entity, inside)
        if waiting:
            self._take(_gathered(waiting), inside)

    def _take(self, entity: Entity, inside: Inserted) -> None:
        layer = entity.text(8, "0")
        layer = inside.layer if layer == "0" else layer
        known = self.layers.get(layer.upper(), Layer(colour_of_index(7), is_shown=True))
        if entity.whole(67) or entity.whole(60) or not known.is_shown or layer.upper() == OWN_LAYER:
            return
        if not is_flat(entity):
            self.left_out[f"tilted {entity.kind}"] += 1
        elif entity.kind == "INSERT":
            self._insert(entity, replace(inside, layer=layer, colour=self._colour(entity, known, inside)))
        elif entity.kind not in SHAPES or (path := SHAPES[entity.kind](entity)) is None:
            self.left_out[entity.kind] += 1
        elif path.edges:
            place = inside.to_model.after(flat_place(entity))
            self.lines.append(DrawnLine(path.mapped(place), self._colour(entity, known, inside), layer))

    def _colour(self, entity: Entity, layer: Layer, inside: Inserted) -> Rgb:
        index = entity.whole(62, BY_LAYER)
        if index == BY_BLOCK and inside.colour is not None:
            return inside.colour
        own = true_colour(entity)
        return own or (layer.colour if index in (BY_LAYER, BY_BLOCK) else colour_of_index(abs(index)))

    def _insert(self, entity: Entity, inside: Inserted) -> None:
        block = self.blocks.get(entity.text(2).upper())
        if block is None:
            self.left_out["INSERT of a missing block"] += 1
            return
        if inside.depth >= DEEPEST:
            raise UnreadableFile("The DXF drawing inserts blocks within one another without an end.")
        scale = Affine.scale(entity.number(41, 1.0), entity.number(42, 1.0))
        turn = Affine.turn(math.radians(entity.number(50, 0.0)))
        for cell in _cells(entity):
            at = Affine(c=complex(entity.number(10), entity.number(20)) + turn.of(cell))
            own = at.after(turn.after(scale.after(Affine(c=-block.base))))
            place = inside.to_model.after(flat_place(entity).after(own))
            self.visit(block.content, replace(inside, to_model=place, depth=inside.depth + 1))

    def findings(self) -> tuple[Finding, ...]:
        """What was left out, by kind."""
        if not self.left_out:
            return ()
        kinds = ", ".join(f"{number} {kind}" for kind, number in sorted(self.left_out.items()))
        remedy = "Make them lines and arcs (text into outlines), if they are part of the shape."
        return (Finding(Level.CAUTION, "left-out", f"Left out of the drawing: {kinds}.", remedy),)


def _cells(entity: Entity) -> list[complex]:
    """Where the copies of an array stand."""
    columns, rows = max(entity.whole(70, 1), 1), max(entity.whole(71, 1), 1)
    if columns * rows > MOST_ENTITIES:
        raise UnreadableFile("The DXF drawing has too many entities, or inserts blocks too often.")
    wide, tall = entity.number(44, 0.0), entity.number(45, 0.0)
    return [complex(column * wide, row * tall) for row in range(rows) for column in range(columns)]


#: Bits of code 70 of a VERTEX that only steers a spline, or belongs to a mesh.
NO_CORNER = 16 | 64 | 128


def _gathered(parts: list[Entity]) -> Entity:
    """An old polyline: the head's tags but its dummy point, then 10, 20 and 42 of each vertex."""
    own = (10, 20, 42)
    plain = [part.tags for part in parts[1:] if not part.whole(70) & NO_CORNER]
    return Entity("POLYLINE", joined((parts[0].tags.but(own), joined(plain).only(own))))
