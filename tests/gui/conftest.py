import pytest

from fluxlab.gui import theme
from fluxlab.gui.widgets import fields


@pytest.fixture(autouse=True)
def every_window_test_is_quiet(quiet_qt):
    """Qt's warnings fail a test here, and nothing stays open after it."""


@pytest.fixture
def dressed():
    """Sets the theme; light and usual text come back after it."""
    yield theme.set_mode
    theme.set_mode("light")
    theme.set_text_size(100)


@pytest.fixture
def decimal_comma():
    """Numbers with a comma."""
    fields.choose_decimal_mark(",")
    yield
    fields.choose_decimal_mark("")
