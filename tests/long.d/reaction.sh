#!/usr/bin/env bash
# Reaction from the meter's register below the limit to power off, 50 runs quiet and 100 with all cores busy, about 10 min.
set -uo pipefail
cd "$(dirname "$0")/../.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 TESTINGPLATFORM_TELEMETRY_OPTOUT=1 TESTINGPLATFORM_NOBANNER=1 NO_COLOR=1
state=$PWD/artifacts/long/reaction
# A finished run begins anew; an interrupted one goes on with the phases that are missing.
[ ! -e "$state/result.txt" ] || rm -rf "$state"
mkdir -p "$state"
dotnet build tests/EdgeGuard.Acceptance.Tests -c Release -v quiet -clp:NoSummary >"$state/log.txt" 2>&1 || { cat "$state/log.txt"; echo "reaction: FAILED (build)"; exit 1; }
EDGEGUARD_LONG_FOLDER=$state artifacts/bin/EdgeGuard.Acceptance.Tests/release/EdgeGuard.Acceptance.Tests \
  --filter-class '*.ReactionTests' --progress off --ansi off >"$state/log.txt" 2>&1
code=$?
if [ -e "$state/result.txt" ]; then cat "$state/result.txt"; else tail -n 20 "$state/log.txt"; echo "reaction: FAILED (not finished; run it again to go on)"; fi
exit $code
