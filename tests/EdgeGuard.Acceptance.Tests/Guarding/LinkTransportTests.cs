using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>The guard over the transports that are not Modbus TCP: plant and guard as processes, configured as a site does it.</summary>
public sealed class LinkTransportTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Over_RTU_in_TCP_a_unit_is_started_and_heats()
    {
        using PlantChild plant = PlantChild.Start(_folder, "N-1", "--rtu-over-tcp");
        TestSite site = TestSite.N1(plant.Ports[0]).Quick().Patient().With("\"name\": \"n1\", ", "\"name\": \"n1\", \"transport\": \"rtuTcp\", ");
        using GuardChild guard = GuardChild.Start(_folder, site.Write(_folder.File("site")));
        guard.StartUnit();
        guard.Await("heating", static s => GuardChild.StateOf(s) is "Heating" or "Holding");
        plant.Await("power", static t => t.PowerKw > 1);
        Assert.Equal(ExitCode.Good, guard.Terminate());
    }

    [Fact]
    public void Over_a_serial_line_a_unit_is_started_heats_and_loses_its_power_when_the_line_is_cut()
    {
        string plantEnd = _folder.File("plant-end");
        string guardEnd = _folder.File("guard-end");
        using Process line = Line(plantEnd, guardEnd);
        try
        {
            using PlantChild plant = PlantChild.Start(_folder, "N-1", "--serial", plantEnd, "--baud", "115200");
            string link = string.Create(CultureInfo.InvariantCulture, $"\"name\": \"n1\", \"transport\": \"serial\", \"serialPort\": \"{guardEnd}\", \"baud\": 115200, ");
            TestSite site = TestSite.N1(plant.Ports[0]).Quick()
                .With(string.Create(CultureInfo.InvariantCulture, $"\"name\": \"n1\", \"host\": \"127.0.0.1\", \"port\": {plant.Ports[0]}, "), link)
                .With("\"unitId\": 1, ", "\"unitId\": 1, \"answerDelayMs\": 5, ")
                .With("\"unitId\": 2, ", "\"unitId\": 2, \"answerDelayMs\": 5, ");
            using GuardChild guard = GuardChild.Start(_folder, site.Write(_folder.File("site")));
            guard.StartUnit();
            guard.Await("heating", static s => GuardChild.StateOf(s) is "Heating" or "Holding");
            plant.Await("power", static t => t.PowerKw > 1);
            line.Kill();
            guard.Await("trip", static s => GuardChild.StateOf(s) == "Tripped");
            plant.Await("power off by the watchdog", static t => t.PowerKw == 0);
            guard.Terminate();
        }
        finally
        {
            if (!line.HasExited)
            {
                line.Kill();
            }
        }
    }

    private static Process Line(string first, string second)
    {
        var info = new ProcessStartInfo("socat", [$"pty,raw,echo=0,link={first}", $"pty,raw,echo=0,link={second}"]) { UseShellExecute = false };
        Process line = Process.Start(info) ?? throw new InvalidOperationException("socat could not be started");
        long end = Environment.TickCount64 + 60_000;
        while (!(File.Exists(first) && File.Exists(second)))
        {
            Assert.True(Environment.TickCount64 < end && !line.HasExited, "socat did not make its pair of ports");
            Thread.Sleep(20);
        }

        return line;
    }
}
