"""packaging/dev.py and packaging/system_parts.py: what they say and when they stop, without touching the machine."""

import importlib.util
import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "packaging"


def script(name: str):
    spec = importlib.util.spec_from_file_location(name, FOLDER / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def parts(monkeypatch):
    module = script("system_parts")
    monkeypatch.setitem(sys.modules, "system_parts", module)
    return module


@pytest.fixture
def dev(parts, monkeypatch, tmp_path):
    """The script, its environment moved to an empty folder that holds only a project file."""
    module = script("dev")
    (tmp_path / "pyproject.toml").write_text('[dependency-groups]\ndev = ["pytest>=8"]\n', encoding="utf-8")
    venv = tmp_path / ".venv"
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "VENV", venv)
    monkeypatch.setattr(module, "PYTHON", venv / "bin" / "python")
    monkeypatch.setattr(module, "STAMP", venv / "fluxlab-installed.json")
    monkeypatch.setattr(module, "LOG", tmp_path / "fluxlab-install.log")
    return module


@pytest.fixture
def bench(dev, monkeypatch):
    """The script with its environment maker and pip replaced by a record of what they were asked."""
    asked: list[object] = []

    def make() -> bool:
        dev.PYTHON.parent.mkdir(parents=True, exist_ok=True)
        dev.PYTHON.touch()
        asked.append("environment")
        return True

    def install(requirements: list[str]) -> bool:
        asked.append(requirements)
        return True

    monkeypatch.setattr(dev, "make_environment", make)
    monkeypatch.setattr(dev, "usable", dev.PYTHON.exists)
    monkeypatch.setattr(dev, "pip_install", install)
    return dev, asked


def debian(parts, monkeypatch, user: int, libraries: dict[str, str], tools: list[str]):
    monkeypatch.setattr(parts.sys, "platform", "linux")
    monkeypatch.setattr(parts, "missing_venv", list)
    monkeypatch.setattr(parts, "missing_libraries", lambda: libraries)
    monkeypatch.setattr(parts, "missing_tools", lambda: tools)
    monkeypatch.setattr(parts.shutil, "which", lambda name: "/usr/bin/" + name)
    monkeypatch.setattr(parts.os, "geteuid", lambda: user)


def test_the_first_start_makes_the_environment_and_installs_only_what_runs(bench, tmp_path):
    dev, asked = bench
    assert dev.prepare(development=False)
    assert asked == ["environment", ["--editable", str(tmp_path)]]


def test_a_second_start_does_nothing(bench):
    dev, asked = bench
    assert dev.prepare(development=False)
    asked.clear()
    assert dev.prepare(development=False)
    assert asked == []


def test_the_first_test_adds_the_test_tools_and_a_later_start_keeps_them(bench, tmp_path):
    dev, asked = bench
    assert dev.prepare(development=False)
    assert dev.prepare(development=True)
    assert asked[-1] == ["--editable", str(tmp_path), "pytest>=8"]
    asked.clear()
    assert dev.prepare(development=False)
    assert asked == []


def test_a_changed_project_file_installs_again(bench, tmp_path):
    dev, asked = bench
    assert dev.prepare(development=True)
    asked.clear()
    (tmp_path / "pyproject.toml").write_text('[dependency-groups]\ndev = ["pytest>=9"]\n', encoding="utf-8")
    assert dev.prepare(development=False)
    assert asked == [["--editable", str(tmp_path), "pytest>=9"]]


def test_a_failed_install_leaves_no_stamp(bench, monkeypatch):
    dev, _ = bench
    monkeypatch.setattr(dev, "pip_install", lambda requirements: False)
    assert not dev.prepare(development=False)
    assert not dev.STAMP.exists()


