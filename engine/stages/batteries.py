"""The battery of an electric candidate, and the losses between it and the motor's shaft."""

from engine.defaults import amount, amount_or_none, word
from engine.machinery.electric import BATTERY_KINDS, Battery, chain_efficiency
from engine.reading import volts_of
from engine.sections.electric import Motor


def battery_of(motor: Motor) -> Battery | None:
    """The battery; None while its energy is missing."""
    if motor.battery is None:
        return None
    kind = BATTERY_KINDS[word(motor, "battery_kind")]
    usable = amount_or_none(motor, "usable")
    return Battery(
        capacity=motor.battery.si,
        usable_fraction=kind.usable_fraction if usable is None else usable,
        end_of_life_fraction=amount(motor, "aged"),
    )


def voltage_of(motor: Motor) -> float | None:
    """Voltage of the battery [V]: given for itself, else that which its energy is written with; None while neither is
    known."""
    given = amount_or_none(motor, "voltage")
    if given is not None:
        return given
    return None if motor.battery is None else volts_of(motor.battery)


def chain_of(motor: Motor) -> float:
    """Efficiency from the battery's rated energy to the motor's shaft [-]: the owner's, else the usual product."""
    given = amount_or_none(motor, "chain_efficiency")
    if given is not None:
        return given
    return float(chain_efficiency(battery=BATTERY_KINDS[word(motor, "battery_kind")].discharge_efficiency))
