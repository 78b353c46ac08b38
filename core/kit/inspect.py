"""Any RS-274 program that is there already: what it says of itself."""

from dataclasses import asdict

from core.errors import UnreadableFile
from core.findings import Finding, Level
from core.job.job import Job
from core.job.resolve import machine_of
from core.kit.report import Json, finding_entry
from core.program.read.leniency import LENIENT
from core.program.read.program import Program
from core.program.read.read import read_program
from core.proof.inspection import Inspection, inspect
from core.proof.sweeps import Motion
from core.router.motion import timed


def inspect_bytes(data: bytes, name: str) -> tuple[Json, tuple[Finding, ...]]:
    """The summary of a program's bytes, and its findings. Raises UnreadableFile with line and reason."""
    program, strayed = _read(data, name)
    seen = inspect(program, _seconds)
    broken = tuple(
        Finding(
            Level.STOP,
            one.code,
            f"{name}, line {one.line}: {one.text}.",
            "Look at this line before the program is run.",
            one.at[:2] if one.at else None,
        )
        for one in seen.rules.broken
    )
    findings = (*strayed, *broken)
    return _entry(seen, program.unit, findings), findings


def _read(data: bytes, name: str) -> tuple[Program, tuple[Finding, ...]]:
    """By the standard; else as small controllers take it, with a caution that says what is not standard."""
    try:
        return read_program(data), ()
    except UnreadableFile as strict:
        program = _leniently(data, name)
        text = f"{name} is not by the standard (NISTIR 6556), though small controllers take it: {strict}"
        remedy = "Make sure that your controller takes it the same way."
        return program, (Finding(Level.CAUTION, "not-standard", text, remedy),)


def _leniently(data: bytes, name: str) -> Program:
    try:
        return read_program(data, leniency=LENIENT)
    except UnreadableFile as error:
        raise UnreadableFile(f"{name}: {error}") from error


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
