"""What libraries are told through the environment; it has to be there before they are loaded."""

import os
from collections.abc import Mapping

VARIABLES: Mapping[str, str] = {
    "OPENBLAS_NUM_THREADS": "1",  # on matrices of our size a second thread of numpy only waits
    "TEXTUAL_FPS": "250",  # a frame that is ready is painted within 4 ms of the last, not 17; without news none is
}


def tell_libraries() -> None:
    """Set what the owner has not set.

    An empty NO_COLOR asks for nothing, by the convention of that name; Textual would take it for a set one.
    """
    if os.environ.get("NO_COLOR") == "":
        del os.environ["NO_COLOR"]
    for name, value in VARIABLES.items():
        os.environ.setdefault(name, value)
