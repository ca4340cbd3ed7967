#!/usr/bin/env bash
# OPC UA operation sequences on sessions and subscriptions, a million (or factor times 1,000 when given a number); under an hour
set -uo pipefail
cd "$(dirname "$0")/../.."
export EDGEGUARD_FUZZ_FACTOR="${1:-1000}" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.OpcUa.Tests -c Release -v quiet -clp:NoSummary || { echo "opcua-operations: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.OpcUa.Tests/release/EdgeGuard.OpcUa.Tests
out=$("$exe" --progress off --ansi off --output Detailed --filter-method "*Any_sequences_of_operations*" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
figures=$(sed -n 's/^ *\([0-9]* sequences, [0-9]* operations\).*/\1/p' <<<"$out" | tail -n 1)
[ -n "$figures" ] || code=1
echo "opcua-operations: ${figures:-no figures}, $SECONDS s: $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
