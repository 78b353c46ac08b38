"""A seeded campaign of mutated inputs: pictures, drawings, Jobs, programs and kits that somebody has spoilt.

Each is given to the real command line in a process whose memory and time are bounded. Harm is a traceback,
a mistake of our own, a hang, a death, more than one sentence, or a file anywhere but in the folder asked
for. The pictures that can still be read are made into a kit one time in WHOLE; else reading is all.

    python -m tests.campaigns.mutated_inputs --seed 1 --count 10000
"""

import contextlib
import io
import json
import os
import resource
import signal
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image

from app import edge, work
from core.cancel import CancelToken
from core.drawing.read.dxf import read_dxf
from core.drawing.read.svg import read_svg
from core.errors import SamecutError, UnreadableFile
from core.job.job import Job, Source
from core.picture.read import read_picture
from tests.campaigns.tally import Tally, command
from tests.support.pictures import badge_kit, badge_png

#: s and bytes of one trial; a sound kit of this size takes two seconds and a third of a gigabyte.
LONGEST, LARGEST = 30, 3 << 30
#: One picture in so many is made into a whole kit, if it can be read.
WHOLE = 40
#: Trials that one process does before the next takes over.
BATCH = 50

Rng = np.random.Generator


@dataclass(frozen=True)
class Trial:
    """A kind, the files to lay on the bench by name, and the command; reads is what else is to be read."""

    kind: str
    files: dict[str, bytes]
    arguments: tuple[str, ...] = ()
    reads: Callable[[bytes], object] | None = None


# --- what is spoilt -----------------------------------------------------------------------------------


def spoilt(random: Rng, data: bytes) -> bytes:
    """Some bytes changed, lost, doubled, or the end gone."""
    out = bytearray(data)
    for _ in range(int(random.integers(1, 6))):
        at, size = int(random.integers(len(out) + 1)), int(random.integers(1, 40))
        way = random.integers(5)
        if way == 0:
            out[at : at + size] = random.bytes(size)
        elif way == 1:
            del out[at : at + size]
        elif way == 2:
            out[at:at] = out[at : at + size]
        elif way == 3:
            out[at : at + 1] = bytes([random.choice([0, 1, 127, 128, 255])])
        else:
            del out[max(at, 8) :]
    return bytes(out)


FORMATS = ("PNG", "JPEG", "BMP", "GIF", "WEBP", "TIFF")


@cache
def encoded(form: str) -> bytes:
    """The badge, small, as another format."""
    out = io.BytesIO()
    Image.open(io.BytesIO(badge_png(64))).save(out, form)
    return out.getvalue()


def _picture(random: Rng, index: int) -> Trial:
    form = FORMATS[index % len(FORMATS)]
    name = f"picture.{form.lower()}"
    return Trial(f"picture {form}", {name: spoilt(random, encoded(form))}, ("make", name, "--out", "kit"))


NASTY = (
    "../../secret.png",
    "/etc/passwd",
    "C:\\\\secret.png",
    "..\\\\..\\\\secret.png",
    "badge.png\\u0000.png",
    "",
    ".",
    "..",
    "~/x.png",
    "a/../../b.png",
    "CON",
    "x" * 5000,
)
JOB = """format = 1
[source]
picture = "badge.png"
[shape]
height = "60 mm"
[files]
name = "badge"
[part]
tabs = ["10, 20", "30, 40"]
"""


def _job(random: Rng, _index: int) -> Trial:
    text = JOB
    way = random.integers(6)
    if way == 0:
        key = random.choice(["picture", "name", "height"])
        text = "\n".join(
            f'{key} = "{random.choice(NASTY)}"' if line.startswith(key) else line
            for line in text.splitlines()
        )
    elif way == 1:
        text = text.replace(
            "60 mm", random.choice(["1e999", "-1", "nan", "inf mm", "9" * 400, "60 mm; 3", "1/0"])
        )
    elif way == 2:
        text += f"[film]\ninset = {'[' * int(random.integers(1, 3000))}1\n"
    elif way == 3:
        text += f"x.{'.'.join('a' * int(random.integers(1, 2000)))} = 1\n"
    data = text.encode() if way in (0, 1) else spoilt(random, text.encode())
    files = {"badge.samecut": data, "badge.png": encoded("PNG")}
    return Trial("Job", files, ("make", "badge.samecut", "--out", "kit"))


