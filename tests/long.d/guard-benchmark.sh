#!/usr/bin/env bash
# Time of one step of the guard: a unit with every function, and a hundred; about a minute
set -uo pipefail
cd "$(dirname "$0")/../.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.Benchmarks -c Release -v quiet -clp:NoSummary || { echo "guard-benchmark: FAILED (does not build)"; exit 1; }
exec artifacts/bin/EdgeGuard.Benchmarks/release/EdgeGuard.Benchmarks guard
