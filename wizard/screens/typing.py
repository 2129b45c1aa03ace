"""Keys that come faster than the screen is drawn: it is handed a key before a slow field has seen those before it."""

import asyncio
import contextlib

from textual.widget import Widget

_PATIENCE, _LOOKS = 2.0, 0.05
"""Seconds to wait for a field at most, longer than any takes and short enough if one has stopped; and between two looks
whether it is still there."""


async def seen_by(widget: Widget | None) -> None:
    """Wait until a widget has got all keys that were typed into it."""
    if widget is None:
        return
    has_seen_all = asyncio.Event()
    widget.call_later(has_seen_all.set)
    looks = round(_PATIENCE / _LOOKS)
    while looks and widget.is_attached and not has_seen_all.is_set():
        looks -= 1
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(has_seen_all.wait(), _LOOKS)


async def heard(widget: Widget) -> None:
    """Wait until what the keys typed into a widget come to has been heard by its screen: the widget tells it, or what
    it stands in does when the widget has told that."""
    await seen_by(widget)
    for _ in range(2):
        for hearer in widget.ancestors_with_self:
            if isinstance(hearer, Widget):
                await seen_by(hearer)
