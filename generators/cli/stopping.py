"""Being stopped: a signal to end becomes an orderly unwinding, so that whatever was started ends too."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

# What asks a program to end: the player, the system, a terminal that closes; by name, for a system may lack one.
_ENDING = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
_USUAL = (signal.SIG_DFL, signal.default_int_handler)


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
    try:
        yield
    finally:
        for number, usual in zip(ours, before, strict=True):
            signal.signal(number, usual)


def _unwind(asked: int, _frame: FrameType | None) -> None:
    """Raise once: a second signal would break off the tidying."""
    for number in _ENDING:
        signal.signal(number, signal.SIG_IGN)
    raise Stopped(asked)
