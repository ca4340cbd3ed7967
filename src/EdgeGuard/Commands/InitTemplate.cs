using System.Text;

namespace EdgeGuard.Commands;

/// <summary>Text of the site file that `init` writes: every decision a site has to take, with what to think of.</summary>
internal static class InitTemplate
{
    private const int FirstPort = 15_020;

    private const string Head = """
        // Site file of EdgeGuard. Comments and trailing commas are allowed; a key that is not known is an error.
        // All keys with meaning, range and default: docs/reference/site-file.md
        //
        // EdgeGuard supplements the hardwired safety of the heater (temperature limiter, flow switch, contactor,
        // emergency stop); it never replaces it. Every figure below is an example: replace it with the one of your plant.
        {
          "site": "my-site",

          // One round of reading, deciding and writing, ms.
          "scanMs": 100,

          // Limit of the shared supply, kW: the newest ramp is held when the sum of all heaters would pass it.
          // "supplyLimitKw": 45,

          // Journal, recordings and the request socket; relative to this folder.
          "dataFolder": "data",

          // OPC UA for other systems, served by a process of its own that the guard starts and keeps running.
          // "0.0.0.0" listens on all networks; clients then need a trusted certificate (docs/reference/opcua-certificates.md).
          // "publication": { "enabled": true, "port": 4840, "bind": "127.0.0.1" },

          // One link per connection. These addresses are those of the virtual cabinets of `edgeguard plant`.
          // answerMs: time limit of one answer. A device that is slower than this is treated as silent.
          // pollLeadMs: values are read this long before each scan. Short is young values; too short for a slow device
          // is values one scan older. `edgeguard check` computes the time that polling takes.
          // A serial line of this machine, or RTU frames through a serial device server, are links too:
          // { "name": "bus", "transport": "serial", "serialPort": "/dev/serial/by-id/NAME", "baud": 19200, "parity": "even" },
          // { "name": "bus", "transport": "rtuTcp", "host": "192.168.1.20", "port": 4001 },
          "links": [

        """;

    private const string Units = """
          ],

          "units": [

        """;

    private const string Unit = """
            {
              "name": "{name}",

              // observe: decides and records, writes nothing, protects nothing. Start here and compare its decisions with
              // the plant for some days. A watchdog contact that is fitted already must be bridged meanwhile; say who did it:
              // "watchdogBridge": { "by": "name of the person", "expires": "2027-01-31" },
              //
              // enforce: also writes. It is refused until the interlocks were proof-tested, so state the record:
              // "proofTest": { "record": "number of the test record", "date": "2026-01-31" },
              // or, for the time of commissioning only, why not and until when:
              // "proofTestWaiver": { "reason": "why", "expires": "2026-12-31" },
              "mode": "observe",

              // By what means power is removed: A trip relay with watchdog, B enable bit with watchdog,
              // C setpoint or output only; C cannot remove power and enforces only beside a named hardwired device.
              "finalElement": "A",

              // Devices of this heater. Their maps say by the column `role` which point means what.
              "controller": "{device}-controller",
              "meter": "{device}-meter",

              // air, N2, Ar, CO2 or O2; needed to turn a volume flow (Nm3/h at 0 degC, Sm3/h at 15 degC) into kg/h.
              "gas": "N2",
              "ratedPowerKw": 36,
              "setpointC": 650,

              // Watchdog time set in the cabinet, ms; it is read back and compared. Where the map has a point with
              // role watchdogAlive (the cabinet's own word on its watchdog), a 0 under a permit trips and latches.
              "watchdogMs": 2000,

              // Minimum flow before power. limit: power is removed below it. proving: to be seen with cold gas before
              // power; higher, since a blower at fixed speed moves less mass as the gas heats (hotToColdFlow).
              "flow": { "limitKgPerHour": 70, "provingKgPerHour": 130, "delayMs": 500, "preFlowMs": 30000, "hotPreFlowMs": 5000, "hotToColdFlow": 0.65 },

              // Element: the maker's limit for this gas and wire. destruction is for comparison only.
              "elem": { "alarmC": 800, "tripC": 850, "delayMs": 0, "destructionC": 1100 },

              // Outlet gas: what the parts downstream stand. The setpoint must lie below the alarm.
              "outl": { "alarmC": 680, "tripC": 720, "delayMs": 500 },

              // Power on, but the element does not get warmer: shorted, reversed or displaced thermocouple.
              "nors": { "powerPercent": 20, "delayMs": 20000, "slopeKPerMin": 3 },

              // Power still measured after it was removed. firingCycleMs: one cycle of the power controller.
              "resd": { "limitPercent": 3, "blankingMs": 1000, "proofMs": 2000, "firingCycleMs": 500 },

              // From the fault to the removal of power: what the reaction time of each function is computed from. Settings that
              // cannot be in time are refused. Wire by mass (or "wireMm" and "surfaceLoadWPerCm2"), lags of sensors and meter.
              // A sheathed element sensor is no cover for dry fire. Computed from entered data, not a validation.
              "reaction": { "massKg": 3.8, "heatCapacityKJPerKgK": 0.68, "elementSensor": "sheathed", "elementLagMs": 3000, "outletLagMs": 5000, "meterDampingMs": 800, "contactorMs": 200, "lostAnswers": 1 },

              // Ramps of the led setpoint, K/min, and the blower. After-cooling runs until the element is below the limit.
              "cool": {
                "rampUpKPerMin": 30,
                "rampDownKPerMin": 30,
                "afterCoolingBelowC": 150,
                "blowerRunPercent": 80,
                "blowerAfterPercent": 40,
              },

              // Longest time without a valid answer before the unit trips; at most the watchdog time.
              "comm": { "limitMs": 1000 },
            },

        """;

    private const string Tail = """
          ],
        }

        """;

    public static string Write(int units)
    {
        var text = new StringBuilder(Head);
        for (int i = 1; i <= units; i++)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"    {{ \"name\": \"h{i}\", \"host\": \"127.0.0.1\", \"port\": {FirstPort + i - 1}, \"connectMs\": 1000, \"answerMs\": 200, \"pollLeadMs\": 25 }},\n");
        }

        text.Append("  ],\n\n  // Devices on the links. unitId is the Modbus unit id; map is a register map in this folder.\n  \"devices\": [\n");
        for (int i = 1; i <= units; i++)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"    {{ \"name\": \"h{i}-controller\", \"link\": \"h{i}\", \"unitId\": 1, \"map\": \"{ExampleFiles.CabinetMap}\" }},\n");
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"    {{ \"name\": \"h{i}-meter\", \"link\": \"h{i}\", \"unitId\": 2, \"map\": \"{ExampleFiles.MeterMap}\" }},\n");
        }

        text.Append(Units);
        for (int i = 1; i <= units; i++)
        {
            text.Append(Unit.Replace("{name}", $"H-{i}", StringComparison.Ordinal).Replace("{device}", $"h{i}", StringComparison.Ordinal));
        }

        return text.Append(Tail).ToString();
    }
}
