"""What a fault changes in how a file is written, and not in what it says: white space, remarks, order."""

import json
import re
from collections.abc import Callable

from tests.campaigns.kit_changes import Rng, dxf_bytes, dxf_tags, entities


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
    tags = dxf_tags(data)
    begin, _ = random.choice(entities(tags))
    return dxf_bytes([*tags[:begin], (b"999", b"ring Ada"), *tags[begin:]])


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


def _more_between(random: Rng, data: bytes) -> bytes:
    """White space between two commands."""
    at = int(random.choice([found.end() for found in re.finditer(rb";", data)]))
    return data[:at] + b" \n " + data[at:]


DRESS: dict[str, tuple[Callable[[Rng, bytes], bytes], ...]] = {
    "svg": (_spaced, _remarked, _attributes_turned, _line_ends),
    "dxf": (_line_ends, _dxf_remark),
    "dxf-r12": (_line_ends, _dxf_remark),
    "hpgl": (_line_ends, _more_at_end, _more_between),
    "json": (_json_dress, _line_ends, _more_at_end),
    "toml": (_toml_dress, _line_ends, _more_at_end),
    "pdf": (_more_at_end,),
    "png": (_more_at_end,),
}
