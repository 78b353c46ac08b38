"""Starts the command line when a command or an option comes first, else the window."""

import os
import sys
from collections.abc import Sequence

# Sums in linear algebra depend in their last bits on how many cores share them, and so would the bytes of
# a kit; the processes that are started from here inherit it. It must stand before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from app.edge import exit_code, run
from core.errors import WrongCall

COMMANDS = ("make", "limits", "check", "inspect", "residual", "choices", "tables", "gauge")


def main() -> int:
    """Run what the arguments ask for; gives the exit code."""
    arguments = sys.argv[1:]
    if arguments and (arguments[0] in COMMANDS or arguments[0].startswith("-")):
        return run(arguments)
    return exit_code(lambda: open_window(arguments))


def open_window(arguments: Sequence[str]) -> int:
    """The window, empty or with a picture or a saved Job. Raises WrongCall for what looks like a command."""
    if arguments and "." not in arguments[0]:
        from app.asked import nearest_word  # noqa: PLC0415 - needed only for a sentence about a mistake

        nearest = nearest_word(arguments[0], COMMANDS)
        hint = f"the nearest is {nearest}" if nearest else f"there are {', '.join(COMMANDS)}"
        raise WrongCall(f"There is no command {arguments[0]}; {hint}.")
    from app.desk.start import run_window  # noqa: PLC0415 - commands need no window

    return run_window(arguments)


if __name__ == "__main__":
    sys.exit(main())
