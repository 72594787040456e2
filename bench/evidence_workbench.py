#!/usr/bin/env python3
"""Budgets of the page, measured in a browser: passes on what web/e2e/budgets.mjs prints.

FILMWRIGHT_CUT_SECONDS (120) is how long the network is gone in one of them.
"""
import os
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
TIMES = {"FILMWRIGHT_CUT_SECONDS": "120", **os.environ}
sys.exit(subprocess.run(["node", "e2e/budgets.mjs", str(ROOT / "build/release/filmwright")],
                        cwd=ROOT / "web", env=TIMES, check=False).returncode)
