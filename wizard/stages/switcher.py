"""The pages of a plan, of which one shows."""

import asyncio

from textual.widgets import ContentSwitcher

from engine.plan import Plan
from wizard.stages.page import StagePage
from wizard.stages.review import ReviewPage


class PageSwitcher(ContentSwitcher):
    """Mounts a page on the first visit. Quick keys may ask for another one, or for the same, before it is there: they
    wait for it."""

    def __init__(self) -> None:
        super().__init__(id="pages")
        self._is_mounting = asyncio.Lock()
        self._opened: dict[str, StagePage | ReviewPage] = {}

    async def bring(self, page: str, plan: Plan, least: int) -> StagePage | ReviewPage | None:
        """A page, with all that stands on it, or so many parts of it; None when the plan has been closed meanwhile.

        least: as of `StagePage.put_up`.
        """
        async with self._is_mounting:
            if page not in self._opened:
                opened = ReviewPage(plan) if page == "review" else StagePage(plan, page)
                opened.display = False
                await self.mount(opened)
                if isinstance(opened, StagePage):
                    await opened.put_up(least)
                if not opened.is_attached:
                    return None
                self._opened[page] = opened
            return self._opened[page]
