#!/usr/bin/env bash
# A hundred devices polled every 100 ms, then ninety of them dead: lateness, processor time, the living ten; 2 phases of 60 s (or the seconds given)
set -uo pipefail
cd "$(dirname "$0")/../.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.Benchmarks -c Release -v quiet -clp:NoSummary || { echo "modbus-hundred: FAILED (does not build)"; exit 1; }
exec artifacts/bin/EdgeGuard.Benchmarks/release/EdgeGuard.Benchmarks modbus-hundred "${1:-60}"
