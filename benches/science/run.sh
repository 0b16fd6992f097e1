#!/usr/bin/env bash
# Times the finger cures and the draws beside SciPy, FiPy and NumPy, in turn, and prints one table.
# ROUNDS: how often the two sides take turns; TURNS: how often each times a case in a round.
set -euo pipefail
cd "$(dirname "$0")"
ROUNDS=${ROUNDS:-5}
TURNS=${TURNS:-9}
export LC_ALL=C PYTHONDONTWRITEBYTECODE=1
if [[ ! -x .venv/bin/python ]]; then
    python3 -m venv .venv
    .venv/bin/pip install --quiet --requirement requirements.txt
fi
bench=$(cargo bench -q -p saltern-science --bench cures --no-run --message-format=json |
    .venv/bin/python -c 'import json, sys
for line in sys.stdin:
    found = json.loads(line)
    if found.get("executable") and found["target"]["name"] == "cures":
        print(found["executable"])')
lines=$(mktemp)
trap 'rm -f "$lines"' EXIT
for ((round = 1; round <= ROUNDS; round++)); do
    echo "round $round of $ROUNDS" >&2
    "$bench" figures "$TURNS" >>"$lines"
    .venv/bin/python measure.py "$TURNS" >>"$lines"
done
echo "$(date -I), load $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) cores"
.venv/bin/python table.py "$lines"
