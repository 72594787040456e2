#!/usr/bin/env python3
"""Budgets of the page, measured in a browser: passes on what web/e2e/budgets.mjs prints."""
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
sys.exit(subprocess.run(["node", "e2e/budgets.mjs", str(ROOT / "build/release/filmwright")],
                        cwd=ROOT / "web", check=False).returncode)
