"""What there is to say about the owner's log: rows that count, rows that do not and why, how far it carries."""

from collections.abc import Iterator

from engine.constants import RPM
from engine.findings import Finding, fits, look
from engine.plan import Plan
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.logbook import Logbook
from engine.stages.logged_drive import Reading
from engine.stages.wording import percent

_EQUILIBRIUM = (
    "the series nearest to the present propeller (flat-faced for three or four blades), in equilibrium with the hull"
)
_EVIDENCE = f"{_EQUILIBRIUM}; evidence weighed as in Kass and Raftery (1995), stray rows as in Box and Tiao (1968)"
_FEW_BOATS = 100.0
"""An effective size of the fleet below this makes the band itself unsure (ours)."""


def trial_log_findings(logbook: Logbook) -> Iterator[Finding]:
    """Sentences about the runs of the sea trial as evidence; none while there are none that can be read."""
    if logbook.readings:
        yield from _findings(logbook, "trial.run", "trial.propeller_pitch")


def log_findings(plan: Plan, logbook: Logbook) -> Iterator[Finding]:
    """Sentences about the log of a plan; none while there is no log."""
    if not plan.present.log:
        return
    if not logbook.readings:
        yield look(
            "The log is not used yet: each row wants rpm and speed, and the present gear ratio, diameter and pitch are "
            f"needed, with a pitch of {WAGENINGEN_B.pitch_ratio[0]:g} to {WAGENINGEN_B.pitch_ratio[1]:g} diameters.",
            _EQUILIBRIUM,
            "present.gear_ratio",
        )
        return
    yield from _findings(logbook, "present.log", "present.propeller_pitch")


def _findings(logbook: Logbook, rows: str, pitch: str) -> Iterator[Finding]:
    """What counts of a log and what does not.   rows, pitch: the paths of its rows and of the propeller's pitch."""
    if logbook.conditioned is None:
        reasons = sorted(set(logbook.left_out.values()))
        yield look(f"No row of the log counts: {'; '.join(reasons)}. {_cure(logbook)}", _EVIDENCE, rows)
        return
    for reading in logbook.readings:
        if reading.index in logbook.left_out:
            yield look(f"{_row_words(reading)} is left out: {logbook.left_out[reading.index]}.", _EVIDENCE, rows)
        elif reading.index in logbook.fuel_left_out:
            yield look(
                f"The fuel flow of {_row_words(reading).replace('The', 'the')} is left out: it does not go with the "
                "power that rpm and speed tell of.",
                _EVIDENCE,
                rows,
            )
    after = logbook.conditioned
    text = (
        f"{_rows(logbook.used)} of the log {'counts' if logbook.used == 1 else 'count'}; "
        f"{after.effective_size:.0f} of {after.fleet.size} boats still carry weight."
    )
    if after.tempering < 1.0:
        yield look(
            f"{text} The log is sharper than the boats can follow, so it counts with {percent(after.tempering)} of its "
            "weight. Look again at the dimensions and at the propeller that it was taken with.",
            _EVIDENCE,
            pitch,
        )
    elif after.effective_size < _FEW_BOATS:
        yield look(f"{text} They are few: the bands are rough.", _EVIDENCE, rows)
    else:
        yield fits(text, _EVIDENCE)


def _cure(logbook: Logbook) -> str:
    steady = logbook.steady
    if steady is None or steady.kind == "none":
        return "Take the readings again, steady, both ways over the same stretch."
    if steady.is_ambiguous:
        return "A tachometer and a current would both explain it: check the one, and take speeds both ways."
    if steady.kind == "tachometer":
        return "Check the tachometer with an optical one, or look again at gear ratio, diameter and pitch."
    return "Take the speeds again, both ways over the same stretch, or through the water."


def _row_words(reading: Reading) -> str:
    return f"The row of {reading.engine_speed / RPM:.0f} rpm and {reading.speed_kn:.1f} kn"


def _rows(count: int) -> str:
    return "One row" if count == 1 else f"{count} rows"
