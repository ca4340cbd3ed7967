#!/usr/bin/env bash
# Modbus TCP round trips on one core: our client and server, a C client and server on libmodbus, bare sockets; about 2 min
set -uo pipefail
cd "$(dirname "$0")/../.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
tests/tools/install-peers || { echo "modbus-benchmark: FAILED (no peer)"; exit 1; }
dotnet build tests/EdgeGuard.Benchmarks -c Release -v quiet -clp:NoSummary || { echo "modbus-benchmark: FAILED (does not build)"; exit 1; }
exec artifacts/bin/EdgeGuard.Benchmarks/release/EdgeGuard.Benchmarks modbus "$@"
