"""Runs a command, ends it with all its processes after so many seconds, and prints how it ended, the seconds of
processors and the KiB of its largest process. Small, since a process is counted with the memory of the one it comes
from."""

import json
import os
import signal
import subprocess
import sys
from types import FrameType


def main() -> None:
    """The arguments are a file for what the command says, the seconds, and the command."""
    log, seconds, *command = sys.argv[1:]
    with open(log, "wb") as out:
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=out, stderr=out, start_new_session=True)

    def end(_: int, __: FrameType | None) -> None:
        os.killpg(process.pid, signal.SIGKILL)

    signal.signal(signal.SIGALRM, end)
    signal.alarm(int(float(seconds)))
    _, status, used = os.wait4(process.pid, 0)
    json.dump([os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime, used.ru_maxrss], sys.stdout)


if __name__ == "__main__":
    main()
