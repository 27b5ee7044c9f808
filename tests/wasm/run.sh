#!/usr/bin/env bash
# The same answers to the byte, natively and as WebAssembly in Node.js: the first thirty cases of tests/cases.
set -euo pipefail
cd "$(dirname "$0")/../.."
target=wasm32-wasip1
rustup target list --installed | grep -qx "$target" || rustup target add "$target"
command -v node >/dev/null || apt-get install -y nodejs
cargo build --release --example coach
cargo build --release --example coach --target "$target"
mapfile -t cases < <(printf '%s\n' tests/cases/*.yaml | LC_ALL=C sort | head -n 30)
node --no-warnings tests/wasm/same_bytes.mjs "target/$target/release/examples/coach.wasm" target/release/examples/coach "${cases[@]}"
