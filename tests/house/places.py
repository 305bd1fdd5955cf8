"""Where things are, and how a fresh interpreter is run on them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "mediacost"
SAMPLES = sorted((ROOT / "sample_scenarios").glob("*.toml"))


def run_python(code: str, *arguments: object, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """Run code in a new interpreter that finds the package in `cwd`."""
    environment = {**os.environ, "PYTHONPATH": str(cwd), "PYTHONWARNINGS": "error"}
    return subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)], cwd=cwd, env=environment, capture_output=True, text=True
    )
