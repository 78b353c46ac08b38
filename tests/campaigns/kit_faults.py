"""A seeded campaign of faults in every file of a kit but its programs: which does `check` stop, by name?

Files are changed by text, tag and byte, lost, renamed, exchanged with each other and with those of other
kits. Harm, as the oracle sees it (tests/campaigns/kit_oracle.py), must be a stop that names the file; what
leaves all that the file says as it was, a caution at most.

    python -m tests.campaigns.kit_faults --seed 1 --count 5000
"""

from collections.abc import Iterator, Mapping

import numpy as np

from core.errors import UnreadableFile
from core.findings import Level
from core.kit.check import check_files
from tests.campaigns.kit_changes import OF_FORMAT, Rng
from tests.campaigns.kit_dress import DRESS
from tests.campaigns.kit_oracle import REPORT, Fault, format_of, oracle
from tests.campaigns.tally import Tally, command
from tests.support.pictures import badge_kit

#: Kits whose files are put in place of this one's.
SISTERS = (
    {"shape__height": "60.05 mm"},
    {"bit__diameter": "1.5 mm"},
    {"film__inset": "0.9 mm"},
    {"film__side": "behind"},
    {"part__tab_neck": "4 mm"},
)


def stops_of(fault: Fault) -> list[str]:
    """The stops of `check`, in words. Raises what nobody foresaw."""
    try:
        return [one.text for one in check_files(fault.files)[1] if one.level is Level.STOP]
    except UnreadableFile as error:
        return [str(error)]


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
    sister = SISTERS[random.integers(len(SISTERS))]
    return Fault("file of another kit", name, of_another_kit(name, sister))


def of_another_kit(name: str, choices: Mapping[str, str]) -> Mapping[str, bytes]:
    """The kit's files, that of this name from a kit with other choices."""
    other = badge_kit(**choices)
    return {**badge_kit().files, name: other.files[_path_like(name, other.report)]}


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
