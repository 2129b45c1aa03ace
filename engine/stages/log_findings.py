"""What there is to say of a log, and of the sea trial as one: what counts, what does not, and how far it carries."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.constants import MONTH, RPM
from engine.defaults import amount
from engine.findings import Finding, fits, look
from engine.plan import Plan
from engine.propeller.wageningen import WAGENINGEN_B
from engine.showing import numbered, share_of_boats
from engine.stages.blades import LIGHT_GROWTH, growth_is_beyond
from engine.stages.logbook import NO_RESISTANCE, STRAY, Logbook
from engine.stages.wording import months_of, percent


@dataclass(frozen=True)
class _Kind:
    """How a kind of log is spoken of.   name: with its article.   row: one reading of it.   propeller: it is read by.

    rows, pitch: the paths of its rows and of the propeller's pitch.
    """

    name: str
    row: str
    propeller: str
    rows: str
    pitch: str

    @property
    def equilibrium(self) -> str:
        """Where what is said of it is from."""
        return (
            f"the series nearest to the {self.propeller} (flat-faced for three or four blades), in equilibrium with "
            "the hull"
        )

    @property
    def evidence(self) -> str:
        """Where it is from that a row counts, or does not."""
        return (
            f"{self.equilibrium}; evidence weighed as in Kass and Raftery (1995), stray {self.row}s as in Box and "
            "Tiao (1968)"
        )

    def counted(self, count: int) -> str:
        """Some of its rows."""
        return f"One {self.row}" if count == 1 else numbered(count, self.row)


_LOG = _Kind("the log", "row", "present propeller", "present.log", "present.propeller_pitch")
_TRIAL = _Kind("the trial", "run", "propeller that was fitted", "trial.run", "trial.propeller_pitch")
_FEW_BOATS = 100.0
"""An effective size of the fleet below this makes the band itself unsure (ours)."""


def trial_log_findings(logbook: Logbook) -> Iterator[Finding]:
    """Sentences about the runs of the sea trial as evidence; none while there are none that can be read."""
    if logbook.readings:
        yield from _findings(logbook, _TRIAL)


def log_findings(plan: Plan, logbook: Logbook) -> Iterator[Finding]:
    """Sentences about the log of a plan; none while there is no log."""
    if not plan.present.log:
        return
    if plan.hull.propeller_place is None:
        text = "The log is not used yet: it is read by where the propeller works, which is not said."
        yield look(text, _LOG.equilibrium, "hull.propeller_place")
        return
    if not logbook.readings:
        yield look(
            "The log is not used yet: each row wants rpm and speed, and the present gear ratio, diameter and pitch are "
            f"needed, with a pitch of {WAGENINGEN_B.pitch_ratio[0]:g} to {WAGENINGEN_B.pitch_ratio[1]:g} diameters.",
            _LOG.equilibrium,
            "present.gear_ratio",
        )
        return
    yield from _findings(logbook, _LOG)
    months = amount(plan.present, "time_since_cleaning") / MONTH
    if logbook.conditioned is not None and growth_is_beyond(months):
        height = LIGHT_GROWTH.roughness_height * 1e6
        yield look(
            f"After {months_of(months)} the wheel that the log was read with may have carried barnacles. It is read as "
            f"one with light growth ({height:.0f} micrometres), so what more it took is put down to hull or pitch. "
            "Log her again after cleaning.",
            "ITTC (1978), blade roughness, from memory; months and heights are ours",
            "present.time_since_cleaning",
        )


def _findings(logbook: Logbook, kind: _Kind) -> Iterator[Finding]:
    """What counts of a log and what does not."""
    if logbook.conditioned is None:
        reasons = sorted(set(logbook.left_out.values()))
        cure, path = _cure(logbook), kind.rows
        if reasons == [NO_RESISTANCE]:
            cure, path = "Choose another method on the power page, or all that apply.", "power.method"
        yield look(f"No {kind.row} of {kind.name} counts: {'; '.join(reasons)}. {cure}", kind.evidence, path)
        return
    for reading in logbook.readings:
        words = f"{kind.row} of {reading.engine_speed / RPM:.0f} rpm and {reading.speed_kn:.1f} kn"
        if reading.index in logbook.left_out:
            why = logbook.left_out[reading.index]
            cure = " A current, a wind or a slip may be in it: take it again, both ways." if why == STRAY else ""
            yield look(f"The {words} is left out: {why}.{cure}", kind.evidence, kind.rows)
        elif reading.index in logbook.fuel_left_out:
            yield look(
                f"The fuel flow of the {words} is left out: it does not go with the power that rpm and speed tell of.",
                kind.evidence,
                kind.rows,
            )
    after = logbook.conditioned
    boats = share_of_boats(after.effective_size / after.fleet.size)
    text = (
        f"{kind.counted(logbook.used)} of {kind.name} {'counts' if logbook.used == 1 else 'count'}; "
        f"{boats} boats still carry weight."
    )
    if after.tempering < 1.0:
        yield look(
            f"{text} {kind.name.capitalize()} is sharper than the boats can follow, so it counts with "
            f"{percent(after.tempering)} of its weight. Look again at the dimensions and at the propeller that it was "
            "taken with.",
            kind.evidence,
            kind.pitch,
        )
    elif after.effective_size < _FEW_BOATS:
        yield look(f"{text} They are few: the bands are rough.", kind.evidence, kind.rows)
    else:
        yield fits(text, kind.evidence)


def _cure(logbook: Logbook) -> str:
    steady = logbook.steady
    if steady is None:
        return "Take the readings again, steady, both ways over the same stretch."
    if steady.is_ambiguous:
        return "A tachometer and a current would both explain it: check the one, and take speeds both ways."
    if steady.kind == "tachometer":
        return "Check the tachometer with an optical one, or look again at gear ratio, diameter and pitch."
    return "Take the speeds again, both ways over the same stretch, or through the water."
