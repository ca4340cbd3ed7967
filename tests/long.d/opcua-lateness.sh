#!/usr/bin/env bash
# Lateness of the guard's scans while its publisher idles, is stopped, flooded and killed: 4 phases of 120 s each (or the seconds given) in rounds of 12 s
set -uo pipefail
cd "$(dirname "$0")/../.."
mkdir -p artifacts/long
export EDGEGUARD_LONG_SECONDS="${1:-120}" EDGEGUARD_LONG_RESULT="$PWD/artifacts/long/opcua-lateness.txt" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
rm -f "$EDGEGUARD_LONG_RESULT"
dotnet build tests/EdgeGuard.Publication.Tests -c Release -v quiet -clp:NoSummary || { echo "opcua-lateness: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.Publication.Tests/release/EdgeGuard.Publication.Tests
out=$("$exe" --progress off --ansi off --filter-class "*.LatenessTests" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
echo "opcua-lateness: $(cat "$EDGEGUARD_LONG_RESULT" 2>/dev/null || echo "no figures"): $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
