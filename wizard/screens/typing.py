"""Keys that come faster than the screen is drawn: it is handed a key before a slow field has seen those before it."""

import asyncio
import contextlib

from textual.widget import Widget

_PATIENCE = 2.0
"""Seconds to wait for a field at most; longer than any takes, and short enough if one has stopped."""


async def seen_by(widget: Widget | None) -> None:
    """Wait until a widget has got all keys that were typed into it."""
    if widget is None or not widget.is_attached:
        return
    has_seen_all = asyncio.Event()
    widget.call_later(has_seen_all.set)
    with contextlib.suppress(TimeoutError):
        await asyncio.wait_for(has_seen_all.wait(), _PATIENCE)


async def told_by(widget: Widget | None) -> None:
    """Wait until what a widget had to tell has been heard by all that it stands in."""
    for hearer in widget.ancestors_with_self if widget is not None else ():
        if isinstance(hearer, Widget):
            await seen_by(hearer)
