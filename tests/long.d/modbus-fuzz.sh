#!/usr/bin/env bash
# Random and mutated frames into the Modbus client and server engines of both framings, 10 million each way (or the number given)
set -uo pipefail
cd "$(dirname "$0")/../.."
frames="${1:-10000000}"
# Four tests, two seeds for each framing; every frame goes into a client and into a server.
export EDGEGUARD_FUZZ_FRAMES=$(((frames + 3) / 4)) TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.Modbus.Tests -c Release -v quiet -clp:NoSummary || { echo "modbus-fuzz: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.Modbus.Tests/release/EdgeGuard.Modbus.Tests
out=$("$exe" --progress off --ansi off --filter-class "*.FuzzSample" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
echo "modbus-fuzz: $frames frames into each decoder, $(sed -n 's/^ *succeeded: *//p' <<<"$out") passed, $(sed -n 's/^ *failed: *//p' <<<"$out") failed, $SECONDS s: $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
