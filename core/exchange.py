"""Two folders change names in one step, where the system can."""

import errno
import os
import sys
from pathlib import Path

#: linux/fs.h: exchange source and target, both of which must be there.
_RENAME_EXCHANGE = 2
#: linux/fcntl.h: paths are taken from the current folder.
_AT_FDCWD = -100
#: What a system, a C library or a file system says that cannot exchange.
_CANNOT = frozenset({errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP, errno.EPERM})


def exchange(one: Path, other: Path) -> bool:
    """Each is where the other was, in one step (renameat2(2)); or False, and nothing is done.

    Raises OSError when the system could, and did not.
    """
    if sys.platform != "linux":
        return False
    import ctypes  # noqa: PLC0415 - needed only here, where it works

    renameat2 = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if renameat2 is None:
        return False
    if renameat2(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))
