#!/usr/bin/env bash
# Our engine beside CP-SAT on invented kitchens, in turn, on the same cores, with equal time; prints one table.
#   SIZES, KINDS, OBJECTIVES, SEEDS: which kitchens; SECONDS_EACH: the times; XTASK: a built binary to use.
set -euo pipefail
cd "$(dirname "$0")"
SIZES=${SIZES:-60 150 300 600}
KINDS=${KINDS:-loose tight infeasible}
OBJECTIVES=${OBJECTIVES:-wishes span}
SEEDS=${SEEDS:-1}
SECONDS_EACH=${SECONDS_EACH:-2 10 30}
export LC_ALL=C PYTHONDONTWRITEBYTECODE=1
if [[ ! -x .venv/bin/python ]]; then
    python3 -m venv .venv
    .venv/bin/pip install --quiet --requirement requirements.txt
fi
if [[ -z ${XTASK:-} ]]; then
    cargo build --quiet --release --package xtask
    XTASK=$(cargo metadata --format-version 1 --no-deps |
        .venv/bin/python -c 'import json, sys; print(json.load(sys.stdin)["target_directory"])')/release/xtask
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
echo "$(date -I), load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) cores, $(.venv/bin/python -c 'import ortools; print("OR-Tools", ortools.__version__)')"
echo "tasks,kind,objective,seed,seconds,our status,our value,our bound,our seconds,our first,MB,their status,their value,their bound,their seconds,their first,load"
for seconds in $SECONDS_EACH; do
    for size in $SIZES; do
        for kind in $KINDS; do
            for objective in $OBJECTIVES; do
                for seed in $SEEDS; do
                    file=$work/kitchen.json
                    .venv/bin/python kitchens.py "$file" "$size" "$kind" "$objective" "$seed"
                    ours=$("$XTASK" kitchen "$seconds" "$file" | tail -1 | cut -d, -f2-)
                    theirs=$(.venv/bin/python cpsat.py "$file" "$seconds" 2)
                    echo "$size,$kind,$objective,$seed,$seconds,$ours,$theirs,$(cut -d' ' -f1 /proc/loadavg)"
                done
            done
        done
    done
done
