"""Being stopped: a signal to end becomes an orderly unwinding, so that whatever was started ends too."""

import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

# What asks a program to end: the player, the system, a terminal that closes; by name, for a system may lack one.
_ENDING = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
_USUAL = (signal.SIG_DFL, signal.default_int_handler)
_AGAIN = 0.02  # seconds until a signal is raised again that came where Python drops what is raised


class Stopped(BaseException):
    """We were asked to end; no error of the request or the run, so nothing below the command line catches it."""

    def __init__(self, number: int) -> None:
        """Keep the number of the signal."""
        super().__init__(number)
        self.exit_code = 128 + number


@contextmanager
def unwinding() -> Iterator[None]:
    """Have a signal to end raise Stopped meanwhile; one that is ignored already, as under nohup, stays ignored."""
    ours = [number for number in _ENDING if signal.getsignal(number) in _USUAL]
    before = [signal.signal(number, _unwind) for number in ours]
    told, sys.unraisablehook = sys.unraisablehook, _dropped
    try:
        yield
    finally:
        sys.unraisablehook = told
        for number, usual in zip(ours, before, strict=True):
            signal.signal(number, usual)


def _unwind(asked: int, _frame: FrameType | None) -> None:
    """Raise once: a second signal would break off the tidying."""
    for number in _ENDING:
        signal.signal(number, signal.SIG_IGN)
    raise Stopped(asked)


def _dropped(lost: "sys.UnraisableHookArgs") -> None:
    """Ask once more where a finaliser or a weak reference was at work, from which nothing that is raised gets out."""
    if not isinstance(lost.exc_value, Stopped):
        sys.__unraisablehook__(lost)
        return
    number = lost.exc_value.exit_code - 128
    signal.signal(number, _unwind)
    again = threading.Timer(_AGAIN, _ask, [number])
    again.daemon = True
    again.start()


def _ask(number: int) -> None:
    """Send a signal to the thread that waits for what we started, which it wakes where the system can."""
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(threading.main_thread().ident or 0, number)
    else:
        signal.raise_signal(number)
