"""Signals that end the program, turned into an exception, so that whatever is half done cleans up after itself."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

_NAMES: Final = ("SIGINT", "SIGTERM", "SIGHUP")  # Ctrl-C, asked to end, the terminal closed


class StoppedError(BaseException):
    """The program was asked to end; no error, and nothing catches it on the way but to clean up."""

    def __init__(self, number: int) -> None:
        self.status = 128 + number
        super().__init__(number)


@contextmanager
def stoppable() -> Iterator[None]:
    """Within it the first signal to end raises `StoppedError`; further ones do not cut the cleaning up short.

    It may come out of its body as another error, where a library caught it on the way, and is then raised again.
    A signal that is ignored from the start, as under ``nohup``, stays so. Only the main thread hears of signals.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = [getattr(signal, name) for name in _NAMES if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}
    heard = [number for number, handler in before.items() if handler not in (signal.SIG_IGN, None)]

    came: list[int] = []

    def stop(number: int, frame: FrameType | None) -> None:
        came.append(number)
        for each in heard:
            signal.signal(each, signal.SIG_IGN)
        raise StoppedError(number)

    for number in heard:
        signal.signal(number, stop)
    try:
        yield
    except Exception:
        if came:
            raise StoppedError(came[0]) from None
        raise
    finally:
        for number in heard:
            signal.signal(number, before[number])
