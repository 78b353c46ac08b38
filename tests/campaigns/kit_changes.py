"""What a fault changes in a file: by byte, line and number in any, by what its format is made of in each."""

import json
import re
from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np

Rng = np.random.Generator

NUMBER = re.compile(rb"-?\d+\.?\d*")


def _number_changed(random: Rng, data: bytes) -> bytes:
    """One number made another: a digit, its sign, a little or much more."""
    found = random.choice(list(NUMBER.finditer(data)))
    text = found[0]
    ways = (_other_digit, _other_sign, _a_little_more, _twice)
    return data[: found.start()] + ways[random.integers(len(ways))](random, text) + data[found.end() :]


def _other_digit(random: Rng, text: bytes) -> bytes:
    at = int(random.choice([i for i, sign in enumerate(text) if chr(sign).isdigit()]))
    return text[:at] + b"%d" % ((text[at] - 48 + random.integers(1, 10)) % 10) + text[at + 1 :]


def _other_sign(_random: Rng, text: bytes) -> bytes:
    return text[1:] if text.startswith(b"-") else b"-" + text


def _a_little_more(random: Rng, text: bytes) -> bytes:
    return b"%.7g" % (float(text) + random.uniform(-0.1, 0.1))


def _twice(_random: Rng, text: bytes) -> bytes:
    return b"%.9g" % (2.0 * float(text))


def _cut_short(random: Rng, data: bytes) -> bytes:
    return data[: int(random.integers(0, max(len(data) - 2, 1)))]


def _byte_changed(random: Rng, data: bytes) -> bytes:
    at = int(random.integers(len(data)))
    return data[:at] + bytes([(data[at] + int(random.integers(1, 256))) % 256]) + data[at + 1 :]


def _lines_changed(random: Rng, data: bytes) -> bytes:
    """A line lost, doubled, or exchanged with the next."""
    lines = data.split(b"\n")
    at = int(random.integers(max(len(lines) - 1, 1)))
    way = random.integers(3)
    if way == 0:
        return b"\n".join(lines[:at] + lines[at + 1 :])
    if way == 1:
        return b"\n".join(lines[: at + 1] + lines[at:])
    return b"\n".join([*lines[:at], *lines[at : at + 2][::-1], *lines[at + 2 :]])


def _picked(random: Rng, pattern: bytes, data: bytes) -> re.Match[bytes]:
    return random.choice(np.array(list(re.finditer(pattern, data, re.DOTALL)), dtype=object))


def _svg_element(random: Rng, data: bytes) -> bytes:
    """A path or a group lost, doubled, or carried into another group."""
    found = _picked(random, random.choice([rb"<path[^>]*/>", rb"<g .*?</g>"]), data)
    rest = data[: found.start()] + data[found.end() :]
    way = random.integers(3)
    if way == 0:
        return rest
    if way == 1:
        return data[: found.end()] + found[0] + data[found.end() :]
    place = _picked(random, rb"<g [^>]*>", rest).end()
    return rest[:place] + found[0] + rest[place:]


def _svg_attribute(random: Rng, data: bytes) -> bytes:
    """A transform, a layer renamed, a unit, the page, whether things are shown."""
    group, path = _picked(random, rb"<g [^>]*", data), _picked(random, rb"<path [^>]*?(?=/>)", data)
    by = b"%.5f" % random.uniform(-0.3, 0.3)
    more = b"%.5f" % (1.0 + random.uniform(-0.01, 0.01))
    added = random.choice(
        [
            b' transform="translate(%s 0)"' % by,
            b' transform="translate(0,%s)"' % by,
            b' transform="scale(%s)"' % more,
            b' transform="rotate(%s)"' % by,
            b' transform="matrix(1 0 %s 1 0 0)"' % by,
            b' style="display:none"',
            b' display="none"',
            b' style="transform:translate(3px,0)"',
        ]
    )
    where = random.choice(np.array([group, path], dtype=object))
    renamed = re.sub(rb'id="([^"]*)"', random.choice([rb'id="more"', rb'id="\1-2"', b""]), group[0])
    unit = random.choice([b"cm", b"in", b"px", b"pt", b"", b"%"])
    return [
        data[: where.end()] + added + data[where.end() :],
        data[: group.start()] + renamed + data[group.end() :],
        data.replace(b'mm"', unit + b'"', int(random.integers(1, 3))),
        re.sub(rb'viewBox="[^"]*"', b'viewBox="0 0 %d 90"' % random.integers(10, 200), data),
        re.sub(rb' (width|viewBox|height)="[^"]*"', b"", data, count=1),
    ][random.integers(5)]


def dxf_tags(data: bytes) -> list[tuple[bytes, bytes]]:
    lines = re.split(rb"\r?\n", data)
    return list(zip(lines[::2], lines[1::2], strict=False))


def dxf_bytes(tags: list[tuple[bytes, bytes]]) -> bytes:
    return b"".join(b"%s\n%s\n" % tag for tag in tags)


def entities(tags: list[tuple[bytes, bytes]]) -> list[tuple[int, int]]:
    """From and to of every entity."""
    first = next(i for i, tag in enumerate(tags) if tag[1] == b"ENTITIES")
    heads = [i for i in range(first + 1, len(tags)) if tags[i][0].strip() == b"0"]
    last = next(i for i in heads if tags[i][1] == b"ENDSEC")
    heads = [i for i in heads if i <= last]
    return list(pairwise(heads))


