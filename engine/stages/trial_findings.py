"""What there is to say of the sea trial: the propeller, the cause, what changed, and whether it was a fair one."""

from collections.abc import Iterator

from engine.defaults import word
from engine.findings import Finding, fits, look
from engine.machinery.sea_trial import trial_conditions
from engine.plan import needs_fuel
from engine.sections.present import NOT_CHECKED
from engine.stages.drive import DieselDrive
from engine.stages.log_findings import trial_log_findings
from engine.stages.seasons import season_findings
from engine.stages.trial_answers import TrialAnswers
from engine.stages.trial_cause import cause_finding, tells_apart
from engine.stages.trial_checks import fairness_findings, vibration_findings
from engine.stages.trial_judged import JudgedTrial
from engine.stages.trial_propeller import may_be_out, propeller_finding
from engine.stages.wording import Wording, listed

_COMPARED = "the boats before the trial with the propeller that was fitted, by the series that stands for it"


def trial_findings(trial: JudgedTrial, answers: TrialAnswers) -> Iterator[Finding]:
    """Sentences on the trial, then on the seasons after it; before it, how to make one."""
    plan = trial.plan
    if not plan.trial.run:
        yield fits(
            "No trial is entered yet. Print the trial card, run her by it, and enter the runs here. A fair trial: "
            f"{trial_conditions(burns_fuel=needs_fuel(plan))}",
            "general practice, from memory",
        )
    if trial.has_log and trial.fitted is None:
        yield _unused_finding(trial)
    elif plan.trial.run:
        yield from _run_findings(trial, answers)
    if trial.seasons is not None:
        yield from season_findings(plan, trial.seasons, trial.cleaning)


def _unused_finding(trial: JudgedTrial) -> Finding:
    """What has to be said before the readings count; what the plan has chosen need not be said again."""
    plan = trial.plan
    asked = {
        "gear_ratio": ("ratio", plan.gear.ratio),
        "propeller_diameter": ("diameter", plan.propeller.diameter),
        "propeller_pitch": ("pitch", plan.propeller.pitch),
    }
    missing = {
        name: word for name, (word, chosen) in asked.items() if getattr(plan.trial, name) is None and chosen is None
    }
    words = listed([*missing.values()] or ["pitch"])
    verb = "were" if len(missing) > 1 else "was"
    want = "" if missing else ", one that the series of tested propellers describes"
    return look(
        f"What you have read after the repower is not used yet: say which {words} {verb} fitted{want}. "
        f"The plan has {trial.propeller.size} and a ratio of {trial.ratio:.4g}:1.",
        _COMPARED,
        f"trial.{next(iter(missing), 'propeller_pitch')}",
    )


def _run_findings(trial: JudgedTrial, answers: TrialAnswers) -> Iterator[Finding]:
    book, is_electric = trial.hull.trial, not isinstance(trial.drive, DieselDrive)
    tachometer = word(trial.plan.trial, "tachometer")
    if trial.verdict is not None:
        fastest = max((run for run in book.readings if run.full_throttle), key=lambda run: run.engine_speed)
        doubted = book.left_out.get(fastest.index, "")
        say = Wording(trial.plan.units)
        out = may_be_out(tachometer)
        yield propeller_finding(say, trial.verdict, trial.diagnosis, doubted, out=out, is_electric=is_electric)
    if trial.diagnosis is not None:
        more, is_unchecked = tells_apart(trial.sound, is_electric), tachometer == NOT_CHECKED
        yield cause_finding(trial.diagnosis, is_electric, book.steady_fault, more, is_unchecked=is_unchecked)
    yield from _change_findings(answers)
    yield from _other_wheel_findings(trial)
    yield from trial_log_findings(book)
    yield from fairness_findings(trial.plan, book.readings)
    yield from (check.finding for check in trial.checks if check.finding is not None)
    yield from vibration_findings(trial.plan)


def _other_wheel_findings(trial: JudgedTrial) -> Iterator[Finding]:
    """Whether the other pages reckon with what was fitted; where that is wrong, the plan may have what comes next."""
    if trial.fitted is None or trial.is_of_plan:
        return
    choose = "choose it on the gear and propeller pages, so that range and costs are those of the boat as she is."
    if trial.verdict is None or trial.verdict.is_right:
        to_do = choose.capitalize()
    else:
        to_do = (
            "If the plan has what comes next, leave it so: the other pages tell what that will do, and this one judges "
            "what was fitted. Once it is in her, say so here, with new runs in place of these. If nothing is to be "
            f"changed, {choose}"
        )
    yield look(
        f"What was fitted ({trial.size[0]}, ratio {trial.fitted.ratio:g}) is not what the plan has "
        f"({trial.propeller.size}, ratio {trial.ratio:g}). {to_do}",
        "both as entered",
        "propeller.diameter",
    )


def _change_findings(answers: TrialAnswers) -> Iterator[Finding]:
    """What the trial has changed in the plan."""
    before, after = answers.cruise_rpm, answers.after_cruise_rpm
    if after is not None and before.is_known and after.is_known:
        yield fits(
            f"The trial weighs the boats again: engine speed at cruise was {before.best:.0f} rpm "
            f"({before.low:.0f} to {before.high:.0f}), and is {after.best:.0f} rpm ({after.low:.0f} to "
            f"{after.high:.0f}) now. Power, range and cost follow on their pages.",
            "the plausible boats weighed by how well each explains the runs",
        )
