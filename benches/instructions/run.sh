#!/usr/bin/env bash
# Instructions that the example command line takes for a few weeks, reading the rules included, held against baseline.txt: they
# are the same on a busy machine and on an idle one, so that a slower search shows at once. One thread.
#
# run.sh          ends with 1 where a case takes a tenth more than its baseline
# run.sh --write  writes the baseline anew
set -euo pipefail
cd "$(dirname "$0")/../.."
baseline=benches/instructions/baseline.txt
command -v valgrind >/dev/null || apt-get install -y valgrind
cargo build --release --example coach
counts=$(mktemp -d)
written=$(mktemp)
trap 'rm -rf "$written" "$counts"' EXIT
count() {
    # A case without a week ends with a status of its own.
    { valgrind --tool=callgrind --callgrind-out-file=/dev/null "$coach" week "tests/cases/$1.yaml" 2>&1 >/dev/null || true; } |
        sed -n 's/.*Collected : \([0-9]*\).*/\1/p' >"$counts/$1"
}
export coach="${CARGO_TARGET_DIR:-target}/release/examples/coach" counts
export -f count
# Each on a processor of its own: what is counted is the same.
sed -n 's/^\([^# ]*\) .*/\1/p' "$baseline" | xargs -P 2 -I {} bash -c 'count {}'
failed=0
while read -r case before; do
    case "$case" in '#'*) echo "$case $before" >>"$written"; continue ;; esac
    now=$(cat "$counts/$case")
    echo "$case $now" >>"$written"
    echo "$case: $now instructions, baseline $before ($((now * 100 / before)) %)"
    if [ "$now" -gt $((before + before / 10)) ]; then
        failed=1
        echo "  more than a tenth above its baseline"
    fi
done <"$baseline"
if [ "${1:-}" = --write ]; then
    cp "$written" "$baseline"
    exit 0
fi
[ "$failed" = 0 ] || echo "If that is wanted, write the baseline anew: benches/instructions/run.sh --write"
exit "$failed"
