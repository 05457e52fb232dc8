"""Settings that every test shares: the Hypothesis profiles.

``dev`` is for the desk, ``ci`` repeats itself exactly (chosen when ``CI=true``), ``brief`` does so
with few examples and makes none smaller, ``deep`` searches long. A profile is forced by
``HYPOTHESIS_PROFILE=deep`` in the environment or by ``--hypothesis-profile=deep`` on the command
line.
"""

import os

from hypothesis import HealthCheck, Phase, settings

# No deadlines: a test is about a result, and a busy machine is not a failure.
settings.register_profile(
    "dev", deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile(
    "ci", parent=settings.get_profile("dev"), derandomize=True, print_blob=True, max_examples=100
)
settings.register_profile(
    "brief",
    parent=settings.get_profile("ci"),
    max_examples=15,
    phases=(Phase.explicit, Phase.generate),
    report_multiple_bugs=False,
)
settings.register_profile("deep", parent=settings.get_profile("dev"), max_examples=2000)

_BY_DEFAULT = "ci" if os.environ.get("CI") == "true" else "dev"
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", _BY_DEFAULT))
