"""Where things are in the project, for tests in any folder."""

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
