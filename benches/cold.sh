#!/usr/bin/env bash
# Times the whole program from start to end: medians of RUNS new processes, beside the same run's `saltern check`.
# A process is new each time; the files are in the computer's memory after the first run, which is not left out.
set -euo pipefail
cd "$(dirname "$0")/.."
RUNS=${RUNS:-5}
export LC_ALL=C
cargo build --release -p saltern
saltern=target/release/saltern
large=$(mktemp -d)
trap 'rm -rf "$large"' EXIT
cargo bench -q -p saltern --bench plan -- write-book 40 "$large"

# Median seconds of so many runs of a command. 0 and 1 (a plan that is broken or impossible) are answers; else stop.
median() {
    local i begun ended code
    for ((i = 0; i < RUNS; i++)); do
        begun=$EPOCHREALTIME
        code=0
        "$@" >/dev/null 2>&1 || code=$?
        ended=$EPOCHREALTIME
        if ((code > 1)); then
            echo "$* ended with $code" >&2
            return 1
        fi
        awk -v a="$begun" -v b="$ended" 'BEGIN { printf "%.4f\n", b - a }'
    done | sort -n | sed -n "$(((RUNS + 1) / 2))p"
}

line() { awk -v name="$1" -v took="$2" -v per="$3" 'BEGIN { printf "%-46s %8.3f s %8.2f × checking\n", name, took, took / per }'; }

check=$(median "$saltern" check demo)
line "check demo" "$check" "$check"
took=$(median "$saltern" plan demo harvest-supper)
line "plan demo harvest-supper" "$took" "$check"
check=$(median "$saltern" check "$large")
line "check, 40 components" "$check" "$check"
took=$(median "$saltern" plan "$large" great-feast)
line "plan, 40 components for 1,000 covers" "$took" "$check"
