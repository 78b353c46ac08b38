"""What every file of the year-2000 form (AC1015) holds round its shapes: tables, blocks, layouts.

Programs refuse a file that lacks one of these, empty as they mostly are (DXF Reference 2000: TABLES, BLOCKS
and OBJECTS sections). The model space is a block; the one sheet of paper, which we leave empty, another.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.drawing.write.dxf_tags import Handles, Tag, point, section

Bounds = tuple[float, float, float, float]
Records = Sequence[tuple[Tag, ...]]

MODEL, PAPER = "*Model_Space", "*Paper_Space"
#: Classes of objects here that the oldest of this form did not know (name, C++ class).
_CLASSES = (
    ("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"),
    ("ACDBPLACEHOLDER", "AcDbPlaceHolder"),
    ("LAYOUT", "AcDbLayout"),
)
#: A4 on its side, mm: the sheet of a layout that nobody prints.
_SHEET = (297.0, 210.0)


@dataclass(frozen=True)
class Owners:
    """The handles that others refer to."""

    tables: str
    model: str
    paper: str
    model_layout: str
    paper_layout: str
    plot_style: str


def owners(handles: Handles) -> Owners:
    """New handles for them."""
    return Owners("0", *(handles.new() for _ in range(5)))


def classes() -> Iterator[Tag]:
    """The CLASSES section."""
    body = (
        ((0, "CLASS"), (1, name), (2, cpp), (3, "ObjectDBX Classes"), (90, 0), (280, 0), (281, 0))
        for name, cpp in _CLASSES
    )
    return section("CLASSES", (tag for one in body for tag in one))


def tables(handles: Handles, own: Owners, layers: Sequence[tuple[str, int]], box: Bounds) -> Iterator[Tag]:
    """The TABLES section: layers are names and colour numbers, box is what the view shows."""
    styled = ((370, -3), (390, own.plot_style))
    lines = ("ByBlock", "ByLayer", "Continuous")
    spaces = ((own.model, MODEL, own.model_layout), (own.paper, PAPER, own.paper_layout))
    body = (
        _table(handles, "VPORT", "AcDbViewportTableRecord", [_named("*Active", *_view(box))]),
        _table(
            handles,
            "LTYPE",
            "AcDbLinetypeTableRecord",
            [_named(name, (3, ""), (72, 65), (73, 0), (40, 0.0)) for name in lines],
        ),
        _table(
            handles,
            "LAYER",
            "AcDbLayerTableRecord",
            [_named(name, (62, colour), (6, "Continuous"), *styled) for name, colour in (("0", 7), *layers)],
        ),
        _table(handles, "STYLE", "AcDbTextStyleTableRecord", [_named("Standard", *_letters())]),
        _table(handles, "VIEW", "", []),
        _table(handles, "UCS", "", []),
        _table(handles, "APPID", "AcDbRegAppTableRecord", [_named("ACAD")]),
        _table(handles, "DIMSTYLE", "AcDbDimStyleTableRecord", [_named("Standard")]),
        _space_table(handles, spaces),
    )
    return section("TABLES", (tag for one in body for tag in one))


def _named(name: str, *more: Tag) -> tuple[Tag, ...]:
    return ((2, name), (70, 0), *more)


def _table(handles: Handles, name: str, kind: str, records: Records) -> Iterator[Tag]:
    table = handles.new()
    yield from _table_head(name, table, len(records))
    handle_code = 105 if name == "DIMSTYLE" else 5
    for record in records:
        yield from ((0, name), (handle_code, handles.new()), (330, table))
        yield from ((100, "AcDbSymbolTableRecord"), (100, kind), *record)
    yield (0, "ENDTAB")


def _table_head(name: str, table: str, size: int) -> Iterator[Tag]:
    yield from ((0, "TABLE"), (2, name), (5, table), (330, "0"), (100, "AcDbSymbolTable"), (70, size))
    if name == "DIMSTYLE":
        yield (100, "AcDbDimStyleTable")


def _space_table(handles: Handles, spaces: Sequence[tuple[str, str, str]]) -> Iterator[Tag]:
    table = handles.new()
    yield from _table_head("BLOCK_RECORD", table, len(spaces))
    for handle, name, layout in spaces:
        yield from ((0, "BLOCK_RECORD"), (5, handle), (330, table), (100, "AcDbSymbolTableRecord"))
        yield from ((100, "AcDbBlockTableRecord"), (2, name), (340, layout))
    yield (0, "ENDTAB")


def _view(box: Bounds) -> tuple[Tag, ...]:
    """The whole drawing, seen from above."""
    x_min, y_min, x_max, y_max = box
    wide, tall = max(x_max - x_min, 1.0), max(y_max - y_min, 1.0)
    return (
        *point(0.0, 0.0, 10, None),
        *point(1.0, 1.0, 11, None),
        *point((x_min + x_max) / 2.0, (y_min + y_max) / 2.0, 12, None),
        *point(0.0, 0.0, 13, None),
        *point(10.0, 10.0, 14, None),
        *point(10.0, 10.0, 15, None),
        *point(0.0, 0.0, 16, 1.0),
        *point(0.0, 0.0, 17, 0.0),
        (40, tall),
        (41, wide / tall),
        (42, 50.0),
        *_zeros(43, 44, 50, 51),
        *((71, 0), (72, 1000), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)),
    )


def _zeros(*codes: int) -> tuple[Tag, ...]:
    return tuple((code, 0.0) for code in codes)


def _letters() -> tuple[Tag, ...]:
    return ((40, 0.0), (41, 1.0), (50, 0.0), (71, 0), (42, 2.5), (3, "txt"), (4, ""))


def blocks(handles: Handles, own: Owners) -> Iterator[Tag]:
    """The BLOCKS section: model space and paper, both with nothing in them here."""
    body = (
        *_block(handles, own.model, MODEL, ()),
        *_block(handles, own.paper, PAPER, ((67, 1),)),
    )
    return section("BLOCKS", body)


def _block(handles: Handles, owner: str, name: str, on_paper: tuple[Tag, ...]) -> Iterator[Tag]:
    entity = ((330, owner), (100, "AcDbEntity"), *on_paper, (8, "0"))
    yield from ((0, "BLOCK"), (5, handles.new()), *entity, (100, "AcDbBlockBegin"), (2, name), (70, 0))
    yield from (*point(0.0, 0.0), (3, name), (1, ""))
    yield from ((0, "ENDBLK"), (5, handles.new()), *entity, (100, "AcDbBlockEnd"))


def objects(handles: Handles, own: Owners) -> Iterator[Tag]:
    """The OBJECTS section: the root dictionary first, then what it names."""
    root, groups, layouts, styles = (handles.new() for _ in range(4))
    named = (("ACAD_GROUP", groups), ("ACAD_LAYOUT", layouts), ("ACAD_PLOTSTYLENAME", styles))
    body = (
        *_dictionary(root, "0", named),
        *_dictionary(groups, root, ()),
        *_dictionary(layouts, root, (("Model", own.model_layout), ("Layout1", own.paper_layout))),
        *_plot_styles(styles, root, own.plot_style),
        *_layout(own.model_layout, layouts, ("Model", 0, own.model)),
        *_layout(own.paper_layout, layouts, ("Layout1", 1, own.paper)),
    )
    return section("OBJECTS", body)


def _dictionary(handle: str, owner: str, named: Sequence[tuple[str, str]]) -> Iterator[Tag]:
    yield from ((0, "DICTIONARY"), (5, handle), (330, owner), (100, "AcDbDictionary"), (281, 1))
    for name, held in named:
        yield from ((3, name), (350, held))


def _plot_styles(handle: str, owner: str, normal: str) -> Iterator[Tag]:
    yield from ((0, "ACDBDICTIONARYWDFLT"), (5, handle), (330, owner), (100, "AcDbDictionary"), (281, 1))
    yield from ((3, "Normal"), (350, normal), (100, "AcDbDictionaryWithDefault"), (340, normal))
    yield from ((0, "ACDBPLACEHOLDER"), (5, normal), (330, handle))


def _layout(handle: str, owner: str, of: tuple[str, int, str]) -> Iterator[Tag]:
    """of: its name, its place among the tabs, the block that it shows."""
    name, order, block = of
    wide, tall = _SHEET
    yield from (
        (0, "LAYOUT"),
        (5, handle),
        (330, owner),
        (100, "AcDbPlotSettings"),
        (1, ""),
        (2, "none_device"),
    )
    yield from ((4, ""), (6, ""), *_zeros(40, 41, 42, 43), (44, wide), (45, tall))
    yield from _zeros(46, 47, 48, 49, 140, 141)
    yield from ((142, 1.0), (143, 1.0), (70, 1024 if order == 0 else 0), (72, 1), (73, 0), (74, 5), (7, ""))
    yield from ((75, 16), (147, 1.0), (148, 0.0), (149, 0.0), (100, "AcDbLayout"), (1, name), (70, 1))
    yield from ((71, order), *point(0.0, 0.0, 10, None), *point(wide, tall, 11, None), *point(0.0, 0.0, 12))
    yield from (*point(0.0, 0.0, 14), *point(wide, tall, 15), (146, 0.0), *point(0.0, 0.0, 13))
    yield from (*point(1.0, 0.0, 16), *point(0.0, 1.0, 17), (76, 0), (330, block))
