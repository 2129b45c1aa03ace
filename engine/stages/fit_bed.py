"""Room for the engine and the way in, and what its mounts must bear."""

from collections.abc import Iterator
from typing import Any

from engine.findings import fits
from engine.machinery.engine_bed import mount_loads
from engine.machinery.engine_room import BEARER_MISMATCH, CLEARANCE, SERVICE_SPACE
from engine.machinery.standards import named
from engine.plan import Plan
from engine.stages.engine import EngineAnswers
from engine.stages.fit_answers import Check, CheckRow, checked
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.shaft_size import gear_torque
from engine.stages.wording import Wording
from engine.units import Quantity

_ROOM = (
    "25 mm (1 in) all round: one maker, printed; access: ours; the engine maker's drawing and "
    f"{named('ABYC P-4')} decide"
)
_BED = f"statics of four mounts; the engine maker's drawing and {named('ABYC P-4')} decide"


def room_checks(plan: Plan, engine: EngineAnswers) -> Iterator[Check]:
    """Length, width and height against the clear room, and the smaller sides against the way in.

    Two engines stand side by side, with a gap between them.
    """
    say, item, asked = Wording(plan.units), engine.chosen.item, plan.fit
    for name, size, there, path in (
        ("length", item.length, asked.room_length, "fit.room_length"),
        ("width", item.width, asked.room_width, "fit.room_width"),
        ("height", item.height, asked.room_height, "fit.room_height"),
    ):
        if size is None:
            continue
        abreast = engine.engines if name == "width" else 1
        yield _side_check(say, name, abreast, abreast * size.si + (abreast + 1) * CLEARANCE, there, path)
    if item.width is not None and item.height is not None and asked.opening_width is not None:
        smallest = min(item.width.si, item.height.si)
        yield checked(
            "opening on the way in",
            f"at least {say.size(smallest)}",
            asked.opening_width,
            say.size,
            holds=lambda width: width >= smallest,
            why="The engine does not go through: take it apart, or open the deck.",
            source=_ROOM,
            path="fit.opening_width",
        )


def _side_check(say: Wording, name: str, abreast: int, needed: float, there: Quantity | None, path: str) -> Check:
    together = f", {abreast} side by side" if abreast > 1 else ""
    return checked(
        f"clear {name} of the engine room{together}",
        f"at least {say.size(needed)}",
        there,
        say.size,
        holds=lambda clear: clear >= needed,
        why=f"It needs {say.size(CLEARANCE)} all round, and {say.size(SERVICE_SPACE)} on one side to reach filters "
        "and pump.",
        source=_ROOM,
        path=path,
    )


def bed_checks(plan: Plan, engine: EngineAnswers, propeller: PropellerAnswers) -> tuple[list[Check], dict[str, Any]]:
    """The bearers, and the loads on the mounts, where weight and places are known; figures of the answers by name."""
    item, asked, checks = engine.chosen.item, plan.fit, list(_bearer_checks(plan))
    places = asked.mounts_ahead, asked.mounts_behind, asked.mount_track
    if item.weight is None or any(place is None for place in places):
        return checks, {}
    ahead, behind, track = (place.si for place in places if place is not None)
    thrust = max(propeller.thrust_n.best, propeller.static_thrust_n.best)
    torque = gear_torque(engine.drive, propeller.wheel.setting.ratio)
    loads = mount_loads(item.weight.si, ahead, behind, track, torque, thrust)
    say = Wording(plan.units)
    words = (
        f"fore {say.force(loads.fore)}, aft {say.force(loads.aft)} each; torque adds {say.force(loads.torque)} to each "
        f"on one side; thrust {say.force(loads.thrust)} on all"
    )
    text = (
        f"The heaviest mount bears {say.force(loads.heaviest)}: {words}. Order mounts for that, set so that all of "
        "them give alike, and tie the bearers to frames as far as the room allows."
    )
    row = CheckRow(item="load on the mounts", wanted="mounts and bed to bear it", yours=words, standing="look at it")
    checks.append(Check(row, fits(text, _BED, "fit.mount_track")))
    return checks, {"mount_load_n": loads.heaviest}


def _bearer_checks(plan: Plan) -> Iterator[Check]:
    """The track of the new mounts against the bearers that are there; nothing while that track is not known."""
    say, track = Wording(plan.units), plan.fit.mount_track
    if track is not None:
        yield checked(
            "bearers apart",
            f"{say.size(track.si)}, as the new mounts",
            plan.fit.bearers_apart,
            say.size,
            holds=lambda apart: abs(apart - track.si) <= BEARER_MISMATCH,
            why="Build the beds up or widen them, tied to the frames, or ask for other mount brackets.",
            source=_BED,
            path="fit.bearers_apart",
        )
