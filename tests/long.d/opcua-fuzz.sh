#!/usr/bin/env bash
# OPC UA decoders, OpenSecureChannel and order of operations: the fuzz tests of the check times 70 (or the number given), 10 million inputs
set -uo pipefail
cd "$(dirname "$0")/../.."
least=$([ $# -eq 0 ] && echo 10000000 || echo 1)
export EDGEGUARD_FUZZ_FACTOR="${1:-70}" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.OpcUa.Tests -c Release -v quiet -clp:NoSummary || { echo "opcua-fuzz: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.OpcUa.Tests/release/EdgeGuard.OpcUa.Tests
out=$("$exe" --progress off --ansi off --output Detailed --filter-method "*utated*" "*Random_bytes*" "*cut_anywhere*" "*Any_order*" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
grep -o 'fuzzed: .*' <<<"$out"
inputs=$(awk '$1 == "fuzzed:" { n += $2 } END { printf "%d", n }' <<<"$out")
[ "$inputs" -ge "$least" ] || code=1
echo "opcua-fuzz: $inputs inputs to decoders (at least $least wanted), factor $EDGEGUARD_FUZZ_FACTOR, $(sed -n 's/^ *succeeded: *//p' <<<"$out") tests passed, $(sed -n 's/^ *failed: *//p' <<<"$out") failed, $SECONDS s: $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
