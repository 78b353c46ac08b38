"""NO-PROGRAM.txt: why a kit holds no router program, and what to do about it."""

from textwrap import fill

from core.findings import Finding, Level

#: Characters a line; read in a plain text window.
COLUMNS = 78


def stops_of(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings that keep the program from being written."""
    return tuple(finding for finding in findings if finding.level is Level.STOP)


def place_of(finding: Finding) -> str:
    """Where it is, in words; nothing when it has no place."""
    return f"at ({finding.at[0]:.1f}, {finding.at[1]:.1f}) mm" if finding.at else ""


def no_program_text(title: str, findings: tuple[Finding, ...]) -> bytes:
    """The text of the file, UTF-8, from the stop findings."""
    stops = stops_of(findings)
    count = "one thing stands" if len(stops) == 1 else f"{len(stops)} things stand"
    head = f"{title}: there is no router program in this kit, because {count} against cutting it."
    parts = [head, *(_told(number, stop) for number, stop in enumerate(stops, 1))]
    parts.append("Answer each of them and make the kit again; the program is then written.")
    return ("\n\n".join(fill(part, COLUMNS) if "\n" not in part else part for part in parts) + "\n").encode()


def _told(number: int, stop: Finding) -> str:
    place = f" ({place_of(stop)})" if stop.at else ""
    what = fill(f"{stop.text}{place}", COLUMNS, initial_indent=f"{number}. ", subsequent_indent="   ")
    remedy = fill(stop.remedy, COLUMNS, initial_indent="   What to do: ", subsequent_indent="   ")
    return f"{what}\n{remedy}"
