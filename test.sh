#!/usr/bin/env bash
# Installs what the tests need and runs every one of them. CI runs exactly this.
set -euo pipefail
cd "$(dirname "$0")"

# The toolchain's own formatter and linter; on a machine that has them this does nothing.
if ! cargo fmt --version >/dev/null 2>&1 || ! cargo clippy --version >/dev/null 2>&1; then
  rustup component add rustfmt clippy
fi

# The board is tested in a real browser, against the accessibility rules of axe-core.
axe=4.14.1
need=()
command -v chromium >/dev/null && command -v chromedriver >/dev/null || need+=(chromium chromium-driver fonts-liberation)
command -v npm >/dev/null || need+=(npm)
# The papers are rendered and their codes read as a camera reads them.
command -v pdftoppm >/dev/null || need+=(poppler-utils)
command -v zbarimg >/dev/null || need+=(zbar-tools)
if [ ${#need[@]} -gt 0 ]; then
  echo "installing ${need[*]}"
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${need[@]}" >/dev/null
fi
if ! grep -qs "\"version\": \"$axe\"" target/browser/node_modules/axe-core/package.json; then
  npm install --silent --no-audit --no-fund --prefix target/browser "axe-core@$axe"
fi

step() { printf '\n== %s\n' "$*"; }

step "format"
cargo fmt --all --check

step "lints (warnings are errors, tests and benches too)"
cargo clippy --workspace --all-targets --quiet -- -D warnings

step "tests"
cargo test --workspace --no-fail-fast

step "programs of others read what we write"
tests/independent/run.sh

step "documentation without broken links"
RUSTDOCFLAGS="-D warnings" cargo doc --workspace --no-deps --quiet

step "all passed"
