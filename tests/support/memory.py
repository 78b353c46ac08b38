"""How much memory this process holds."""

import gc
import os
from pathlib import Path

_STATM = Path("/proc/self/statm")


def used_mb():
    """MB in use now; None where the system does not tell."""
    gc.collect()
    if not _STATM.is_file():
        return None
    return int(_STATM.read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 2**20
