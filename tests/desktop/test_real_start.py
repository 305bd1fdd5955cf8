"""The program as a person starts it: on a screen, from the command line, closed by the keyboard."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.places import ROOT, run_python

START_LIMIT_S = 60.0
EMPTY_COLOURS = 12
"""A window that shows anything has many more colours than this; an empty screen has one."""

FIRST_PAINT = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from mediacost.desktop import app, window

seen = []

def painted(self, event):
    if not seen:
        seen.append(self.panel.verdict_text)
        print(sorted({name.partition(".")[0] for name in sys.modules} & set(sys.argv[1].split(","))))
        QTimer.singleShot(0, self.close)

window.Window.paintEvent = painted
code = app.run(Path(sys.argv[2]))
print(seen[0][:30])
sys.exit(code)
"""

HEAVY = "matplotlib,pandas,scipy,openpyxl,tomlkit,statsmodels,jinja2,reportlab"


def test_nothing_heavy_is_loaded_before_the_first_paint(small_room: Path) -> None:
    done = run_python(FIRST_PAINT, HEAVY, small_room)
    assert done.stdout.splitlines() == ["[]", "Steel mesh comes out best on c"], done.stdout + done.stderr
    assert done.returncode == 0, done.stderr


def test_a_heavy_library_would_be_seen(small_room: Path) -> None:
    done = run_python("import matplotlib" + FIRST_PAINT, HEAVY, small_room)
    assert done.stdout.startswith("['matplotlib'"), done.stdout + done.stderr


# On a screen


@pytest.fixture
def screen() -> Iterator[str]:
    """The name of a virtual screen."""
    for tool in ("Xvfb", "xdotool"):
        if shutil.which(tool) is None:
            pytest.skip(f"{tool} is not installed: no virtual screen to start the program on")
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1366x768x24", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as answer:
        number = answer.readline().strip()
    if not number:
        server.wait()
        pytest.skip("Xvfb did not start here")
    yield f":{number}"
    server.terminate()
    server.wait()


def environment(screen: str, home: Path) -> dict[str, str]:
    around = {key: value for key, value in os.environ.items() if key not in ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY")}
    return {**around, "DISPLAY": screen, "MEDIACOST_HOME": str(home), "PYTHONPATH": str(ROOT)}


def colours_on(screen: str) -> int:
    from PIL import ImageGrab

    found = ImageGrab.grab(xdisplay=screen).getcolors(maxcolors=1 << 24)
    return len(found) if found else 0


def wait_for_something_on(screen: str, program: subprocess.Popen[str], more_than: int) -> int:
    end = time.monotonic() + START_LIMIT_S
    while (colours := colours_on(screen)) <= more_than:
        assert program.poll() is None, f"the program ended by itself: {program.communicate()}"
        assert time.monotonic() < end, f"the screen stays empty: {colours} colours"
        time.sleep(0.05)
    return colours


def test_open_shows_the_window_and_ends_cleanly(screen: str, small_room: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "mediacost", "open", str(small_room)]
    assert colours_on(screen) <= EMPTY_COLOURS
    program = subprocess.Popen(
        command,
        env=environment(screen, tmp_path / "home"),
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        wait_for_something_on(screen, program, EMPTY_COLOURS)
        close_by_key(screen)
        out, err = program.communicate(timeout=START_LIMIT_S)
    finally:
        program.kill()
    assert (program.returncode, out, err) == (0, "", "")
    assert (tmp_path / "home" / "settings" / "window.ini").is_file()
    assert small_room.read_bytes() == (ROOT / "sample_scenarios" / "small_room.toml").read_bytes()


def close_by_key(screen: str) -> None:
    """Press Ctrl+Q in the window that has the keyboard."""
    around = {**os.environ, "DISPLAY": screen}
    find = ["xdotool", "search", "--onlyvisible", "--name", "small_room.toml - mediacost"]
    found = subprocess.run(find, env=around, capture_output=True, text=True)
    assert found.stdout.strip(), found.stderr
    window = found.stdout.split()[0]
    subprocess.run(["xdotool", "windowfocus", "--sync", window, "key", "ctrl+q"], env=around, check=True)


def test_without_a_screen_it_is_said_in_words(small_room: Path, tmp_path: Path) -> None:
    gone = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    around = {key: value for key, value in os.environ.items() if key not in gone}
    done = subprocess.run(
        [sys.executable, "-m", "mediacost", "open", str(small_room)],
        env={**around, "MEDIACOST_HOME": str(tmp_path), "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert "There is no display to open the window on." in done.stderr
