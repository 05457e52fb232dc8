"""Raising an exception in another thread, and leaving the interpreter as it was.

`PyThreadState_SetAsyncExc` of CPython's C API raises between two bytecodes. It puts up a flag for
the whole interpreter, which only an exception that arrives takes down: not one taken back, nor one
for a thread that waits for ever. While the flag is up every call and every loop of every thread
looks for its cause, and CPython 3.11 never comes out of a call that is traced (`sys.settrace`), as
coverage tools, debuggers and Hypothesis trace. So whoever interrupts a thread calls `settle` after.
"""

from __future__ import annotations

import ctypes
import threading


class _SettledError(BaseException):
    """Arrives in the thread that settles, and takes the flag down."""


def interrupt(thread: int, error: type[BaseException]) -> None:
    """Raise an exception in a thread, before its next bytecode.

    Args:
        thread: What `threading.get_ident` says in it. A thread that has ended is let rest.
        error: The exception, of which the thread makes one.

    Example:
        >>> import threading
        >>> try:
        ...     interrupt(threading.get_ident(), TimeoutError)
        ...     while True:
        ...         pass
        ... except TimeoutError:
        ...     print("broken off")
        broken off
    """
    ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread), ctypes.py_object(error))


def settle() -> None:
    """Take back what was to be raised in the thread that calls, and take down the flag.

    What was to be raised in another thread, which has not run since, is still raised when it runs.

    Example:
        >>> settle()
    """
    try:
        interrupt(threading.get_ident(), _SettledError)
        while True:
            pass
    except _SettledError:
        return
