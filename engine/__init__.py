"""Shaftlog's calculations, usable as a library: `load_plan`, `save_plan`, `assess`, `search_market`.

The names load what they need on first use, so that `import engine` stays quick.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from engine.assessment import assess, search_market
    from engine.planfile import load_plan, save_plan

__all__ = ["assess", "load_plan", "save_plan", "search_market"]

_HOME = {
    "assess": "engine.assessment",
    "load_plan": "engine.planfile",
    "save_plan": "engine.planfile",
    "search_market": "engine.assessment",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOME[name]), name)
