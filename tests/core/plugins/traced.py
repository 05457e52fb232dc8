"""Code in an interpreter of its own, and a traced call after it: what can hang, hangs there."""

import subprocess
import sys

# As coverage tools and debuggers trace.
_TRACED = """
import sys

def traced():
    return "done"

sys.settrace(lambda *event: None)
print(traced())
"""


def traced_after(code: str) -> list[str]:
    """The lines that the code prints, and "done" where a traced call after it came to its end."""
    ran = subprocess.run(
        [sys.executable, "-c", code + _TRACED],
        check=True,
        capture_output=True,
        text=True,
        timeout=60,
    )
    return ran.stdout.splitlines()
