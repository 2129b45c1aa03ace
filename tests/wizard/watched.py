"""The wizard, watched: the network is forbidden, and every file that is written is noted.

python tests/wizard/watched.py LOG [words of the command line]
"""

import os
import socket
import sys

LOG = os.open(sys.argv[1], os.O_WRONLY | os.O_CREAT | os.O_APPEND)
CHANGES = {
    "os.rename": (0, 1),
    "os.remove": (0,),
    "os.mkdir": (0,),
    "os.rmdir": (0,),
    "os.symlink": (1,),
    "os.link": (1,),
}
NETWORK = (
    "socket.connect",
    "socket.bind",
    "socket.getaddrinfo",
    "socket.gethostby",
    "socket.sendto",
    "urllib.",
    "http.",
)


def note(word: str, what: object) -> None:
    os.write(LOG, f"{word}\t{os.fspath(what) if isinstance(what, str | os.PathLike) else what}\n".encode())


def watch(event: str, given: tuple[object, ...]) -> None:
    """Called by Python before it does anything that reaches the world outside."""
    if event.startswith(NETWORK) or (event == "socket.__new__" and given[1] not in (socket.AF_UNIX, -1)):
        note("network", event)
        raise PermissionError(f"{event} is forbidden here")
    if event == "open" and isinstance(given[2], int) and given[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
        note("written", given[0])
    for place in CHANGES.get(event, ()):
        note("written", given[place])
    if event in ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn"):
        note("program", given[0])


if __name__ == "__main__":
    sys.addaudithook(watch)
    from wizard.cli import main

    raise SystemExit(main(sys.argv[2:]))
