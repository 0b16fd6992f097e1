#!/usr/bin/env bash
# Problems nobody should send: each is to be answered or refused within the limit, in less than 1 GB.
#   LIMIT: seconds; XTASK: a built binary to use.
set -euo pipefail
cd "$(dirname "$0")"
LIMIT=${LIMIT:-10}
if [[ -z ${XTASK:-} ]]; then
    cargo build --quiet --release --package xtask
    XTASK=$(cargo metadata --format-version 1 --no-deps |
        python3 -c 'import json, sys; print(json.load(sys.stdin)["target_directory"])')/release/xtask
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
PYTHONDONTWRITEBYTECODE=1 python3 hostile.py "$work"
echo "problem,status,value,bound,seconds,first,MB"
for file in "$work"/*.json; do
    # Each in a process of its own, so that the most memory is its own.
    echo "$(basename "$file" .json),$("$XTASK" kitchen "$LIMIT" "$file" | tail -1 | cut -d, -f2-)"
done
