"""A sheet as JSON: every number in SI, or with its unit in its key."""

import json
import math
from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any

from engine.answers import row_tables
from engine.assessment import Assessment
from engine.bands import Band
from engine.findings import Outcome
from engine.migrations import FORMAT
from engine.plan import STAGES
from engine.plan_document import document_from_plan
from engine.quoting import HALVES
from wizard.handover.sheet import Sheet


def render_json(assessment: Assessment, market: Outcome[Any] | None = None) -> str:
    """The keys are `plan`, `stages` and `market`.

    Each stage has `answers` (null while it waits), `findings`, `missing` and `waits_for`; the market has the
    same without `missing`, or is null when it could not be searched.
    """
    stages: dict[str, Any] = {}
    for stage in STAGES:
        missing = [problem.text for problem in assessment.problems(stage)]
        stages[stage] = _outcome(assessment.outcomes[stage]) | {"missing": missing}
    found = market if market is not None and (market.answers is not None or market.findings) else None
    document = {
        "plan": _as_in_file(document_from_plan(assessment.plan)),
        "stages": stages,
        "market": None if found is None else _outcome(found),
    }
    return _dumped(document)


def sheet_json(sheet: Sheet) -> str:
    """An order sheet: its `fields` and `tables` by name, `reasons` not to use it yet, `second_looks` (all of them, also
    where paper has room for some), what is `assumed`, `cautions`."""
    return _dumped(
        {
            "sheet": sheet.key,
            "plan": sheet.name,
            "plan_format": FORMAT,
            "reasons": sheet.reasons,
            "second_looks": sheet.second_looks,
            "fields": {line.key: _plain(line.value) for line in sheet.lines},
            "tables": {each.key: [_answers(row) for row in each.rows] for each in sheet.tables},
            "assumed": [asdict(each) for each in sheet.assumed],
            "cautions": sheet.cautions,
        }
    )


def _as_in_file(value: Any) -> Any:
    """A part of the plan as its file has it; a number that JSON has none for as a word, "nan" or "inf"."""
    if isinstance(value, Mapping):
        return {key: _as_in_file(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_as_in_file(item) for item in value]
    return str(value) if isinstance(value, float) and not math.isfinite(value) else value


def _dumped(document: Mapping[str, Any]) -> str:
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False, default=str)
    return HALVES.sub(lambda half: f"\\u{ord(half[0]):04x}", text) + "\n"


def _outcome(outcome: Outcome[Any]) -> dict[str, Any]:
    return {
        "answers": None if outcome.answers is None else _answers(outcome.answers),
        "findings": [
            {"verdict": finding.verdict.value, "text": finding.text, "source": finding.source}
            for finding in outcome.findings
        ],
        "waits_for": outcome.waits_for,
    }


def _answers(answers: Any) -> dict[str, Any]:
    simple = {
        item.name: _plain(getattr(answers, item.name))
        for item in fields(answers)
        if "label" in item.metadata or "detail" in item.metadata
    }
    return simple | {name: [_answers(row) for row in rows] for name, _, rows in row_tables(answers)}


def _plain(value: Any) -> Any:
    """A JSON value; what is not a finite number becomes null."""
    if isinstance(value, Mapping):
        return {key: _plain(item) for key, item in value.items()}
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, Band):
        return {part: _plain(getattr(value, part)) for part in ("best", "low", "high")}
    number = float(value)
    return number if math.isfinite(number) else None
