"""The app built once for all checks that need it, from the sources as they are."""

import pytest

from builder.output import Files
from builder.pipeline import app_files


@pytest.fixture(scope="session")
def built() -> Files:
    return app_files()
