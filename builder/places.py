"""Where things lie in the repository; the only file that knows."""

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BUILDER = ROOT / "builder"
SITE = ROOT / "site_src"
DIST = ROOT / "dist"
TESTS = ROOT / "tests"
ENVIRONMENT = ROOT / ".venv"
NODE_MODULES = SITE / "node_modules"
DEMO_JOB = SITE / "app" / "demo_job.json"

# Made by the builder, safe to delete: downloads and compiled packs, kept by the hash of what they come from.
KEPT = ENVIRONMENT / "out-of-true"
