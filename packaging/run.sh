#!/bin/sh
# From a bare checkout to mediacost:  sh packaging/run.sh [ARGS]  runs  mediacost ARGS.
# The first call sets everything up, later ones start at once. File names mean what they mean where you stand.
set -eu
. "$(dirname -- "$(readlink -f -- "$0" 2>/dev/null || printf '%s' "$0")")/environment.sh"
find_root "$0"
prepare run
exec "$venv_python" -P -m mediacost "$@"
