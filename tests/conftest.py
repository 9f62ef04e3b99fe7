"""How random trials are run: nothing is timed, and a change is tried on the same cases."""

import os

from hypothesis import HealthCheck, settings

# A loaded machine must not fail a test; whoever works on a property gets fresh cases each time.
settings.register_profile("house", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", settings.get_profile("house"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "house")
