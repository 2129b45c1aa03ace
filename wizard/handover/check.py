"""Everything that is missing or wrong in the file of a plan, at once, each with its line."""

import re
import tomllib
from collections.abc import Iterable, Iterator

from engine.assessment import Assessment, assess
from engine.findings import Verdict
from engine.odd_keys import odd_keys
from engine.plan import STAGES, Problem
from engine.planfile import PlanFileError, decoded, plan_from_text, toml_trouble
from engine.toml_lines import Lines, Statement, lines_of

_AT = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_MOST = 50
"""Statements of a file that are left out one by one so that the rest can be read."""
_Placed = tuple[int | None, str]
"""What is missing or wrong, and its line; None when nothing in the file has to do with it."""


def checked(content: bytes, name: str) -> tuple[str, list[str], bool]:
    """What is missing or wrong in the file of a plan.

    name: what sentences call the file.   Returns: the sentence why it cannot be opened, "" when it can; a line for each
    thing, in the order of the file, at last what has no line in it; whether the plan is complete and nothing stops it.
    """
    try:
        plan = plan_from_text(content, name)
    except PlanFileError as error:
        return str(error), _in_order(_what_can_be_said(content, name)), False
    assessment = assess(plan)
    return "", _in_order(_placed(problems_of(assessment), lines_of(decoded(content)))), assessment.is_sound


def problems_of(assessment: Assessment) -> Iterator[Problem]:
    """What is odd, missing, unreadable or in the way, in the order of the stages."""
    yield from odd_keys(assessment.plan)
    for stage in STAGES:
        for problem in assessment.problems(stage):
            yield Problem(problem.path, f"{stage}: {problem.text}")
        for finding in assessment.outcomes[stage].findings:
            if finding.verdict is Verdict.STOP:
                yield Problem(finding.path, f"{stage}: stop: {finding.text}")


def _placed(problems: Iterable[Problem], lines: Lines) -> Iterator[_Placed]:
    for problem in problems:
        path = tuple(int(part) if part.isdigit() else part for part in problem.path.split(".") if part)
        yield lines.line_of(path), problem.text


def _in_order(found: Iterable[_Placed]) -> list[str]:
    """A sentence for each thing, as one goes down the file."""
    by_line = sorted(found, key=lambda placed: (placed[0] is None, placed[0] or 0))
    return [text if line is None else f"line {line}: {text}" for line, text in by_line]


def _what_can_be_said(content: bytes, name: str) -> Iterator[_Placed]:
    """The lines that are not TOML, then what is wrong in the rest."""
    try:
        text = decoded(content)
    except UnicodeDecodeError as error:
        yield content[: error.start].count(10) + 1, "the first sign that is not UTF-8."
        return
    rest = text.replace("\r\n", "\n").split("\n")
    lines = lines_of(text)
    for _ in range(_MOST):
        try:
            tomllib.loads("\n".join(rest))
            break
        except tomllib.TOMLDecodeError as error:
            place = _AT.search(str(error))
            is_placed = place is not None and place[1] is not None
            statement = lines.at_line(int(place[1])) if place and is_placed else _first_odd(lines, rest)
            if statement is None or not any(rest[statement.line - 1 : statement.last]):
                return
            yield statement.line, f"{_AT.sub('', toml_trouble(error))}."
            rest[statement.line - 1 : statement.last] = [""] * (statement.last + 1 - statement.line)
        except (ValueError, RecursionError):
            return
    try:
        plan = plan_from_text("\n".join(rest).encode(), name)
    except PlanFileError:
        return
    yield from _placed(problems_of(assess(plan)), lines)


def _first_odd(lines: Lines, rest: list[str]) -> Statement | None:
    """The first statement left that is not TOML by itself."""
    return next((each for each in lines.statements if each.trouble and rest[each.line - 1]), None)
