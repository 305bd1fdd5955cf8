"""Make the environment that run.sh and test.sh work in. Standard library only; Linux and macOS.

Called as ``set_up.py run|test STAMP``. The stamp is written last, when everything works, so whoever interrupts this
leaves nothing that the next call would trust. A lock lets the second of two calls wait for the first.
"""

from __future__ import annotations

import ctypes
import fcntl
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
CONSTRAINTS = ROOT / "packaging" / "constraints.txt"

# Library the window needs -> the Debian and Ubuntu package that has it.
QT_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libfontconfig.so.1": "libfontconfig1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libglib-2.0.so.0": "libglib2.0-0",
}
DISPLAY_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
VIRTUAL_DISPLAY = {"Xvfb": "xvfb", "xauth": "xauth", "xdotool": "xdotool"}


class CannotSetUpError(Exception):
    """Set-up cannot go on; the text says why and what to do."""


def main(kind: str, stamp: str) -> int:
    """Set up for ``run`` or ``test``; return the exit code."""
    try:
        with only_one_at_a_time() as lock:
            if not is_ready(kind, stamp):
                set_up(kind, stamp, lock)
    except CannotSetUpError as problem:
        say(str(problem))
        return 1
    except OSError as problem:
        say(f"Setting up stopped: {problem.strerror or problem} ({problem.filename or ROOT}).")
        return 1
    except KeyboardInterrupt:
        say("Stopped. Nothing half-made will be used: run this again when you like.")
        return 130
    return 0


def set_up(kind: str, stamp: str, lock: int) -> None:
    """System packages, then the environment, then the stamp."""
    install_system_packages(kind)
    extra = "[dev]" if kind == "test" else ""
    keep = was_ready_before()
    if keep:
        say("Something that mediacost is made of has changed: bringing the environment up to date.")
    else:
        say("Setting up mediacost. This happens once, fetches some 200 MB and takes a minute or two.")
    for old in VENV.glob(".ready-*"):
        old.unlink()
    make_environment(extra, keep, lock)
    os.sync()
    for level in ("run", "test") if kind == "test" else ("run",):
        write_stamp(level, stamp)
    say("Ready.")


# What the system has to bring


def missing_packages(kind: str) -> tuple[list[str], list[str]]:
    """Packages without which nothing goes on, and packages without which something will be left out."""
    must: list[str] = []
    wanted: list[str] = []
    if importlib.util.find_spec("ensurepip") is None:
        must.append(f"python{sys.version_info[0]}.{sys.version_info[1]}-venv")
    if sys.platform == "linux":
        (must if kind == "test" else wanted).extend(missing_libraries(QT_LIBRARIES))
        if kind == "test" or os.environ.get("DISPLAY"):
            wanted.extend(missing_libraries(DISPLAY_LIBRARIES))
        if kind == "test":
            wanted.extend(name for command, name in VIRTUAL_DISPLAY.items() if shutil.which(command) is None)
    return must, wanted


def missing_libraries(packages: Mapping[str, str]) -> list[str]:
    """Packages whose library cannot be loaded here."""
    missing = []
    for library, package in packages.items():
        try:
            ctypes.CDLL(library)
        except OSError:
            missing.append(package)
    return missing


def install_system_packages(kind: str) -> None:
    """Install what is missing where that is allowed; otherwise say exactly what to install."""
    must, wanted = missing_packages(kind)
    if not must + wanted:
        return
    administrator = administrator_command()
    if administrator is not None:
        say("Installing from the system's packages: " + " ".join(must + wanted))
        apt_install(administrator, must + wanted)
        must, wanted = missing_packages(kind)
    if must:
        raise CannotSetUpError(
            "Some system packages are missing. Install them and run this again:\n" + apt_line(must + wanted)
        )
    if wanted:
        what = "The window" if kind == "run" else "The test that opens a real window"
        say(f"{what} also needs system packages that are missing; everything else works without them.")
        say(apt_line(wanted))


def administrator_command() -> list[str] | None:
    """What to put before apt-get: nothing for root, sudo where it asks no password; None where it is not to be had."""
    if shutil.which("apt-get") is None:
        return None
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") and subprocess.run(["sudo", "-n", "true"], capture_output=True).returncode == 0:
        return ["sudo", "-n"]
    return None


