"""A seeded campaign of faults in every file of a kit but its programs: which does `check` stop, by name?

Files are changed by text, tag and byte, lost, renamed, exchanged with each other and with those of other
kits. The oracle reads file before and file after with libraries that share nothing with the proof
(tests/campaigns/readings.py) and calls it harm when an edge or a mark has moved by more than 0.01 mm, a
size has changed, or a paper, the Job or the report says something else. Harm must be a stop that names the
file; what leaves all of it as it was, a caution at most.

    python -m tests.campaigns.kit_faults --seed 1 --count 5000
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from core.errors import UnreadableFile
from core.findings import Level
from core.kit.check import check_files
from tests.campaigns import readings as r
from tests.campaigns.tally import Tally, command
from tests.support.pictures import badge_kit

#: mm: what must be seen, and what the oracle's own points leave in doubt.
SEEN, DOUBT = 0.01, 0.001
#: mm; below this nothing has moved.
STILL = 1e-5
REPORT = "report.json"
#: Kits whose files are put in place of this one's.
OTHERS = (
    {"shape__height": "60.05 mm"},
    {"bit__diameter": "1.5 mm"},
    {"film__inset": "0.9 mm"},
    {"film__side": "behind"},
    {"part__tab_neck": "4 mm"},
)

Files = Mapping[str, bytes]
Rng = np.random.Generator


@dataclass(frozen=True)
class Fault:
    """One change of a kit: its kind, the file it was done to, and all files with it."""

    kind: str
    name: str
    files: Files


# --- the oracle ---------------------------------------------------------------------------------------


def format_of(name: str) -> str:
    """The format that the report lists for a file."""
    if name == REPORT:
        return "json"
    return next(file["format"] for file in badge_kit().report["files"] if file["path"] == name)


READERS = {
    "svg": r.drawn_svg,
    "dxf": r.drawn_dxf,
    "dxf-r12": r.drawn_dxf,
    "pdf": r.pages_of,
    "png": r.pixels_of,
    "toml": r.values_of_toml,
    "json": r.values_of_json,
}


@cache
def true_reading(name: str) -> object:
    """What the file of the sound kit says."""
    return READERS[format_of(name)](badge_kit().files[name])


@dataclass(frozen=True)
class Verdict:
    """Harm in words, "" where there is none; is_same: nothing at all has changed in what the file says."""

    harm: str
    is_same: bool


def oracle(fault: Fault) -> Verdict:
    """What the fault does to what the file says."""
    if fault.name not in fault.files:
        return Verdict("lost", is_same=False)
    kind = format_of(fault.name)
    try:
        now = READERS[kind](fault.files[fault.name])
    except r.Unreadable:
        return Verdict("", is_same=False)  # nobody else can read it, so nothing is cut by it
    if isinstance(now, r.Drawn):
        return _drawing_verdict(true_reading(fault.name), now)
    is_same = now == true_reading(fault.name)
    return Verdict("" if is_same else f"the {kind} says something else", is_same)


def _drawing_verdict(before: r.Drawn, now: r.Drawn) -> Verdict:
    worst = max((_layer_moved(before, now, layer) for layer in {*before.layers, *now.layers}), default=0.0)
    harm = f"moved by {worst:.4f} mm" if worst > SEEN + DOUBT else ""
    return Verdict(harm, is_same=worst < STILL and _counts(before) == _counts(now))


def _counts(drawn: r.Drawn) -> dict[str, int]:
    return {layer: len(contours) for layer, contours in drawn.layers.items()}


def _layer_moved(before: r.Drawn, now: r.Drawn, layer: str) -> float:
    """How far anything of a layer has moved, mm; infinite when something is there or gone that was not."""
    ours, theirs = before.layers.get(layer, []), now.layers.get(layer, [])
    if layer == "notes":
        return _heights_moved(ours, theirs)
    if len(ours) != len(theirs) or sorted(c for _, c in ours) != sorted(c for _, c in theirs):
        return np.inf
    return max(_apart(before.points(layer), now.points(layer)), 0.0)


def _apart(one: np.ndarray, other: np.ndarray) -> float:
    """The distance between two sets of points, no more than a step's half in doubt where they differ."""
    if one.shape == other.shape and np.abs(one - other).max() < STILL:
        return 0.0
    return r.moved_by(one, other)


