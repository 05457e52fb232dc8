"""Exceptions raised in other threads leave the interpreter as it was."""

import threading

from gripwright.plugins.interruption import interrupt, settle
from tests.core.plugins.traced import traced_after

_TAKEN_BACK = """
import threading
from gripwright.plugins.interruption import interrupt, settle

asleep = threading.Thread(target=threading.Event().wait, daemon=True)
asleep.start()
interrupt(asleep.ident, TimeoutError)
settle()
"""


def test_code_can_be_traced_while_an_exception_waits_for_a_sleeping_thread() -> None:
    """The flag of the interpreter is down."""
    assert traced_after(_TAKEN_BACK) == ["done"]


def test_what_waits_for_another_thread_arrives_after_settling() -> None:
    """Settling is for the thread that calls."""
    ready, go = threading.Event(), threading.Event()
    arrived: list[str] = []

    def work() -> None:
        try:
            ready.set()
            go.wait()
            while True:
                pass
        except TimeoutError:
            arrived.append("broken off")

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    ready.wait()
    assert thread.ident is not None
    interrupt(thread.ident, TimeoutError)
    settle()
    go.set()
    thread.join(30)
    assert arrived == ["broken off"]


def test_a_thread_that_has_ended_is_let_rest() -> None:
    """Nothing is raised anywhere."""
    thread = threading.Thread(target=lambda: None)
    thread.start()
    thread.join()
    assert thread.ident is not None
    interrupt(thread.ident, TimeoutError)
