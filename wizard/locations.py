"""Where plans live, and where the demonstration plans are. The only module that decides on folders."""

import os
import re
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent
DEMONSTRATIONS = ("bittern.toml", "mirabel.toml", "two-sisters.toml", "dunlin.toml")


def demonstration_folder() -> Path:
    """The folder that holds the demonstration plans: `saved_plans` of a checkout, else inside the installed package."""
    for folder in (Path.cwd(), CHECKOUT):
        if _is_checkout(folder) and (folder / "saved_plans").is_dir():
            return folder / "saved_plans"
    return Path(__file__).resolve().parent / "demonstrations"


def demonstrations() -> list[Path]:
    """The demonstration plans that are there, in the order in which they are worth opening."""
    folder = demonstration_folder()
    return [folder / name for name in DEMONSTRATIONS if (folder / name).is_file()]


def is_demonstration(path: Path) -> bool:
    """True when a plan is one of the demonstrations, which are copied and never edited in place."""
    found = Path(os.path.realpath(path))  # unlike resolve() at peace with links that lead in a circle
    if found.name not in DEMONSTRATIONS:
        return False
    in_checkout = found.parent.name == "saved_plans" and _is_checkout(found.parent.parent)
    return in_checkout or found.parent == Path(__file__).resolve().parent / "demonstrations"


def plans_folder() -> Path | None:
    """Where plans live: `./saved_plans` when run in a checkout, else the platform's folder for user data; None where
    nobody has a home."""
    here = Path.cwd()
    if _is_checkout(here):
        return here / "saved_plans"
    from platformdirs import user_data_path

    try:
        folder = user_data_path("shaftlog", appauthor=False) / "plans"
    except RuntimeError:
        return None
    return folder if folder.is_absolute() else None


def _is_checkout(folder: Path) -> bool:
    return (folder / "engine" / "planfile.py").is_file() and (folder / "pyproject.toml").is_file()


def free_path(folder: Path, name: str) -> Path:
    """A path in the folder for a plan of that name which no file has yet."""
    stem = re.sub(r"[^\w-]+", "-", name.lower(), flags=re.UNICODE).strip("-_")[:60] or "plan"
    candidate, number = folder / f"{stem}.toml", 2
    while os.path.exists(candidate):  # unlike candidate.exists() no where one may not look; saving then says why
        candidate, number = folder / f"{stem}-{number}.toml", number + 1
    return candidate
