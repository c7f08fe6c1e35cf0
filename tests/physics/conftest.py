from __future__ import annotations

from hypothesis import settings

# No deadline: a busy machine is not a defect. What is fast is measured by a benchmark.
settings.register_profile("physics", deadline=None)
settings.load_profile("physics")
