"""Published coefficient tables as TOML files, each naming its source in the file itself."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """Read one table of this folder once and keep it.

    name: file name without its ending, "wageningen_b".
    Returns: the parsed TOML; callers must not change it, it is shared.
    Raises: FileNotFoundError when there is no such table.
    """
    return tomllib.loads(Path(__file__).with_name(f"{name}.toml").read_text(encoding="utf-8"))
