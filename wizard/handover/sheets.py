"""The sheets that leave the boat, by their keys."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from engine.assessment import Assessment
from wizard.handover import engine_enquiry, propeller_order, trial_card, yard
from wizard.handover.lines import Asked
from wizard.handover.sheet import Sheet

ORDER_SHEETS: Mapping[str, Callable[[Asked], Sheet]] = {
    "propeller": propeller_order.propeller_order,
    "engine": engine_enquiry.engine_enquiry,
    "yard": yard.yard_sheet,
    "trial": trial_card.trial_card,
}
"""Key, as in `wizard.sheet_choice.SHEETS` -> what makes the sheet."""


def order_sheet(key: str, assessment: Assessment) -> Sheet:
    """One of the order sheets. Raises: KeyError for another key."""
    asked = Asked(assessment)
    return replace(ORDER_SHEETS[key](asked), of_motor=asked.is_electric)