def _program(random: Rng, _index: int) -> Trial:
    data = next(data for name, data in badge_kit().files.items() if name.endswith(".nc"))
    return Trial("program", {"part.nc": spoilt(random, data[:4000] + data[-300:])}, ("inspect", "part.nc"))


BOMB = b'<!DOCTYPE b [<!ENTITY a "xxxxxxxxxx">' + b"".join(
    b'<!ENTITY %c "%s">' % (98 + i, b"&%c;" % (97 + i) * 10) for i in range(12)
)


def _svg(random: Rng, _index: int) -> Trial:
    data = next(data for name, data in badge_kit().files.items() if name.endswith("teal.svg"))
    way = random.integers(12)
    if way == 0:
        data = BOMB + b"]>" + data.replace(b"<title>", b"<title>&m;")
    elif way == 1:
        data = data.replace(b"<g ", b"<g>" * int(random.integers(1, 100_000)) + b"<g ", 1)
    elif way == 2:
        data = b'<!DOCTYPE svg SYSTEM "file:///etc/passwd">' + data
    elif way == 3:
        data = data.replace(b"A3 3", b"A3 3e%d" % random.integers(-400, 400), 1)
    else:
        data = spoilt(random, data)
    return Trial("SVG", {"art.svg": data}, ("make", "art.svg", "--out", "kit"), read_svg)


def _dxf(random: Rng, _index: int) -> Trial:
    data = next(data for name, data in badge_kit().files.items() if name.endswith("teal-r12.dxf"))
    return Trial("DXF", {"art.dxf": spoilt(random, data)}, ("make", "art.dxf", "--out", "kit"), read_dxf)


def _older_kit(random: Rng, _index: int) -> Trial:
    """A kit over a folder whose report lists what lies elsewhere."""
    listed = [{"path": str(random.choice(NASTY[:7]))}, {"path": "../outside/letter.txt"}]
    report = json.dumps({"report": 1, "files": listed}).encode()
    report = report if random.random() < 0.5 else spoilt(random, report)
    files = {"kit/report.json": report, "badge.png": encoded("PNG")}
    name = str(random.choice([*NASTY[:7], "a/b", "a:b", "\\", "-"])).replace("\\u0000", "\0")
    return Trial(
        "older kit, name", files, ("make", "badge.png", "--out", "kit", "--set", f"files.name={name}")
    )


def _kit(random: Rng, _index: int) -> Trial:
    """`check` of a kit with one file spoilt."""
    files = dict(badge_kit().files)
    names = sorted(files)
    name = names[int(random.integers(len(names)))]
    files[name] = spoilt(random, files[name])
    return Trial("kit", {f"kit/{one}": data for one, data in files.items()}, ("check", "kit"))


#: Kinds and how often each is tried, in a hundred.
KINDS: tuple[tuple[Callable[[Rng, int], Trial], int], ...] = (
    (_picture, 45),
    (_job, 20),
    (_svg, 12),
    (_dxf, 10),
    (_program, 8),
    (_older_kit, 3),
    (_kit, 2),
)


def trials(seed: int, count: int) -> Iterator[Trial]:
    """count inputs, spoilt."""
    random = np.random.default_rng(seed)
    ways, shares = zip(*KINDS, strict=True)
    for index in range(count):
        way = ways[random.choice(len(ways), p=np.array(shares) / sum(shares))]
        yield way(random, index)


# --- what becomes of it -------------------------------------------------------------------------------


def _only_read(
    _job: Job, source: Source, _token: CancelToken, _tell: Callable[[str], None], _also: object
) -> None:
    """In place of the making of a kit: the picture is read, and that is all."""
    read_picture(source.data, source.name)
    raise UnreadableFile("It was read, and nothing is made of it here.")


