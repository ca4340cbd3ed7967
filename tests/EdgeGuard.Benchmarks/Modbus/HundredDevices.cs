using System.Diagnostics;
using System.Globalization;
using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>
/// A hundred devices polled every 100 ms by the link workers of the guard in one process; then ninety of them die, half
/// of those silently, half so that they refuse. Lateness and processor time are told, and the living ten must not
/// notice: none of their polls missing, and not much later than before. A thread that only keeps the same time tells
/// how late the machine itself is.
/// </summary>
internal static class HundredDevices
{
    private const int Count = 100;
    private const int Living = 10;
    private const int ScanMs = 100;
    private const int LeadMs = 50;
    private const int SettleMs = 5_000;
    private const int AllAlive = 1;
    private const int NinetyDead = 2;
    private const int PhaseCount = 3;
    private const double MissedMax = 0.005;
    private const double LaterMaxMs = 20;

    public static int Run(int seconds)
    {
        using Process farm = StartFarm();
        int[] ports = [.. farm.StandardOutput.ReadLine()!.Split(' ').Select(p => int.Parse(p, CultureInfo.InvariantCulture))];
        MonotonicClock clock = new();
        long firstScanUs = clock.NowUs + 1_000_000;
        long firstPollUs = firstScanUs - (LeadMs * 1000L);
        TimedLink[] links = [.. ports.Select(port => new TimedLink(
            new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, port)), clock, firstPollUs, ScanMs * 1000L, PhaseCount))];
        LinkWorker[] workers = [.. links.Select((link, i) => new LinkWorker(new LinkEngine(Table(i), link, clock), clock, new NoObserver(), conducted: false))];
        foreach (LinkWorker worker in workers)
        {
            worker.Start(firstScanUs);
        }

        using MachineLateness machine = new(ScanMs, PhaseCount);
        Console.WriteLine($"{Count} devices, one block of 12 registers each, every {ScanMs} ms, {seconds} s a phase");
        Thread.Sleep(SettleMs);
        double alive = Measure(links, machine, AllAlive, seconds);
        farm.StandardInput.WriteLine($"kill {Count - Living}");
        farm.StandardInput.Flush();
        farm.StandardOutput.ReadLine();
        Thread.Sleep(SettleMs);
        double dead = Measure(links, machine, NinetyDead, seconds);
        foreach (LinkWorker worker in workers)
        {
            worker.Dispose();
        }

        farm.StandardInput.Close();
        farm.WaitForExit();
        return Tell(links, machine, seconds, alive, dead);
    }

    private static LinkTable Table(int index) => new()
    {
        Name = "device " + index.ToString(CultureInfo.InvariantCulture),
        ScanMs = ScanMs,
        PollLeadMs = LeadMs,
        TimeoutMs = ScanMs,
        ConnectTimeoutMs = 1_000,
        Polls = [new PollRequestTable { Block = 0, UnitId = 1, Table = ModbusTable.HoldingRegisters, Address = 0, Count = 12 }],
        Writes = [],
    };

    /// <summary>One phase; returns the processor time of this process, in per cent of one core.</summary>
    private static double Measure(TimedLink[] links, MachineLateness machine, int phase, int seconds)
    {
        SetPhase(links, machine, phase);
        TimeSpan before = Environment.CpuUsage.TotalTime;
        long begun = Stopwatch.GetTimestamp();
        Thread.Sleep(seconds * 1000);
        double per = (Environment.CpuUsage.TotalTime - before) / Stopwatch.GetElapsedTime(begun);
        SetPhase(links, machine, 0);
        return 100 * per;
    }

    private static void SetPhase(TimedLink[] links, MachineLateness machine, int phase)
    {
        machine.Phase = phase;
        foreach (TimedLink link in links)
        {
            link.Phase = phase;
        }
    }

    private static int Tell(TimedLink[] links, MachineLateness machine, int seconds, double aliveCpu, double deadCpu)
    {
        Console.WriteLine("lateness of the polls, ms               p50     p99   p99.9     max   polls");
        Row("machine, all alive", machine.Late[AllAlive]);
        Row("all hundred, all alive", Sum(links, AllAlive));
        LatenessCount before = Sum(links[..Living], AllAlive);
        LatenessCount after = Sum(links[..Living], NinetyDead);
        Row("the ten, all alive", before);
        Row("machine, ninety dead", machine.Late[NinetyDead]);
        Row("the ten, ninety dead", after);

        long expected = (long)seconds * 1000 / ScanMs * Living;
        long answered = links[..Living].Sum(l => l.Answered[NinetyDead]);
        double missed = Math.Max(0, 1 - ((double)answered / expected));
        double machineLater = Math.Max(0, machine.Late[NinetyDead].PerMilleMs(999) - machine.Late[AllAlive].PerMilleMs(999));
        double later = after.PerMilleMs(999) - before.PerMilleMs(999);
        bool isPassed = missed <= MissedMax && later <= LaterMaxMs + machineLater;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"modbus-hundred: p99.9 of {Count} devices {Sum(links, AllAlive).PerMilleMs(999):F1} ms, processor {aliveCpu:F1} % of a core; with {Count - Living} dead: p99.9 of the living {after.PerMilleMs(999):F1} ms (before {before.PerMilleMs(999):F1}), {answered} of {expected} polls answered, processor {deadCpu:F1} %: {(isPassed ? "PASSED" : "FAILED")}"));
        return isPassed ? 0 : 1;
    }

    private static void Row(string name, LatenessCount late) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"{name,-35} {late.PerMilleMs(500),7:F1} {late.PerMilleMs(990),7:F1} {late.PerMilleMs(999),7:F1} {late.PerMilleMs(1000),7:F1} {late.Total,7}"));

    private static LatenessCount Sum(TimedLink[] links, int phase)
    {
        LatenessCount sum = new();
        foreach (TimedLink link in links)
        {
            sum.Add(link.Late[phase]);
        }

        return sum;
    }

    private static Process StartFarm() => Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["modbus-devices", Count.ToString(CultureInfo.InvariantCulture)])
    {
        UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true,
    }) ?? throw new InvalidOperationException("the devices could not be started");
}
