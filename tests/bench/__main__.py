"""How fast it all is, as one table: `python -m tests.bench [--only NAME] [--quick]`. Prints; asserts nothing.

Every line stands beside a baseline of the same run where there is one, so that another machine, or a busy one, gives
about the same ratios.
"""

import argparse
from importlib import import_module

from engine.memory import keep_freed_memory
from tests.bench.lines import HEADS, printed
from wizard.environment import tell_libraries

BENCHES = ("command", "frame", "memory", "keys", "assess", "market", "growth")


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="How fast it all is.")
    parser.add_argument("--only", choices=BENCHES, action="append", help="one of them; may be given several times")
    parser.add_argument("--quick", action="store_true", help="a few rounds only, to see that it runs")
    given = parser.parse_args()
    tell_libraries()
    keep_freed_memory()
    print(printed(HEADS))
    for name in given.only or BENCHES:
        for line in import_module(f"tests.bench.bench_{name}").lines(given.quick):
            print(printed(line.row()), flush=True)


if __name__ == "__main__":
    main()
