"""How the system keeps memory for the arrays of the fleet, which come and go by the hundred in every assessment."""

import ctypes
import sys

_TRIM_THRESHOLD, _MMAP_THRESHOLD, _ARENA_MAX = -1, -3, -8
"""Parameters of mallopt(3), from <malloc.h> of the GNU C library."""
KEPT = 64 * 2**20
"""Freed memory that stays with the process, and the size from which an array gets pages of its own [bytes]; ours."""


def keep_freed_memory() -> bool:
    """Keep freed memory for the next array instead of giving it back.

    By itself the GNU C library gives each array above 128 KiB or so new pages, and the system fills them with zeros:
    12,000 page faults an assessment, and 3 to 5 % of its time. One arena serves all threads, so that what
    one has freed another can take.
    Returns: whether the system's C library has taken it; another than GNU's is left as it is.
    """
    if not sys.platform.startswith("linux"):
        return False
    try:
        set_option = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError):
        return False
    options = ((_ARENA_MAX, 1), (_MMAP_THRESHOLD, KEPT), (_TRIM_THRESHOLD, KEPT))
    return all(set_option(option, value) == 1 for option, value in options)
