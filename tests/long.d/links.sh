#!/usr/bin/env bash
# A guard with 100 links at 100 ms, then 90 of them dead: lateness, processor time and the readings of the living, 120 s each (or the seconds given)
set -uo pipefail
cd "$(dirname "$0")/../.."
mkdir -p artifacts/long
export EDGEGUARD_LONG_SECONDS="${1:-120}" EDGEGUARD_LONG_RESULT="$PWD/artifacts/long/links.txt" TESTINGPLATFORM_TELEMETRY_OPTOUT=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
rm -f "$EDGEGUARD_LONG_RESULT"
dotnet build tests/EdgeGuard.Acceptance.Tests -c Release -v quiet -clp:NoSummary || { echo "links: FAILED (does not build)"; exit 1; }
exe=artifacts/bin/EdgeGuard.Acceptance.Tests/release/EdgeGuard.Acceptance.Tests
out=$("$exe" --progress off --ansi off --filter-class "*.HundredLinksTests" 2>&1) && code=0 || code=$?
[ "$code" -eq 0 ] || printf '%s\n' "$out"
echo "links: $(cat "$EDGEGUARD_LONG_RESULT" 2>/dev/null || echo "no figures"): $([ "$code" -eq 0 ] && echo PASSED || echo FAILED)"
exit "$code"
