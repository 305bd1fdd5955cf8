# Shared by run.sh and test.sh; read, not run:  . environment.sh
# Makes the project's own Python environment in .venv once, and says so in plain words on the error output:
# the standard output belongs to mediacost alone, so that --json can be piped on.

say() { printf '%s\n' "$*" >&2; }

# Where the checkout is, wherever the caller stands and through whatever link the script was called.
find_root() {
    script=$(readlink -f -- "$1" 2>/dev/null) || script=$1
    root=$(CDPATH='' cd -- "$(dirname -- "$script")/.." && pwd -P)
    venv_python=$root/.venv/bin/python
}

# Everything that makes an environment out of date. It holds no file time, so a fresh checkout does not differ.
wanted_stamp() {
    (CDPATH='' cd -- "$root" && cat pyproject.toml mediacost/__init__.py packaging/constraints.txt packaging/set_up.py | cksum)
    uname -s -m
    printf '%s\n' "$root" "${MEDIACOST_PYTHON:-}"
}

# The stamp is written last, so an environment without it was never finished. Its last line is the interpreter the
# environment was made from: after a system upgrade the same link leads to another one.
is_ready() {
    [ -x "$venv_python" ] && [ -f "$root/.venv/.ready-$1" ] || return 1
    made_from=$(readlink -f -- "$venv_python" 2>/dev/null) || return 1
    [ "$(cat "$root/.venv/.ready-$1")" = "$stamp
$made_from" ]
}

is_new_enough() { "$1" -I -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }

find_python() {
    for python in ${MEDIACOST_PYTHON:+"$MEDIACOST_PYTHON"} python3 python3.13 python3.12 python3.11 python3.14; do
        if is_new_enough "$python"; then
            return 0
        fi
        [ -z "${MEDIACOST_PYTHON:-}" ] || break
    done
    return 1
}

ask_for_python() {
    if [ -n "${MEDIACOST_PYTHON:-}" ]; then
        say "mediacost needs Python 3.11 or newer, and MEDIACOST_PYTHON=$MEDIACOST_PYTHON is not one."
    elif command -v apt-get >/dev/null 2>&1; then
        say "mediacost needs Python 3.11 or newer, and there is none here. Install it and run this again:"
        if command -v python3 >/dev/null 2>&1; then
            say "  sudo apt-get install python3.11 python3.11-venv"
        else
            say "  sudo apt-get install python3 python3-venv"
        fi
    else
        say "mediacost needs Python 3.11 or newer, and there is none here. Install it and run this again."
    fi
}

# prepare run | prepare test: returns with a finished environment, or ends the script with a reason.
prepare() {
    # What is set for another Python must not leak into this one.
    unset PYTHONHOME PYTHONPATH
    stamp=$(wanted_stamp)
    if ! is_ready "$1"; then
        find_python || { ask_for_python; exit 1; }
        "$python" -I "$root/packaging/set_up.py" "$1" "$stamp" </dev/null >&2 || exit $?
    fi
}
