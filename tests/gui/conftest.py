import pytest


@pytest.fixture(autouse=True)
def every_window_test_is_quiet(quiet_qt):
    """Qt's warnings fail a test here, and nothing stays open after it."""