def _heights_moved(ours: list, theirs: list) -> float:
    """The level lines say a height, and nothing else is said in the notes."""
    sizes = [
        np.ptp([points[:, 1].mean() for points, _ in lines]) if lines else 0.0 for lines in (ours, theirs)
    ]
    return float(abs(sizes[0] - sizes[1]))


# --- the judge ----------------------------------------------------------------------------------------


def stops_of(fault: Fault) -> list[str]:
    """The stops of `check`, in words. Raises what nobody foresaw."""
    try:
        return [one.text for one in check_files(fault.files)[1] if one.level is Level.STOP]
    except UnreadableFile as error:
        return [str(error)]


# --- the faults ---------------------------------------------------------------------------------------

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


def _dxf_tags(data: bytes) -> list[tuple[bytes, bytes]]:
    lines = re.split(rb"\r?\n", data)
    return list(zip(lines[::2], lines[1::2], strict=False))


def _dxf_bytes(tags: list[tuple[bytes, bytes]]) -> bytes:
    return b"".join(b"%s\n%s\n" % tag for tag in tags)


def _entities(tags: list[tuple[bytes, bytes]]) -> list[tuple[int, int]]:
    """From and to of every entity."""
    first = next(i for i, tag in enumerate(tags) if tag[1] == b"ENTITIES")
    heads = [i for i in range(first + 1, len(tags)) if tags[i][0].strip() == b"0"]
    last = next(i for i in heads if tags[i][1] == b"ENDSEC")
    heads = [i for i in heads if i <= last]
    return list(pairwise(heads))


def _dxf_entity(random: Rng, data: bytes) -> bytes:
    """An entity lost, doubled, put on another layer, turned over, made open or of another kind."""
    tags = _dxf_tags(data)
    begin, end = random.choice(_entities(tags))
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
    return _dxf_bytes([*tags[:begin], *own, *tags[end:]])


def _dxf_tag(random: Rng, data: bytes) -> bytes:
    """A tag lost or doubled, or its number changed, among the entities."""
    tags = _dxf_tags(data)
    spans = _entities(tags)
    at = int(random.integers(spans[0][0], spans[-1][1]))
    way = random.integers(3)
    if way == 0:
        return _dxf_bytes(tags[:at] + tags[at + 1 :])
    if way == 1:
        return _dxf_bytes(tags[: at + 1] + tags[at:])
    code, value = tags[at]
    return _dxf_bytes(
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
    "json": BYTES | {"value": _json_value},
    "toml": BYTES | {"choice": _job_value},
    "pdf": {key: BYTES[key] for key in ("cut short", "byte changed")},
    "png": {key: BYTES[key] for key in ("cut short", "byte changed")},
}
OF_FORMAT["dxf-r12"] = OF_FORMAT["dxf"]


def _spaced(random: Rng, data: bytes) -> bytes:
    """More white space between elements."""
    places = [found.start() for found in re.finditer(rb">\s*<", data)]
    at = int(random.choice(places)) + 1
    return data[:at] + b"\n   \t" + data[at:]


def _remarked(random: Rng, data: bytes) -> bytes:
    places = [found.end() for found in re.finditer(rb"<(svg|g)\b[^>]*>", data)]
    at = int(random.choice(places))
    return data[:at] + b"<!-- ring Ada -->" + data[at:]


def _attributes_turned(_random: Rng, data: bytes) -> bytes:
    return re.sub(rb"<g (id=\S+) ([^>]*)>", rb"<g \2 \1>", data)


def _line_ends(_random: Rng, data: bytes) -> bytes:
    return data.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")


def _dxf_remark(random: Rng, data: bytes) -> bytes:
    tags = _dxf_tags(data)
    begin, _ = random.choice(_entities(tags))
    return _dxf_bytes([*tags[:begin], (b"999", b"ring Ada"), *tags[begin:]])


def _json_dress(random: Rng, data: bytes) -> bytes:
    report = json.loads(data)
    keys = list(report)
    random.shuffle(keys)
    return json.dumps({key: report[key] for key in keys}, indent=int(random.integers(0, 5))).encode()


def _toml_dress(random: Rng, data: bytes) -> bytes:
    lines = data.split(b"\n")
    at = int(random.integers(len(lines)))
    return b"\n".join([*lines[:at], b"", b"# ring Ada", *lines[at:]])


