#!/bin/sh
# From a bare checkout to the tests:  sh packaging/test.sh [ARGS]  runs  pytest ARGS.
# Without a file or folder among ARGS it runs them all, from wherever it is called.
set -eu
. "$(dirname -- "$(readlink -f -- "$0" 2>/dev/null || printf '%s' "$0")")/environment.sh"
find_root "$0"
prepare test
named=no
for argument in "$@"; do
    case $argument in
        -*) ;;
        *) [ ! -e "${argument%%::*}" ] || named=yes ;;
    esac
done
[ "$named" = yes ] || set -- "$@" "$root/tests" "$root/mediacost"
QT_QPA_PLATFORM=${QT_QPA_PLATFORM:-offscreen}
export QT_QPA_PLATFORM
exec "$venv_python" -P -m pytest -c "$root/pyproject.toml" --rootdir "$root" "$@"
