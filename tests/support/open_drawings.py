"""Open drawings in flat colours, from two packages of the node registry; fetched once, kept, never committed.

`flat-color-icons` 1.1.0 (MIT) and `@twemoji/svg` 15.0.0 (package MIT, drawings CC-BY 4.0). The client packs
them by name and exact version and runs no script; the archives are read in place.
"""

import re
import shutil
import subprocess
import tarfile
from pathlib import Path

import platformdirs

PACKAGES = {
    "flat-color-icons": "flat-color-icons-1.1.0.tgz",
    "@twemoji/svg": "twemoji-svg-15.0.0.tgz",
}
VERSIONS = {"flat-color-icons": "1.1.0", "@twemoji/svg": "15.0.0"}
#: What makes a drawing no flat one: it is left out.
NOT_FLAT = re.compile(rb"stroke|gradient|opacity|mask|<text|<image|clip-path|filter|<use", re.IGNORECASE)
#: A drawing of one colour has no films that meet.
FILL = re.compile(rb"fill\s*[=:]\s*[\"']?\s*(#[0-9a-f]{3,6}|[a-z]+)", re.IGNORECASE)
LEAST_COLOURS = 2
#: s that the client may take.
PATIENCE = 120


class NotToBeHad(Exception):
    """The packages cannot be fetched here; the sentence says why."""


def drawings() -> dict[str, bytes]:
    """Every flat drawing of at least two colours, by package and name. Raises NotToBeHad."""
    found = {}
    for package, archive in PACKAGES.items():
        with tarfile.open(_fetched(package, archive)) as packed:
            for member in packed:
                if member.name.endswith(".svg") and (file := packed.extractfile(member)) is not None:
                    data = file.read()
                    if _is_wanted(data):
                        found[f"{package}/{Path(member.name).stem}"] = data
    return dict(sorted(found.items()))


def _is_wanted(data: bytes) -> bool:
    fills = {fill.lower() for fill in FILL.findall(data)} - {b"none"}
    return len(fills) >= LEAST_COLOURS and not NOT_FLAT.search(data)


def _fetched(package: str, archive: str) -> Path:
    cache = Path(platformdirs.user_cache_dir("samecut-tests"))
    kept = cache / archive
    if kept.exists():
        return kept
    client = shutil.which("npm")
    if client is None:
        raise NotToBeHad("There is no npm here to fetch open drawings with.")
    cache.mkdir(parents=True, exist_ok=True)
    asked = [client, "pack", "--silent", f"{package}@{VERSIONS[package]}", "--pack-destination", str(cache)]
    try:
        subprocess.run(asked, check=True, capture_output=True, timeout=PATIENCE)
    except (subprocess.SubprocessError, OSError) as error:
        raise NotToBeHad(f"{package} {VERSIONS[package]} cannot be fetched: {error}") from error
    if not kept.exists():
        raise NotToBeHad(f"{package} was packed under another name than {archive}.")
    return kept
