"""The scripts that make the environment: what they pass on, and what they trust. Nothing is installed here."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path
from types import ModuleType

import pytest

from tests.house.places import ROOT

pytestmark = pytest.mark.skipif(os.name != "posix", reason="the scripts serve Linux and macOS")

SHOW_CALL = """#!/bin/sh
echo "in $PWD"
for argument in "$@"; do echo "<$argument>"; done
"""

PRETEND_SET_UP = """#!/bin/sh
case $2 in
    -c) exit 0 ;;
    *packaging/set_up.py) echo "setting up $3" ;;
esac
exit 7
"""


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A copy of the scripts, in a folder with a space in its name."""
    root = tmp_path / "my checkout"
    shutil.copytree(ROOT / "packaging", root / "packaging", ignore=shutil.ignore_patterns("__pycache__"))
    (root / "mediacost").mkdir()
    shutil.copy(ROOT / "mediacost" / "__init__.py", root / "mediacost")
    shutil.copy(ROOT / "pyproject.toml", root)
    return root


def script_file(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    path.chmod(0o755)
    return path


def finish(checkout: Path, kind: str) -> None:
    """Make an environment that counts as ready, whose Python only shows what it is called with."""
    script_file(checkout / ".venv" / "bin" / "python", SHOW_CALL)
    stamp = subprocess.run(
        ["sh", "-c", '. "$1/packaging/environment.sh"; find_root "$1/packaging/run.sh"; wanted_stamp', "sh", checkout],
        capture_output=True,
        text=True,
        check=True,
        env=without_choice(),
    ).stdout.rstrip("\n")
    set_up = set_up_of(checkout)
    set_up.write_stamp(kind, stamp)


def set_up_of(checkout: Path) -> ModuleType:
    """The set-up of that checkout, as a module."""
    spec = importlib.util.spec_from_file_location("set_up_under_test", checkout / "packaging" / "set_up.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def without_choice(**more: str) -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "MEDIACOST_PYTHON"} | more


def call(script: Path, *arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["sh", script, *arguments], cwd=cwd, capture_output=True, text=True, env=without_choice(**environment)
    )


def test_run_passes_everything_on_from_where_the_caller_stands(checkout: Path, tmp_path: Path) -> None:
    finish(checkout, "run")
    done = call(checkout / "packaging" / "run.sh", "compare", "my file.toml", "--json", "", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    passed = ["<-P>", "<-m>", "<mediacost>", "<compare>", "<my file.toml>", "<--json>", "<>"]
    assert done.stdout.splitlines() == [f"in {tmp_path.resolve()}", *passed]


def test_run_works_through_a_link(checkout: Path, tmp_path: Path) -> None:
    finish(checkout, "run")
    (tmp_path / "costs").symlink_to(checkout / "packaging" / "run.sh")
    done = call(tmp_path / "costs", "--version", cwd=tmp_path)
    assert done.stdout.splitlines()[1:] == ["<-P>", "<-m>", "<mediacost>", "<--version>"]


def test_tests_without_a_place_are_all_of_them(checkout: Path, tmp_path: Path) -> None:
    finish(checkout, "test")
    script = checkout / "packaging" / "test.sh"
    (tmp_path / "test_mine.py").touch()
    everything = call(script, "-q", cwd=tmp_path).stdout.splitlines()
    assert everything[-3:] == ["<-q>", f"<{checkout}/tests>", f"<{checkout}/mediacost>"]
    named = call(script, "test_mine.py::test_one", cwd=tmp_path).stdout.splitlines()
    assert named[-1] == "<test_mine.py::test_one>"


@pytest.mark.parametrize("changed", ["pyproject.toml", "packaging/constraints.txt", "mediacost/__init__.py"])
def test_a_change_asks_for_a_new_set_up(checkout: Path, tmp_path: Path, changed: str) -> None:
    finish(checkout, "run")
    with (checkout / changed).open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    python = script_file(tmp_path / "pretended", PRETEND_SET_UP)
    done = call(checkout / "packaging" / "run.sh", cwd=tmp_path, MEDIACOST_PYTHON=str(python))
    assert (done.returncode, done.stdout, done.stderr) == (7, "", "setting up run\n")


def test_a_moved_checkout_asks_for_a_new_set_up(checkout: Path, tmp_path: Path) -> None:
    finish(checkout, "run")
    moved = checkout.rename(tmp_path / "moved")
    python = script_file(tmp_path / "pretended", PRETEND_SET_UP)
    assert call(moved / "packaging" / "run.sh", cwd=tmp_path, MEDIACOST_PYTHON=str(python)).returncode == 7


def test_an_environment_for_running_is_not_one_for_testing(checkout: Path, tmp_path: Path) -> None:
    finish(checkout, "run")
    python = script_file(tmp_path / "pretended", PRETEND_SET_UP)
    done = call(checkout / "packaging" / "test.sh", cwd=tmp_path, MEDIACOST_PYTHON=str(python))
    assert (done.returncode, done.stderr) == (7, "setting up test\n")


def test_an_old_python_is_refused_in_plain_words(checkout: Path, tmp_path: Path) -> None:
    old = script_file(tmp_path / "old", "#!/bin/sh\nexit 1\n")
    done = call(checkout / "packaging" / "run.sh", cwd=tmp_path, MEDIACOST_PYTHON=str(old))
    assert done.returncode == 1
    assert "Python 3.11 or newer" in done.stderr


# The Python half


@pytest.fixture
def set_up(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """The set-up with its steps pretended: it writes down what it would run."""
    module = set_up_of(checkout)
    module.ran = []

    def pretend(command: Sequence[str], lock: int | None = None) -> subprocess.CompletedProcess[str]:
        module.ran.append([str(part) for part in command])
        if "venv" in command:
            module.PYTHON.parent.mkdir(parents=True, exist_ok=True)
            if not module.PYTHON.exists():
                module.PYTHON.symlink_to(os.path.realpath(sys.executable))
        return subprocess.CompletedProcess(command, 0, "")

    monkeypatch.setattr(module, "run_quietly", pretend)
    monkeypatch.setattr(module, "missing_packages", lambda kind: ([], []))
    return module


def test_it_is_made_once(set_up: ModuleType) -> None:
    stamp = f"sum\n{set_up.ROOT}\n"
    assert set_up.main("run", stamp) == 0
    assert set_up.is_ready("run", stamp)
    assert not set_up.is_ready("test", stamp)
    count = len(set_up.ran)
    assert count > 0
    assert set_up.main("run", stamp) == 0
    assert len(set_up.ran) == count


def test_an_interrupted_set_up_is_never_trusted(set_up: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    stamp = f"sum\n{set_up.ROOT}\n"
    assert set_up.main("run", stamp) == 0

    def interrupt(command: Sequence[str], lock: int) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(set_up, "step", interrupt)
        assert set_up.main("test", stamp) == 130
    assert not set_up.is_ready("run", stamp)
    set_up.ran.clear()
    assert set_up.main("run", stamp) == 0
    assert set_up.ran[0][1:4] == ["-m", "venv", "--clear"]


def test_a_finished_one_is_built_on(set_up: ModuleType) -> None:
    stamp = f"sum\n{set_up.ROOT}\n"
    assert set_up.main("run", stamp) == 0
    set_up.ran.clear()
    assert set_up.main("test", stamp) == 0
    assert not any("venv" in command for command in set_up.ran)
    assert set_up.is_ready("run", stamp)
    assert set_up.is_ready("test", stamp)


def test_the_second_of_two_waits_and_finds_it_ready(set_up: ModuleType) -> None:
    stamp = f"sum\n{set_up.ROOT}\n"
    codes: list[int] = []
    with set_up.only_one_at_a_time() as lock:
        second = threading.Thread(target=lambda: codes.append(set_up.main("run", stamp)))
        second.start()
        set_up.set_up("run", stamp, lock)
        count = len(set_up.ran)
    second.join(timeout=30)
    assert codes == [0]
    assert len(set_up.ran) == count


def test_what_must_be_there_is_asked_for(
    set_up: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(set_up, "missing_packages", lambda kind: (["python3-venv"], ["libegl1"]))
    monkeypatch.setattr(set_up, "administrator_command", lambda: None)
    assert set_up.main("run", "sum") == 1
    assert "sudo apt-get install --no-install-recommends python3-venv libegl1" in capsys.readouterr().err
    assert set_up.ran == []


def test_what_only_the_window_needs_does_not_stop_the_rest(
    set_up: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(set_up, "missing_packages", lambda kind: ([], ["libegl1"]))
    monkeypatch.setattr(set_up, "administrator_command", lambda: None)
    assert set_up.main("run", f"sum\n{set_up.ROOT}\n") == 0
    said = capsys.readouterr().err
    assert "sudo apt-get install --no-install-recommends libegl1" in said
    assert said.rstrip().endswith("Ready.")