def _more_at_end(_random: Rng, data: bytes) -> bytes:
    return data + b"\n"


DRESS: dict[str, tuple[Callable[[Rng, bytes], bytes], ...]] = {
    "svg": (_spaced, _remarked, _attributes_turned, _line_ends),
    "dxf": (_line_ends, _dxf_remark),
    "dxf-r12": (_line_ends, _dxf_remark),
    "json": (_json_dress, _line_ends, _more_at_end),
    "toml": (_toml_dress, _line_ends, _more_at_end),
    "pdf": (_more_at_end,),
    "png": (_more_at_end,),
}


def _in_file(random: Rng, name: str) -> Fault:
    changes = list(OF_FORMAT[format_of(name)].items())
    kind, change = changes[random.integers(len(changes))]
    data = change(random, badge_kit().files[name])
    return Fault(f"{format_of(name):8} {kind}", name, {**badge_kit().files, name: data})


def _dressed(random: Rng, name: str) -> Fault:
    changes = DRESS[format_of(name)]
    data = changes[random.integers(len(changes))](random, badge_kit().files[name])
    return Fault(f"{format_of(name):8} dress", name, {**badge_kit().files, name: data})


def _lost(_random: Rng, name: str) -> Fault:
    return Fault(
        "file lost", name, {other: data for other, data in badge_kit().files.items() if other != name}
    )


def _renamed(random: Rng, name: str) -> Fault:
    lost = dict(_lost(random, name).files)
    return Fault("file renamed", name, {**lost, f"copy of {name}": badge_kit().files[name]})


def _places_changed(random: Rng, name: str) -> Fault:
    files = dict(badge_kit().files)
    alike = [other for other in files if other != name and format_of(other) == format_of(name)]
    other = alike[random.integers(len(alike))] if alike else name
    files[name], files[other] = files[other], files[name]
    return Fault("files of one kit exchanged", name, files)


def _of_another_kit(random: Rng, name: str) -> Fault:
    other = badge_kit(**OTHERS[random.integers(len(OTHERS))])
    path = _path_like(name, other.report)
    return Fault("file of another kit", name, {**badge_kit().files, name: other.files[path]})


def _path_like(name: str, report: Mapping) -> str:
    """The other kit's file for the same purpose."""
    if name == REPORT:
        return name
    asked = ("role", "format", "film")
    ours = next(file for file in badge_kit().report["files"] if file["path"] == name)
    return next(
        file["path"] for file in report["files"] if all(file.get(key) == ours.get(key) for key in asked)
    )


#: How often each kind of change is made, in fifty.
SHARES = (
    (_in_file, 36),
    (_dressed, 6),
    (_of_another_kit, 4),
    (_places_changed, 2),
    (_lost, 1),
    (_renamed, 1),
)


def names() -> list[str]:
    """The files that are changed: all but the programs, which have a campaign of their own."""
    return sorted(name for name in badge_kit().files if name == REPORT or format_of(name) != "rs274")


def true_fault() -> Iterator[Fault]:
    """No fault at all, for every file."""
    return (Fault("none", name, badge_kit().files) for name in names())


def faults(seed: int, count: int) -> Iterator[Fault]:
    """count faults; every file in turn."""
    random = np.random.default_rng(seed)
    ways, shares = zip(*SHARES, strict=True)
    for index in range(count):
        way = ways[random.choice(len(ways), p=np.array(shares) / sum(shares))]
        yield way(random, names()[index % len(names())])


def campaign(seed: int, count: int) -> Tally:
    """The faults laid before oracle and judge."""
    tally = Tally()
    for fault in faults(seed, count):
        verdict = oracle(fault)
        try:
            stops = stops_of(fault)
        except Exception as error:  # noqa: BLE001 - a defect of ours, told as one
            tally.missed.append(f"{fault.kind}: {fault.name}: a traceback: {error!r}")
            continue
        named = [text for text in stops if verdict.is_same or fault.name in text]
        said = named[0] if named else ""
        harm = f"{fault.name}: {verdict.harm}" if verdict.harm else ""
        tally.count(fault.kind, harm, said, is_dress=verdict.is_same and fault.kind.endswith("dress"))
    return tally


if __name__ == "__main__":
    command(__doc__ or "", campaign, 5000)