def wrong_with(trial: Trial, place: Path, *, is_whole: bool) -> str:
    """What is wrong, "" for nothing; place is an empty folder."""
    bench, outside = place / "bench", place / "outside"
    outside.mkdir(parents=True)
    (outside / "letter.txt").write_text("Dear Ada")
    for name, data in trial.files.items():
        (bench / name).parent.mkdir(parents=True, exist_ok=True)
        (bench / name).write_bytes(data)
    before = _elsewhere(place)
    os.chdir(bench)
    if trial.reads is not None:
        with contextlib.suppress(SamecutError):
            trial.reads(next(iter(trial.files.values())))
    make = work.make_kit
    work.make_kit = make if is_whole else _only_read
    out, err = io.StringIO(), io.StringIO()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = edge.run(trial.arguments)
    finally:
        work.make_kit = make
    return _judged(code, err.getvalue()) or ("" if _elsewhere(place) == before else "a file elsewhere")


def _judged(code: int, said: str) -> str:
    if code not in (0, 1, 2, 3):
        return f"exit code {code}"
    if "mistake of its own" in said or "Traceback" in said:
        return said.strip()
    if code in (2, 3) and said.count("\n") != 1:
        return f"{said.count(chr(10))} lines: {said[:200]!r}"
    return ""


def _elsewhere(place: Path) -> dict[str, bytes]:
    """Every file but those of the kit asked for."""
    kit = place / "bench" / "kit"
    return {
        str(one): one.read_bytes() for one in place.rglob("*") if one.is_file() and kit not in one.parents
    }


def _taken_already() -> int:
    """Bytes of addresses that this process has: it is forked from one that has run other tests."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    return pages * resource.getpagesize()


def _in_a_process(batch: list[tuple[int, Trial]], results: int) -> None:
    """Do the trials, telling each's number before it and what was wrong after it."""
    most = _taken_already() + LARGEST
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    signal.signal(signal.SIGPROF, signal.SIG_DFL)
    with os.fdopen(results, "w") as told:
        for index, trial in batch:
            told.write(json.dumps([index, None]) + "\n")
            told.flush()
            signal.setitimer(signal.ITIMER_PROF, LONGEST)  # its own time: others may hold the machine
            with tempfile.TemporaryDirectory(prefix="samecut-spoilt-") as place:
                try:
                    wrong = wrong_with(trial, Path(place), is_whole=index % WHOLE == 0)
                except Exception as error:  # noqa: BLE001 - a defect of ours, told as one
                    wrong = f"a traceback: {error!r}"
                os.chdir("/")
            told.write(json.dumps([index, wrong]) + "\n")
            told.flush()


def _batch(batch: list[tuple[int, Trial]]) -> dict[int, str]:
    """What was wrong with each trial; one in which the process died is the last that it told of."""
    wrong: dict[int, str] = {}
    while batch:
        read, write = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(read)
            try:
                _in_a_process(batch, write)
            finally:
                os._exit(0)
        os.close(write)
        with os.fdopen(read) as told:
            rows = [json.loads(line) for line in told]
        status = os.waitpid(child, 0)[1]
        wrong |= {index: said for index, said in rows if said is not None}
        begun = [index for index, said in rows if said is None and index not in wrong]
        for index in begun:
            killed = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
            wrong[index] = "a hang" if killed == signal.SIGPROF else f"a death by signal {killed}"
        batch = [(index, trial) for index, trial in batch if index not in wrong]
    return wrong


def campaign(seed: int, count: int) -> Tally:
    """count inputs given to the command line; caught is what was answered as it should be."""
    tally, every = Tally(), list(enumerate(trials(seed, count)))
    for first in range(0, count, BATCH):
        batch = every[first : first + BATCH]
        wrong = _batch(batch)
        for index, trial in batch:
            said = wrong[index]
            tally.count(
                trial.kind, f"{index}: {said}" if said else "", "" if said else "answered", is_dress=False
            )
    return tally


if __name__ == "__main__":
    sys.setrecursionlimit(1000)
    command(__doc__ or "", campaign, 10_000)
