"""Kill -9 in the middle of saves: nothing acknowledged is lost, and the library always opens."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest


@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks; not run on Windows")
def test_two_hundred_kills_lose_nothing(tmp_path: Path, record_property: Callable[[str, object], None]) -> None:
    loop = Path(__file__).with_name("kill_loop.py")
    done = subprocess.run(
        [sys.executable, str(loop), str(tmp_path), "200", "20260301"],
        capture_output=True,
        text=True,
        timeout=180,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    record_property("kills", found)
    assert found["wrong"] == []
    assert found["kills"] == 200
    # The test has teeth only if many kills fell into a save, and many saves were acknowledged before one.
    assert found["midway"] >= 10
    assert found["saves"] >= 200
    assert found["revisions"] >= 50