def apt_install(administrator: Sequence[str], packages: Sequence[str]) -> None:
    """Update the lists, then install; a failure is told here and judged by what is still missing."""
    apt = [*administrator, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq", "-o", "DPkg::Lock::Timeout=120"]
    for step in (["update"], ["install", "-y", "--no-install-recommends", *packages]):
        done = run_quietly([*apt, *step])
        if done.returncode != 0:
            say("apt-get did not manage it:\n" + last_lines(done.stdout))


def apt_line(packages: Sequence[str]) -> str:
    """The line to type, for Debian and Ubuntu."""
    line = f"  sudo apt-get install --no-install-recommends {' '.join(packages)}"
    if shutil.which("apt-get") is None:
        line += "\n  (These are the names on Debian and Ubuntu; other systems call them otherwise.)"
    return line


# The environment


def make_environment(extra: str, keep: bool, lock: int) -> None:
    """A virtual environment with the versions of constraints.txt; one that is not to be kept is made from nothing."""
    if not keep:
        step([sys.executable, "-m", "venv", "--clear", str(VENV)], lock)
    pip = [str(PYTHON), "-m", "pip", "install", "-q", "--no-input", "--retries", "2", "--disable-pip-version-check"]
    constrained = ["--constraint", str(CONSTRAINTS)]
    project = ["--editable", str(ROOT) + extra]
    uv = [str(VENV / "bin" / "uv"), "pip", "install", "-q", "--python", str(PYTHON), *constrained, *project]
    with_uv = try_step([*pip, *constrained, "uv"], lock) and try_step(uv, lock)
    if not with_uv:
        say("The quick installer did not manage it; trying the slower one.")
        step([*pip, *constrained, *project], lock)
    step([str(PYTHON), "-m", "compileall", "-q", str(ROOT / "mediacost")], lock)
    step([str(PYTHON), "-P", "-m", "mediacost", "--version"], lock)


def step(command: Sequence[str], lock: int) -> None:
    """Run one step of the set-up, or stop with the end of what it said."""
    done = run_quietly(command, lock)
    if done.returncode != 0:
        raise CannotSetUpError(
            f"{last_lines(done.stdout)}\nSetting up mediacost did not work; the lines above say why. The first time it "
            "needs the internet and about 1 GB of disk. Run this again when that is mended."
        )


def try_step(command: Sequence[str], lock: int) -> bool:
    """Run a step that has a second way round."""
    try:
        return run_quietly(command, lock).returncode == 0
    except FileNotFoundError:
        return False


def run_quietly(command: Sequence[str], lock: int | None = None) -> subprocess.CompletedProcess[str]:
    """Run a command and keep what it says. It holds the lock too: should this script be killed, the next one waits."""
    settings = {
        "UV_COMPILE_BYTECODE": "1",  # else every start compiles again where writing bytecode is switched off
        "UV_SYSTEM_CERTS": "1",  # a network may have a certificate authority of its own
        **os.environ,
        "PIP_USER": "0",
    }
    return subprocess.run(
        command,
        env=settings,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        pass_fds=() if lock is None else (lock,),
    )


# Stamp and lock


def is_ready(kind: str, stamp: str) -> bool:
    """Whether the environment is finished and up to date (run.sh asks the same before it comes here)."""
    ready = VENV / f".ready-{kind}"
    return ready.exists() and ready.read_text(encoding="utf-8") == stamp_text(stamp)


def was_ready_before() -> bool:
    """Whether there is a whole environment to build on: finished, of this place and of this interpreter."""
    before = [path.read_text(encoding="utf-8").splitlines() for path in VENV.glob(".ready-*")]
    same_interpreter = os.path.realpath(PYTHON) == os.path.realpath(sys.executable)
    return same_interpreter and any(str(ROOT) in lines and os.path.realpath(PYTHON) in lines for lines in before)


def write_stamp(kind: str, stamp: str) -> None:
    """Write the stamp in one go."""
    new = VENV / ".stamp-new"
    new.write_text(stamp_text(stamp), encoding="utf-8")
    new.replace(VENV / f".ready-{kind}")


def stamp_text(stamp: str) -> str:
    """What was asked for, and the interpreter that the environment really uses."""
    return f"{stamp}\n{os.path.realpath(PYTHON)}\n"


@contextmanager
def only_one_at_a_time() -> Iterator[int]:
    """Hold the lock file; the system lets go of it when the last process that holds it ends, however it ends."""
    with (ROOT / ".venv.lock").open("a") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another set-up is under way here; waiting for it.")
            fcntl.flock(file, fcntl.LOCK_EX)
        yield file.fileno()


def last_lines(text: str, count: int = 15) -> str:
    """The end of what a command said, indented; that it tried again and again is left out."""
    lines = [line for line in text.strip().splitlines() if "Retrying" not in line]
    return "\n".join("  " + line for line in lines[-count:])


def say(text: str) -> None:
    """Tell the person at the terminal."""
    print(text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
