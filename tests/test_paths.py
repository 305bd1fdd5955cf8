"""Samples are found wherever the program lives; personal files go where they should and nowhere else."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from mediacost import paths
from tests.house.places import PACKAGE, ROOT, run_python

WHERE = "from mediacost.paths import samples_folder; print(samples_folder())"


def test_from_a_checkout() -> None:
    assert paths.samples_folder() == ROOT / "sample_scenarios"
    assert paths.main_sample() == ROOT / "sample_scenarios" / "small_room.toml"


def test_installed(tmp_path: Path) -> None:
    (tmp_path / "mediacost").mkdir()
    for name in ("__init__.py", "paths.py"):
        shutil.copy(PACKAGE / name, tmp_path / "mediacost" / name)
    shutil.copytree(ROOT / "sample_scenarios", tmp_path / "mediacost" / "sample_scenarios")
    done = run_python(WHERE, cwd=tmp_path)
    assert done.stdout.strip() == str(tmp_path.resolve() / "mediacost" / "sample_scenarios"), done.stderr


def test_frozen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "mediacost" / "sample_scenarios"
    shutil.copytree(ROOT / "sample_scenarios", folder)
    monkeypatch.setattr(sys, "_MEIPASS", str(tmp_path), raising=False)
    assert paths.samples_folder() == folder


def test_an_incomplete_installation_says_where_it_looked(tmp_path: Path) -> None:
    (tmp_path / "mediacost").mkdir()
    for name in ("__init__.py", "paths.py"):
        shutil.copy(PACKAGE / name, tmp_path / "mediacost" / name)
    done = run_python(WHERE, cwd=tmp_path)
    assert done.returncode == 1
    assert "sample scenarios are missing" in done.stderr
    assert str(tmp_path.resolve() / "mediacost" / "sample_scenarios") in done.stderr


def test_a_chosen_home_holds_everything(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(paths.HOME_VARIABLE, str(tmp_path / "shed"))
    assert paths.settings_folder() == tmp_path / "shed" / "settings"
    assert paths.recovery_folder() == tmp_path / "shed" / "recovery"
    assert not (tmp_path / "shed").exists()


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have no variables for these folders")
def test_without_one_the_system_decides(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(paths.HOME_VARIABLE)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    assert paths.settings_folder() == tmp_path / "config" / "mediacost"
    assert paths.recovery_folder() == tmp_path / "state" / "mediacost" / "recovery"
