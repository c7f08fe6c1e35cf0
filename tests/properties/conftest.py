"""Makes the generator and the independent formulas importable beside the tests."""

import sys
from pathlib import Path

from hypothesis import settings

sys.path.insert(0, str(Path(__file__).parent))

# No deadline: a busy machine is not a defect. What is fast is measured by a benchmark.
settings.register_profile("properties", deadline=None)
settings.load_profile("properties")
