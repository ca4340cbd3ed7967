#!/usr/bin/env bash
# The naive second evaluator against the guard on 1,000,000 random scans (or the number given)
set -uo pipefail
cd "$(dirname "$0")/../.."
export EDGEGUARD_NAIVE_SCANS="${1:-1000000}" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.Core.Tests -c Release -v quiet -clp:NoSummary || { echo "naive-evaluator: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.Core.Tests/release/EdgeGuard.Core.Tests
out=$("$exe" --progress off --ansi off --output Detailed --filter-method "*naive_second_evaluator*" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
told=$(grep -o 'naive evaluator: .*' <<<"$out")
scans=$(awk '{ print $3 }' <<<"$told")
[ "${scans:-0}" -ge "$EDGEGUARD_NAIVE_SCANS" ] || code=1
echo "naive-evaluator: ${told:-nothing told}, $SECONDS s: $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
