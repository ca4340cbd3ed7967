#!/usr/bin/env bash
# OPC UA decoders, OpenSecureChannel and order of operations: the fuzz tests of the check times 100 (or the number given)
set -uo pipefail
cd "$(dirname "$0")/../.."
export EDGEGUARD_FUZZ_FACTOR="${1:-100}" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1
dotnet build tests/EdgeGuard.OpcUa.Tests -c Release -v quiet -clp:NoSummary || { echo "opcua-fuzz: does not build"; exit 1; }
exe=artifacts/bin/EdgeGuard.OpcUa.Tests/release/EdgeGuard.OpcUa.Tests
out=$("$exe" --progress off --ansi off --filter-method "*utated*" "*Random_bytes*" "*cut_anywhere*" "*Any_order*" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
echo "opcua-fuzz: factor $EDGEGUARD_FUZZ_FACTOR, $(sed -n 's/^ *succeeded: *//p' <<<"$out") passed, $(sed -n 's/^ *failed: *//p' <<<"$out") failed, $SECONDS s"
exit "$code"
