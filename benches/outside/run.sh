#!/bin/sh
# Holds our weeks against two outside solvers: see solve.py. Needs Python 3 and, the first time, a
# package index. CASES: other cases than all of tests/cases and benches/outside/cases;
# SECONDS_EACH: time for each model; COACH: a program that is built already; OUT: where the table goes.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
python="$here/.venv/bin/python"
if ! "$python" -c 'import highspy, ortools' 2>/dev/null; then
    python3 -m venv "$here/.venv"
    "$python" -m pip install --quiet highspy ortools
fi
cd "$root"
coach=${COACH:-target/release/examples/coach}
[ -n "${COACH:-}" ] || cargo build --quiet --release --example coach
exec "$python" "$here/solve.py" "$coach" "${OUT:-$here/RESULTS.md}" "${SECONDS_EACH:-120}" \
    ${CASES:-tests/cases/*.yaml benches/outside/cases/*.yaml}
