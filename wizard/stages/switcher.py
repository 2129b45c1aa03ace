"""The pages of a plan, of which one shows."""

import asyncio

from textual.widgets import ContentSwitcher

from engine.plan import Plan
from wizard.stages.page import StagePage
from wizard.stages.review import ReviewPage
from wizard.widgets.styled import LaidOutOnce


class PageSwitcher(LaidOutOnce, ContentSwitcher):
    """Mounts a page on the first visit. Quick keys may ask for another one, or for the same, before it is there: they
    wait for it.

    opened: the pages that are there, by name.
    """

    def __init__(self) -> None:
        super().__init__(id="pages")
        self._is_mounting = asyncio.Lock()
        self.opened: dict[str, StagePage | ReviewPage] = {}

    async def bring(self, page: str, plan: Plan, least: int, last: str = "") -> bool:
        """Have a page there, with all that stands on it, or so many parts of it.

        least: as of `StagePage.put_up`.   last: the field on which it was left; "" while it was not.
        Returns: False when the plan has been closed meanwhile.
        """
        async with self._is_mounting:
            if page not in self.opened:
                opened = ReviewPage(plan) if page == "review" else StagePage(plan, page, last)
                opened.display = False
                await self.mount(opened)
                if isinstance(opened, StagePage):
                    await opened.put_up(least)
                if not opened.is_attached:
                    return False
                self.opened[page] = opened
        return True
