#!/usr/bin/env bash
# OPC UA server side by side with the npm server: reads, notifications, idle sessions; about 4 min (or options of the generator)
set -uo pipefail
cd "$(dirname "$0")/../.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 NO_COLOR=1
dotnet build tests/EdgeGuard.Benchmarks -c Release -v quiet -clp:NoSummary || { echo "opcua-benchmark: does not build"; exit 1; }
node=()
if tests/tools/install-node-server; then node=(--node artifacts/bench-node); else echo "opcua-benchmark: without the npm server, so without ratios" >&2; fi
# Servers are put on the first core, the generator on the second.
pin=(); [ "$(nproc)" -lt 2 ] || pin=(taskset -c 1)
exec "${pin[@]}" artifacts/bin/EdgeGuard.Benchmarks/release/EdgeGuard.Benchmarks run "${node[@]}" "$@"
