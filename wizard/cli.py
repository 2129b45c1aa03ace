"""The command line. Whatever is slow to import is imported only by the command that needs it."""

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.environment import tell_libraries
from wizard.settings import THEMES
from wizard.sheet_choice import FORMS, SHEETS, Wanted, is_of_a_plan

if TYPE_CHECKING:
    from engine.planfile import PlanFileError

_INTERRUPTED = 130
"""What a shell expects of a command that ctrl+c has ended."""


class _Parser(argparse.ArgumentParser):
    """An argument parser that refuses in one sentence."""

    def error(self, message: str) -> "None":  # type: ignore[override]
        print(f"shaftlog: {message}. Try: shaftlog --help", file=sys.stderr)
        raise SystemExit(2)


def _wizard_parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="shaftlog",
        description="Plan a repower of a displacement boat: speed, power, engine, gear, propeller, shaft and range.",
        epilog="Further commands: 'shaftlog check PLAN' lists what is missing or wrong; "
        "'shaftlog report PLAN' prints the plan, and the sheets to order from, without the full screen.",
    )
    parser.add_argument("plan", nargs="?", metavar="PLAN", help="the plan to resume; without it, the list of plans")
    parser.add_argument("--plans", metavar="DIR", type=Path, help="the folder where plans live")
    parser.add_argument("--theme", metavar="NAME", type=_theme, help=f"colours: {_listed(THEMES)}")
    parser.add_argument("--ascii", action="store_true", help="draw with plain ASCII signs only")
    parser.add_argument("--keys", action="store_true", help="print what every key does, and stop")
    return parser


def _theme(word: str) -> str:
    if word not in THEMES:
        raise argparse.ArgumentTypeError(f"there is no theme '{word}'; the themes are {_listed(THEMES)}")
    return word


def _listed(words: Sequence[str]) -> str:
    """Words in a sentence: "day, night and terminal"."""
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _check_parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="shaftlog check", description="Print what is missing or wrong in a plan, one line each.")
    parser.add_argument("plan", metavar="PLAN", type=Path)
    parser.add_argument("--plans", metavar="DIR", type=Path, help="the folder where plans live")
    return parser


