"""Runs the program as on Windows, as far as that can be had on another system: `python -m tests.platforms.windows check
ACADEMY`.

Gone is what POSIX alone has: calls, flags, signals, modules, the C library by no name, the system's time zones. Refused
is what Windows refuses: to open a folder, to bring a file to the disk that cannot be written to, to replace or remove
what this process has open (a folder around it too), to rename to a name that is taken, names of devices. Rights mean
nothing: whatever is made can be read by everybody, and chmod changes nothing. What is printed has the line ends of
Windows. Text that is read or written in the system's own encoding is an error.

A worker runs this module too: it is the main module, and that is loaded anew in each process that is spawned.
"""

import ctypes  # noqa: F401  # loads the interpreter itself by no name, which must not be refused
import errno
import fcntl
import getpass  # noqa: F401  # asks for terminals while it is loaded
import multiprocessing.popen_spawn_posix  # noqa: F401  # spawns as this system does
import os
import shutil
import signal
import subprocess  # noqa: F401
import sys
import time
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import filelock

from tests.platforms.windows_names import is_refused

CALLS = (
    "chown", "fchmod", "fchown", "fdatasync", "fork", "forkpty", "fwalk", "getegid", "geteuid", "getgid", "getgroups",
    "getloadavg", "getpgid", "getpgrp", "getuid", "killpg", "lchown", "lockf", "mkfifo", "mknod", "nice", "openpty",
    "pathconf", "posix_fadvise", "setsid", "statvfs", "sync",
    "O_DIRECTORY", "O_NOCTTY", "O_NOFOLLOW", "O_SYNC",
)  # fmt: skip
SIGNALS = ("SIGALRM", "SIGHUP", "SIGPIPE", "SIGQUIT", "SIGTSTP", "SIGUSR1", "SIGUSR2", "SIGXFSZ", "alarm", "setitimer")
MODULES = ("fcntl", "grp", "pty", "pwd", "resource", "syslog", "termios", "tty")
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class InUseError(PermissionError):
    """What Windows says of a file that is open elsewhere."""

    winerror = 32


class _LockOfItsOwn:
    """In the place of the lock that the library has for Windows alone: held by whoever makes the file."""

    def __init__(self, file: Path, timeout: float, mode: int) -> None:
        self._file = file

    def acquire(self) -> None:
        try:
            os.close(os.open(self._file, os.O_CREAT | os.O_EXCL))
        except FileExistsError:
            raise filelock.Timeout(str(self._file)) from None

    def release(self) -> None:
        os.unlink(self._file)


def take_away() -> None:
    """Leave this process what it would have on Windows."""
    for module, names in ((os, CALLS), (signal, SIGNALS), (time, ("tzset",))):
        for name in names:
            if hasattr(module, name):
                delattr(module, name)
    writable = _is_writable  # it needs one of the modules
    for name in MODULES:
        sys.modules[name] = None  # type: ignore[assignment]  # whoever imports it is told that it is not there
    shutil._use_fd_functions = False  # type: ignore[attr-defined]  # they open folders
    os.umask(0)
    os.chmod = lambda *values, **named: None
    os.open = _without_mode(os.open, 0o666)
    os.mkdir = _without_mode(os.mkdir, 0o777)
    os.rename, os.fsync = _renaming(os.rename), _bringing_to_the_disk(os.fsync, writable)
    warnings.filterwarnings("ignore", category=EncodingWarning)
    warnings.filterwarnings("error", category=EncodingWarning, module=r"reportgen\b")
    filelock.FileLock = _LockOfItsOwn  # type: ignore[misc,assignment]
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(newline="\r\n")  # type: ignore[union-attr]
    sys.addaudithook(_refuse)


def _refuse(event: str, values: tuple[Any, ...]) -> None:
    if event == "ctypes.dlopen" and values[0] is None:
        raise TypeError("a library has a name")
    if event == "open" and isinstance(values[0], (str, bytes, Path)):
        path = Path(os.fsdecode(values[0]))
        if values[2] & WRITES:
            _check_name(path)
        if path.is_dir():
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
    elif event == "os.mkdir":
        _check_name(Path(os.fsdecode(values[0])))
    elif event in ("os.remove", "os.rmdir"):
        _check_not_open(values[0])
    elif event == "os.rename":
        _check_name(Path(os.fsdecode(values[1])))
        _check_not_open(*values[:2])
        if os.path.isdir(values[1]):
            raise PermissionError(errno.EACCES, "Access is denied", values[1])


def _check_name(path: Path) -> None:
    if is_refused(path.name) and not path.is_relative_to("/dev"):
        raise OSError(errno.EINVAL, "The filename, directory name, or volume label syntax is incorrect", str(path))


def _check_not_open(*places: Any) -> None:
    wanted = [os.path.realpath(os.fsdecode(place)) for place in places]
    for number in os.listdir("/proc/self/fd"):
        try:
            opened = os.readlink(f"/proc/self/fd/{number}")
        except OSError:
            continue  # what the list itself was read from
        for place in wanted:
            if opened == place or opened.startswith(place + os.sep):
                raise InUseError(errno.EACCES, "The process cannot access the file, it is being used", opened)


def _without_mode(call: Callable[..., Any], mode: int) -> Callable[..., Any]:
    if mode == 0o777:
        return lambda path, _=mode, **named: call(path, mode, **named)
    return lambda path, flags, _=mode, **named: call(path, flags, mode, **named)


def _renaming(rename: Callable[..., None]) -> Callable[..., None]:
    def renaming(old: Any, new: Any, **named: Any) -> None:
        if os.path.lexists(new):
            raise FileExistsError(errno.EEXIST, "Cannot create a file when that file already exists", old, None, new)
        rename(old, new, **named)

    return renaming


def _bringing_to_the_disk(fsync: Callable[[int], None], writable: Callable[[int], bool]) -> Callable[[int], None]:
    def bringing(number: int) -> None:
        if not writable(number):
            raise OSError(errno.EBADF, "Bad file descriptor")
        fsync(number)

    return bringing


def _is_writable(number: int, get_flags: Callable[..., int] = fcntl.fcntl, which: int = fcntl.F_GETFL) -> bool:
    return bool(get_flags(number, which) & (os.O_WRONLY | os.O_RDWR))


take_away()

from tests.printed_once import keep_prints  # noqa: E402  # what it loads is loaded as on Windows

keep_prints()

if __name__ == "__main__":
    from reportgen.__main__ import main

    main()