def _dxf_entity(random: Rng, data: bytes) -> bytes:
    """An entity lost, doubled, put on another layer, turned over, made open or of another kind."""
    tags = dxf_tags(data)
    begin, end = random.choice(entities(tags))
    own = tags[begin:end]
    way = random.integers(6)
    if way == 0:
        own = []
    elif way == 1:
        own = [*own, *own]
    elif way == 2:
        other = random.choice([b"PART", b"MARKS", b"0", b"NOTES", b"FILM_TEAL", b"WEEDING", b"AS_CUT"])
        own = [(code, other if code.strip() == b"8" else value) for code, value in own]
    elif way == 3:
        own = [*own, (b"230", b"-1.0")]
    elif way == 4:
        own = [(code, b"0" if code.strip() == b"70" else value) for code, value in own]
    else:
        other = random.choice([b"SPLINE", b"POINT", b"LINE", b"CIRCLE", b"LWPOLYLINE", b"TEXT", b"VERTEX"])
        own = [(own[0][0], other), *own[1:]]
    return dxf_bytes([*tags[:begin], *own, *tags[end:]])


def _dxf_tag(random: Rng, data: bytes) -> bytes:
    """A tag lost or doubled, or its number changed, among the entities."""
    tags = dxf_tags(data)
    spans = entities(tags)
    at = int(random.integers(spans[0][0], spans[-1][1]))
    way = random.integers(3)
    if way == 0:
        return dxf_bytes(tags[:at] + tags[at + 1 :])
    if way == 1:
        return dxf_bytes(tags[: at + 1] + tags[at:])
    code, value = tags[at]
    return dxf_bytes(
        [
            *tags[:at],
            (code, _number_changed(random, value) if NUMBER.search(value) else b"X"),
            *tags[at + 1 :],
        ]
    )


def _dxf_unit(random: Rng, data: bytes) -> bytes:
    unit = b"$INSUNITS\n 70\n%d" % random.choice([0, 1, 2, 5, 6, 7, 14])
    if b"$INSUNITS" in data:
        return re.sub(rb"\$INSUNITS\s+70\s+\d+", unit, data)
    return re.sub(rb"(HEADER\r?\n)", rb"\1  9\n" + unit + b"\n", data, count=1)


def _leaves(value: object, path: tuple = ()) -> Iterator[tuple]:
    """The way to every value in JSON that holds no others."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    inner = [(*path, key) for key, _ in items]
    if path and path[0] == "seconds":
        return
    if path:
        yield path
    for way, (_, held) in (
        zip(inner, value.items() if isinstance(value, dict) else enumerate(value), strict=True)
        if inner
        else ()
    ):
        yield from _leaves(held, way)


def _json_value(random: Rng, data: bytes) -> bytes:
    """Any value of the report made another, lost, doubled or called by another name."""
    report = json.loads(data)
    ways = list(_leaves(report))
    path = ways[random.integers(len(ways))]
    holder = report
    for key in path[:-1]:
        holder = holder[key]
    key, value = path[-1], holder[path[-1]]
    way = random.integers(4)
    if way == 0:
        holder.pop(key)
    elif way == 1:
        holder[key] = _other_value(random, value)
    elif way == 2 and isinstance(holder, list):
        holder.insert(key, value)
    elif way == 2:
        holder[f"{key}_"] = holder.pop(key)
    else:
        holder[key] = random.choice([None, 0, 1, "", "118"])
    return json.dumps(report, indent=1).encode()


def _other_value(random: Rng, value: object) -> object:
    if isinstance(value, bool):
        return not value
    if isinstance(value, (int, float)):
        return [value + random.uniform(-0.5, 0.5), -value, value * 25.4, value + 1][random.integers(4)]
    if isinstance(value, str):
        return value[::-1] or "x"
    return None


def _job_value(random: Rng, data: bytes) -> bytes:
    """A choice of the Job made another, or one more said."""
    more = random.choice(
        [
            b'\n[bit]\ndiameter = "1 mm"\n',
            b'\n[stock]\nthickness = "2 mm"\n',
            b'\n[cutting]\ndepth = "3 mm"\n',
            b'\n[film]\ninset = "0.2 mm"\n',
            b'\n[machine]\nunits = "inch"\n',
        ]
    )
    height = b'height = "%.3f mm"' % random.uniform(20, 100)
    return random.choice(np.array([data + more, re.sub(rb'height = "[^"]*"', height, data)], dtype=object))


BYTES = {
    "number changed": _number_changed,
    "cut short": _cut_short,
    "line lost, doubled, exchanged": _lines_changed,
}
BYTES |= {"byte changed": _byte_changed}
OF_FORMAT: dict[str, dict[str, Callable[[Rng, bytes], bytes]]] = {
    "svg": BYTES | {"element": _svg_element, "attribute, layer, unit": _svg_attribute},
    "dxf": BYTES | {"entity": _dxf_entity, "tag": _dxf_tag, "unit": _dxf_unit},
    "hpgl": BYTES,
    "json": BYTES | {"value": _json_value},
    "toml": BYTES | {"choice": _job_value},
    "pdf": {key: BYTES[key] for key in ("cut short", "byte changed")},
    "png": {key: BYTES[key] for key in ("cut short", "byte changed")},
}
OF_FORMAT["dxf-r12"] = OF_FORMAT["dxf"]