def test_a_broken_stamp_counts_as_none(bench):
    dev, asked = bench
    assert dev.prepare(development=False)
    dev.STAMP.write_text(json.dumps(["?"])[:-1], encoding="utf-8")
    asked.clear()
    assert dev.prepare(development=False)
    assert len(asked) == 1


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("OSError: [Errno 28] No space left on device", "The disk is full"),
        ("ERROR: Temporary failure in name resolution", "Check the network"),
        ("Max retries exceeded (CERTIFICATE_VERIFY_FAILED)", "certificate is not trusted"),
        ("error: externally-managed-environment", "Delete the folder .venv"),
    ],
)
def test_trouble_with_pip_is_said_in_a_sentence(dev, monkeypatch, capsys, told, words):
    failed = subprocess.CompletedProcess([], 1, stdout="", stderr=told)
    monkeypatch.setattr(dev.subprocess, "run", lambda *arguments, **options: failed)
    assert not dev.pip_install(["x"])
    assert words in capsys.readouterr().err
    assert dev.LOG.read_text(encoding="utf-8") == told


@pytest.mark.parametrize("version", [(3, 10, 6), (3, 14, 0)])
def test_another_python_is_refused_with_a_sentence(dev, monkeypatch, capsys, version):
    monkeypatch.setattr(dev.sys, "version_info", version)
    monkeypatch.setattr(dev, "other_python", lambda: None)
    assert dev.main(["run"]) == 1
    assert "needs Python 3.11, 3.12 or 3.13" in capsys.readouterr().err


def test_another_python_hands_over_to_a_good_one(dev, monkeypatch):
    called = []
    monkeypatch.setattr(dev.sys, "version_info", (3, 10, 6))
    monkeypatch.setattr(dev, "other_python", lambda: ["python3.12"])
    done = subprocess.CompletedProcess([], 7)
    monkeypatch.setattr(dev.subprocess, "run", lambda command, **options: called.append(command) or done)
    assert dev.main(["test", "-x"]) == 7
    assert called == [["python3.12", str(FOLDER / "dev.py"), "test", "-x"]]


@pytest.mark.parametrize(("words", "module"), [([], "fluxlab"), (["check", "r.json"], "fluxlab.cli")])
def test_run_opens_the_window_or_hands_its_words_to_the_command_line(bench, monkeypatch, words, module):
    dev, _ = bench
    called = []
    done = subprocess.CompletedProcess([], 4)
    monkeypatch.setattr(dev, "ensure", lambda window, tests: True)
    monkeypatch.setattr(dev.subprocess, "run", lambda command, **options: called.append(command) or done)
    assert dev.main(["run", *words]) == 4
    assert called == [[str(dev.PYTHON), "-m", module, *words]]


def test_an_unknown_word_shows_how_it_is_used(dev, capsys):
    assert dev.main(["runn"]) == 2
    assert "packaging/dev.py run" in capsys.readouterr().out


def test_a_plain_user_gets_the_exact_line_and_is_stopped(parts, monkeypatch, capsys):
    debian(parts, monkeypatch, user=1000, libraries={"libGL.so.1": "libgl1"}, tools=["xvfb"])
    assert not parts.ensure(window=True, tests=True)
    assert "    sudo apt-get install libgl1 xvfb\n" in capsys.readouterr().err


def test_a_plain_user_without_the_window_tools_goes_on(parts, monkeypatch, capsys):
    debian(parts, monkeypatch, user=1000, libraries={}, tools=["xvfb", "xdotool"])
    assert parts.ensure(window=True, tests=True)
    assert "window journeys" in capsys.readouterr().err


def test_root_installs_what_is_missing(parts, monkeypatch):
    debian(parts, monkeypatch, user=0, libraries={"libEGL.so.1": "libegl1"}, tools=["xvfb"])
    installed = []
    monkeypatch.setattr(parts, "install", lambda packages: bool(installed.append(packages)) or True)
    assert parts.ensure(window=True, tests=True)
    assert installed == [["libegl1", "xvfb"]]


def test_nothing_is_asked_of_the_system_when_all_is_there(parts, monkeypatch, capsys):
    debian(parts, monkeypatch, user=1000, libraries={}, tools=[])
    assert parts.ensure(window=True, tests=True)
    assert capsys.readouterr().err == ""


def test_windows_and_macos_need_nothing_from_the_system(parts, monkeypatch):
    monkeypatch.setattr(parts.sys, "platform", "win32")
    assert parts.ensure(window=True, tests=True)
