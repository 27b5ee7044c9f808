#!/usr/bin/env bash
# The same answers to the byte from three builds: the example command line in release and, with debug assertions and checks
# for overflow, as `cargo test` builds it, and as WebAssembly in Node.js, with the same checks. Thirty cases of tests/cases by
# the built-in rules; three of them also by the rules as files, parsed on several threads and on one.
set -euo pipefail
cd "$(dirname "$0")/../.."
target=wasm32-wasip1
rustup target list --installed | grep -qx "$target" || rustup target add "$target"
command -v node >/dev/null || apt-get install -y nodejs
built=${CARGO_TARGET_DIR:-target}
cargo build --release --example coach
cargo build --profile test --example coach
CARGO_TARGET_DIR="$built/wasm" cargo build --locked --manifest-path tests/wasm/module/Cargo.toml --target "$target"
mapfile -t cases < <(printf '%s\n' tests/cases/*.yaml | LC_ALL=C sort | head -n 30)
node --no-warnings tests/wasm/same_bytes.mjs "$built/wasm/$target/debug/module.wasm" rules 3 "${cases[@]}" -- \
    "$built/release/examples/coach" "$built/debug/examples/coach" "taskset -c 0 $built/release/examples/coach"
