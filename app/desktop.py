"""Lets a saved Job open by a double press: the entry, the type and the icon that a desktop asks for.

`python -m app.desktop COMMAND` puts them into the user's own data folder, for the samecut at COMMAND; the
same with --away takes them out again. The forms are those of the Desktop Entry, Shared MIME-info Database
and Icon Theme specifications (freedesktop.org).
"""

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from importlib.resources import files
from pathlib import Path
from xml.sax.saxutils import quoteattr

from app.desk.theme import LIGHT
from core.files import write_file
from core.job.saved import MIME, SUFFIX

#: What is told of what was put there, by the folders that hold it; each where the program is there.
_TELL = (("update-mime-database", "mime"), ("update-desktop-database", "applications"))
#: Characters that an argument in quotes must have a backslash before (Desktop Entry, "The Exec key").
_ESCAPED = '\\"`$'


def placed(command: Path) -> Mapping[str, str]:
    """Text of every file by its place in a data folder."""
    return {
        "applications/samecut.desktop": entry(command),
        "mime/packages/samecut.xml": type_of_jobs(),
        "icons/hicolor/scalable/apps/samecut.svg": icon_drawing(),
        f"icons/hicolor/scalable/mimetypes/{MIME.replace('/', '-')}.svg": icon_drawing(),
    }


def entry(command: Path) -> str:
    """The desktop entry; pictures are offered too, a Job is its own."""
    quoted = "".join(f"\\{sign}" if sign in _ESCAPED else sign for sign in str(command)).replace("%", "%%")
    return "\n".join((
        "[Desktop Entry]",
        "Type=Application",
        "Name=Samecut",
        "Comment=A routed part and its decal from one picture",
        f'Exec="{quoted.replace(chr(92), chr(92) * 2)}" %f',
        "Icon=samecut",
        "Terminal=false",
        "Categories=Graphics;Engineering;",
        f"MimeType={MIME};image/png;image/jpeg;image/svg+xml;",
        "",
    ))  # fmt: skip


def type_of_jobs() -> str:
    """The type of a saved Job, known by its ending; it is text, and TOML."""
    return "\n".join((
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">',
        f"  <mime-type type={quoteattr(MIME)}>",
        "    <comment>Samecut Job</comment>",
        '    <sub-class-of type="application/toml"/>',
        '    <sub-class-of type="text/plain"/>',
        f"    <glob pattern={quoteattr('*' + SUFFIX)} weight=\"60\"/>",
        "  </mime-type>",
        "</mime-info>",
        "",
    ))  # fmt: skip


def icon_drawing() -> str:
    """The icon in its own colours."""
    drawing = files("assets").joinpath("icons", "samecut.svg").read_text("utf-8")
    return drawing.replace("currentColor", LIGHT.accent).replace('"ground"', f'"{LIGHT.desk}"')


def put(data: Path, command: Path) -> None:
    """Write all of it into a data folder. Raises Unwritable."""
    for place, text in placed(command).items():
        (data / place).parent.mkdir(parents=True, exist_ok=True)
        write_file(data / place, text.encode())
    _tell(data)


def take_away(data: Path) -> None:
    """Take all of it out again."""
    for place in placed(Path("samecut")):
        (data / place).unlink(missing_ok=True)
    _tell(data)


def _tell(data: Path) -> None:
    for program, folder in _TELL:
        if shutil.which(program) and (data / folder).is_dir():
            subprocess.run([program, str(data / folder)], check=False)  # noqa: S603 - one of two names


def main(arguments: Sequence[str]) -> int:
    """Put it there or take it away; gives the exit code."""
    data = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    if arguments == ["--away"]:
        take_away(data)
    elif len(arguments) == 1 and Path(arguments[0]).is_absolute():
        put(data, Path(arguments[0]))
    else:
        sys.stderr.write("It takes the whole path of the samecut that is to open, or --away.\n")
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