def _report_parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="shaftlog report", description="Print a plan with its answers and findings, or one sheet of it."
    )
    parser.add_argument("plan", metavar="PLAN", type=Path)
    parser.add_argument("--sheet", choices=SHEETS, default="plan", help="the whole plan when nothing is said")
    parser.add_argument("--format", choices=FORMS, default="text", help="text when nothing is said")
    parser.add_argument("--to", metavar="FILE", type=Path, help="write to a file, with csv to a folder")
    parser.add_argument("--plans", metavar="DIR", type=Path, help="the folder where plans live")
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Returns: 0 done, 1 a plan that is incomplete (check), 2 a sentence on stderr says why, 130 stopped with ctrl+c.
    """
    tell_libraries()
    words = list(sys.argv[1:] if arguments is None else arguments)
    words = _command_first(words)
    commands = {"check": (_check_parser, _check), "report": (_report_parser, _report)}
    try:
        if words and words[0] in commands:
            parser, command = commands[words[0]]
            return command(parser().parse_args(words[1:]))
        given = _wizard_parser().parse_args(words)
        return _print_keys() if given.keys else _open_wizard(given)
    except KeyboardInterrupt:
        return _INTERRUPTED


def _command_first(words: list[str]) -> list[str]:
    """`--plans DIR check PLAN` is read like `check --plans DIR PLAN`."""
    taken = 2 if words[:1] == ["--plans"] else 1 if words and words[0].startswith("--plans=") else 0
    if taken and len(words) > taken and words[taken] in ("check", "report"):
        return [words[taken], *words[:taken], *words[taken + 1 :]]
    return words


def _refuse(sentence: str) -> int:
    print(f"shaftlog: {sentence}", file=sys.stderr)
    return 2


def _printed(text: str, status: int = 0) -> int:
    """Print on standard output. Returns: the status given, or 2 where it cannot be written and a sentence says why."""
    if sys.stdout is None:
        return _refuse("Standard output is closed, so nothing can be printed.")
    sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
        return status
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # what is left over would fail again at the end
        if isinstance(error, BrokenPipeError):
            return status  # whoever reads has seen enough, as "head" does
        from engine.disk import why

        return _refuse(f"Not all could be printed: {why(error)}.")


def _refuse_file(error: "PlanFileError") -> int:
    from engine.planfile import NoFileError

    cure = " Name the file of a plan; shaftlog alone lists the plans." if isinstance(error, NoFileError) else ""
    return _refuse(f"{error}{cure}")


def _find(plan: Path, folder: Path | None) -> Path:
    """The plan the owner means: a path as given, else a name in the plans folder, with or without its ending."""
    from wizard.locations import plans_folder

    if os.path.exists(plan):  # a name that is too long is not there; plan.exists() would raise
        return plan
    folder = folder or plans_folder()
    if folder is None:
        return plan
    for name in (plan.name, f"{plan.name}.toml"):
        if len(plan.parts) == 1 and os.path.exists(folder / name):
            return folder / name
    return plan


def _check(given: argparse.Namespace) -> int:
    from engine.planfile import PlanFileError, read_plan_file, shown
    from wizard.handover import checked

    plan_path = _find(given.plan, given.plans)
    try:
        refusal, lines, is_sound = checked(read_plan_file(plan_path), shown(plan_path))
    except PlanFileError as error:
        return _refuse_file(error)
    if not refusal and is_sound:
        lines = [*lines, "complete: nothing is missing and nothing stops the plan."]
    status = _printed("".join(f"{line}\n" for line in lines), 0 if is_sound else 1)
    return _refuse(refusal) if refusal else status


def _report(given: argparse.Namespace) -> int:
    from datetime import date

    from engine.assessment import assess, search_market
    from engine.disk import Disk, why
    from engine.planfile import PlanFileError, load_plan, shown
    from wizard.handover import report
    from wizard.handover.files import files_of, write_files

    if given.format == "csv" and given.sheet != "plan":
        return _refuse("CSV holds the curves of the whole plan. Leave --sheet out, or take another format.")
    plan_path = _find(given.plan, given.plans)
    try:
        assessment = assess(load_plan(plan_path))
    except PlanFileError as error:
        return _refuse_file(error)
    market = search_market(assessment) if given.sheet == "plan" else None
    if given.to is None:
        text = report(assessment, given.format, date.today(), market, given.sheet)
        return _printed(text)
    wanted = Wanted(given.sheet, given.format, given.to)
    if wanted.is_folder and os.path.exists(given.to) and not os.path.isdir(given.to):
        return _refuse(f"{shown(given.to)} is a file, and the curves are one file each. Name a folder after --to.")
    if is_of_a_plan(given.to, plan_path):
        return _refuse(f"{shown(given.to)} is a plan, or a name for plans: no sheet is written there. Name another.")
    try:
        write_files(Disk(), wanted, files_of(assessment, wanted, date.today(), market))
    except OSError as error:
        return _refuse(f"The report could not be written to {shown(given.to)}: {why(error)}.")
    return 0


def _print_keys() -> int:
    from wizard.keys import LIST_ACTIONS, MOVING, PLAN_ACTIONS

    lines: list[str] = []
    for title, actions in (("While a plan is open", PLAN_ACTIONS), ("In the list of plans", LIST_ACTIONS)):
        lines += [title, *(f"  {each.key_names.ljust(20)}{each.title}. {each.tooltip}" for each in actions), ""]
    lines += ["Everywhere", *(f"  {keys}: {words}" for keys, words in MOVING)]
    return _printed("".join(f"{line}\n" for line in lines))


def _open_wizard(given: argparse.Namespace) -> int:
    from engine.planfile import PlanFileError, load_plan, shown
    from wizard.locations import plans_folder

    plan: Path | None = None
    if given.plan is not None:
        plan = _find(Path(given.plan), given.plans)
        try:
            load_plan(plan)
        except PlanFileError as error:
            return _refuse_file(error)
    streams = (sys.stdin, sys.stdout, sys.stderr)  # each None where it is closed
    if not all(stream is not None and stream.isatty() for stream in streams) or os.environ.get("TERM") == "dumb":
        return _refuse("The wizard needs a terminal. Without one, use: shaftlog report PLAN")
    folder = given.plans or plans_folder()
    if folder is None:
        return _refuse("No home folder is known here. Say where plans live: shaftlog --plans DIR")
    if os.path.exists(folder) and not os.path.isdir(folder):
        return _refuse(f"{shown(folder)} is a file, not a folder. Name a folder after --plans.")
    from wizard.app import run

    return run(plan, folder, given.theme or "", given.ascii)


if __name__ == "__main__":
    raise SystemExit(main())
