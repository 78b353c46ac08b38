"""Any RS-274 program that is there already: what it says of itself."""

from dataclasses import asdict

from core.findings import Finding, Level
from core.job import Job
from core.program.read.leniency import LENIENT
from core.program.read.read import read_program
from core.proof.inspection import Inspection, inspect
from core.proof.sweeps import Motion
from core.report import Json, finding_entry
from core.resolve import machine_of
from core.router.motion import timed


def inspect_bytes(data: bytes, name: str) -> tuple[Json, tuple[Finding, ...]]:
    """The summary of a program's bytes, and its findings. Raises UnreadableFile with line and reason."""
    program = read_program(data, leniency=LENIENT)
    seen = inspect(program, _seconds)
    findings = tuple(
        Finding(
            Level.STOP,
            broken.code,
            f"{name}, line {broken.line}: {broken.text}.",
            "Look at this line before the program is run.",
            broken.at[:2] if broken.at else None,
        )
        for broken in seen.rules.broken
    )
    return _entry(seen, program.unit, findings), findings


def _seconds(motion: Motion) -> float:
    """By the accelerations of a careful light machine, since no program says its own."""
    machine = machine_of(Job())
    return timed(motion.starts, motion.ends, motion.bulges, motion.feeds, motion.is_rapid, machine).total()


def _entry(seen: Inspection, unit: str, findings: tuple[Finding, ...]) -> Json:
    entry = asdict(seen)
    rules = entry.pop("rules")
    broken = [f"line {one['line']}: {one['text']}" for one in rules["broken"]]
    return {
        "report": 1,
        "program": entry | {"unit": unit},
        "readback": {"rules": {"checked": rules["checked"], "broken": broken}},
        "findings": [finding_entry(finding) for finding in findings],
    }
