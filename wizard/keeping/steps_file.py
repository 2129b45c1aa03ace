"""The steps of a plan on disk, beside its file, so that changes can be taken back after a restart."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from engine.disk import Disk, hidden_path
from engine.plan import Plan
from engine.plan_document import document_from_plan
from wizard.history import MOST, History, Step, difference, flat
from wizard.keeping.side_file import write_aside

STEPS = ".steps"
_FORMAT = 1


def steps_path(plan_path: Path) -> Path:
    """The hidden file that holds the steps of a plan."""
    return hidden_path(plan_path, STEPS)


def save_steps(disk: Disk, history: History, plan: Plan, plan_path: Path) -> None:
    """Keep the steps that lead to this plan. They are a comfort, not the work itself: a failure is passed over."""
    import tomli_w

    steps = [{"path": step.path, "was": dict(step.was), "now": dict(step.now)} for step in history.steps]
    document = {"format": _FORMAT, "at": history.at, "plan": document_from_plan(plan), "step": steps}
    write_aside(disk, steps_path(plan_path), tomli_w.dumps(document))


def load_steps(disk: Disk, plan: Plan, plan_path: Path) -> History:
    """The steps that lead to this plan; none when there is no readable file of them.

    When the plan is not the one that the steps lead to, because another program changed it or a crash came between,
    the difference is one more step.
    """
    try:
        document = tomllib.loads(disk.read(steps_path(plan_path)).decode("utf-8"))
        return _history(document, plan)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        return History()


def _history(document: Mapping[str, Any], plan: Plan) -> History:
    if document["format"] != _FORMAT:
        return History()
    steps = tuple(Step(str(row["path"]), dict(row["was"]), dict(row["now"])) for row in document["step"])
    history = History(steps, min(max(int(document["at"]), 0), len(steps)))
    was, now = difference(flat(document["plan"]), flat(document_from_plan(plan)))
    if not was and not now:
        return history
    done = (*history.steps[: history.at], Step("", was, now))[-MOST:]
    return History(done, len(done))
