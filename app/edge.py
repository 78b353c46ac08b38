"""The outermost edge: runs a command, and turns whatever is raised into one sentence and an exit code."""

import os
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import PurePath

from app.told import tell_error
from core.errors import BadShape, SamecutError, WrongCall

WRONG_CALL, UNREADABLE, GIVEN_UP = 2, 3, 130


def exit_code(command: Callable[[], int]) -> int:
    """The command's own code, or that of what it raised, told in one sentence on standard error."""
    try:
        code = command()
        sys.stdout.flush()
    except BrokenPipeError:
        return _nobody_reads()
    except (SamecutError, KeyboardInterrupt, MemoryError) as error:
        tell_error(_sentence(error))
        return _code_of(error)
    except Exception as error:
        if sys.flags.dev_mode:
            raise
        tell_error(_sentence(error))
        return UNREADABLE
    return code


def _code_of(error: BaseException) -> int:
    if isinstance(error, WrongCall):
        return WRONG_CALL
    return GIVEN_UP if isinstance(error, KeyboardInterrupt) else UNREADABLE


def _sentence(error: BaseException) -> str:
    if isinstance(error, KeyboardInterrupt):
        return "Given up; nothing was written or changed."
    if isinstance(error, MemoryError):
        return "There is not enough memory for this; try a smaller picture."
    if isinstance(error, BadShape) or not isinstance(error, SamecutError):
        return _fault(error)
    said = str(error)
    return said if said.endswith((".", "!", "?")) else f"{said}."


def _fault(error: BaseException) -> str:
    """A defect of ours; `python -X dev -m app` shows the whole of it."""
    where = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{PurePath(where.filename).name}, line {where.lineno}"
    return (
        f"Samecut made a mistake of its own ({type(error).__name__} in {place}: {error}); please report it."
    )


def _nobody_reads() -> int:
    """Standard output was closed by its reader; nothing more is written there, also not at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def run(arguments: Sequence[str]) -> int:
    """Run a command of the command line."""
    return exit_code(lambda: _called(arguments))


def _called(arguments: Sequence[str]) -> int:
    import typer  # noqa: PLC0415 - a tenth of a second that the window does not need

    from app.cli import application  # noqa: PLC0415 - the same

    command = typer.main.get_command(application)
    try:
        code = command.main(list(arguments), prog_name="samecut", standalone_mode=False)
    except typer.TyperException as error:
        raise WrongCall(error.format_message()) from error
    if code == GIVEN_UP:
        raise KeyboardInterrupt
    return code if isinstance(code, int) else 0
