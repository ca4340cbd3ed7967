#!/usr/bin/env bash
# OPC UA soak: 50 clients coming and going for 60 min (or the minutes given); memory flat, no session leaked, no sample lost
set -uo pipefail
cd "$(dirname "$0")/../.."
mkdir -p artifacts/long
export EDGEGUARD_LONG_MINUTES="${1:-60}" EDGEGUARD_LONG_RESULT="$PWD/artifacts/long/opcua-soak.txt" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
rm -f "$EDGEGUARD_LONG_RESULT"
dotnet build tests/EdgeGuard.Publication.Tests -c Release -v quiet -clp:NoSummary || { echo "opcua-soak: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.Publication.Tests/release/EdgeGuard.Publication.Tests
out=$("$exe" --progress off --ansi off --filter-class "*.SoakTests" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
echo "opcua-soak: $(cat "$EDGEGUARD_LONG_RESULT" 2>/dev/null || echo "no figures"): $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
