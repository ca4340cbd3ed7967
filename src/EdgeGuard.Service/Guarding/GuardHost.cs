using System.Net.Sockets;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Guarding.Keeping;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// One run of the guard process, from lock to exit. Start: lock, journal (its first entries say how the run before
/// ended, then version and settings digest), links, scans; every unit begins tripped, so that a restart never
/// energises. Stop: entry, removal by a stop request to every unit with the blower left as after-cooling wants it,
/// confirmed writes within a bound, clean-stop entry. A broken scan loop: removal offered to all, entry, and an end
/// without clean stop, so that the next run says so.
/// </summary>
public static class GuardHost
{
    /// <summary>Name of the journal's folder in the data folder.</summary>
    public const string JournalFolder = "journal";

    /// <summary>Name of the ring's folder in the data folder, where the site names no other.</summary>
    public const string RingFolder = "ring";

    /// <summary>Name of the ring in its folder.</summary>
    public const string RingFile = "scans.ring";

    /// <summary>Name of the raw recording's folder in the data folder.</summary>
    public const string TailFolder = "tail";

    /// <summary>Where the ring is, for the guard and for whoever reads it.</summary>
    public static string RingPath(string dataFolder, string? ringFolder) =>
        Path.Combine(ringFolder ?? Path.Combine(dataFolder, RingFolder), RingFile);

    /// <summary>Name of the folder of counters and learnt figures in the data folder.</summary>
    public const string KeptFolder = "kept";

    private const int FinalWriteLimitMs = 2_000;
    private const int JournalLimitMs = 5_000;

    /// <summary>Runs the guard until it is stopped. Blocks; says in the log what happens.</summary>
    public static GuardEnd Run(GuardPlan plan, GuardOptions options)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(options);
        if (!TryPrepare(plan, options, out GuardEnd end, out DataFolderLock? folderLock, out GuardParts? parts))
        {
            return end;
        }

        using (folderLock)
        using (parts)
        {
            try
            {
                return RunParts(plan, options, parts!);
            }
            finally
            {
                LockedMemory.Release(); // before the ring is closed: a mapping that is locked cannot be
            }
        }
    }

    private static bool TryPrepare(GuardPlan plan, GuardOptions options, out GuardEnd end, out DataFolderLock? folderLock, out GuardParts? parts)
    {
        end = GuardEnd.Unavailable;
        folderLock = null;
        parts = null;
        try
        {
            if (options.Conductor is not null && plan.Links.FirstOrDefault(static l => !LinkBuilder.IsLocal(l)) is { } far)
            {
                options.Log.Error("conducted: link {Link} leads to {Host}; expected an address of this machine, since simulated time guards nothing real; try without --conducted", far.Table.Name, far.Options?.Place ?? far.Host);
                return false;
            }

            Directory.CreateDirectory(plan.DataFolder);
            folderLock = DataFolderLock.TryTake(plan.DataFolder);
            if (folderLock is null)
            {
                end = GuardEnd.AlreadyRunning;
                options.Log.Error("{Folder}: another guard is running on this data folder; stop it first, or give this site a data folder of its own", plan.DataFolder);
                return false;
            }

            parts = new GuardParts(plan, options);
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or SocketException or ArgumentException)
        {
            string advice = e is UnauthorizedAccessException ? $"; look at the owner and the rights of {plan.DataFolder}, or run it as the user they are meant for" : string.Empty;
            options.Log.Error("the guard cannot start, nothing was written to any device: {Cause}{Advice}", e.Message.TrimEnd('.'), advice);
            folderLock?.Dispose();
            return false;
        }
    }

    private static GuardEnd RunParts(GuardPlan plan, GuardOptions options, GuardParts parts)
    {
        var journalWatch = new JournalWatch(options.Log, Path.Combine(plan.DataFolder, JournalFolder), plan.Site.JournalFailureMs);
        StartJournal(plan, parts, journalWatch);
        parts.StartRequests();
        parts.Copies.Tail.Start();
        if (options.Conductor is null)
        {
            parts.Keeping.Start();
        }

        var thread = new Thread(() => Scan(options, parts)) { IsBackground = true, Name = "scan", Priority = ThreadPriority.Highest };
        using var notifier = new SystemdNotifier(Environment.GetEnvironmentVariable("NOTIFY_SOCKET"));
        var supervisor = new Supervisor(parts.Loop.Statistics, parts.JournalPort, parts.Copies.Tail, parts.Allocations, notifier, new LinkCertificateWatch(plan, parts.Field.Workers, parts.JournalPort.CertificateEnds), journalWatch);
        using PublisherKeeper? keeper = options.Publisher is { } launch && options.Conductor is null ? new PublisherKeeper(launch, parts.Loop.Statistics, parts.JournalPort.Post, options.Log) : null;
        using StopSignals signals = options.Conductor is null ? StopOnSignal(parts, keeper) : StopSignals.LeavingInterruptToParent(stop: null);
        // What the start left behind is collected now rather than in the middle of a scan.
        GC.Collect();
        if (options.Conductor is null)
        {
            LockMemory(options);
        }

        parts.Field.Start(parts.FirstScanUs);
        thread.Start();
        options.Log.Information("guarding {Site}: {Units}, {Links}, scan {Scan} ms", plan.Site.Name, Counted.Of(plan.Site.Units.Count, "unit"), Counted.Of(plan.Links.Count, "link"), plan.Site.ScanMs);
        keeper?.Start();
        supervisor.Watch(thread);
        return End(plan, options, parts, keeper);
    }

    private static void LockMemory(GuardOptions options)
    {
        if (LockedMemory.Claim())
        {
            options.Log.Information("the memory of the guard is locked: it cannot be paged out");
        }
        else
        {
            options.Log.Information("the memory of the guard is not locked here: a machine short of memory can make scans late (deploy/README.md tells how to allow it)");
        }
    }

    // Simulated time is late for nobody: there the thread stays an ordinary one.
    private static void Scan(GuardOptions options, GuardParts parts)
    {
        if (options.Conductor is null)
        {
            options.Log.Information("the scan thread {Priority}", ScanPriority.Claim() switch
            {
                ScanPriorityKind.RealTime => "runs in real time (SCHED_FIFO, priority 1)",
                ScanPriorityKind.ShortSlice => "may not run in real time here; it asks for the shortest time slice instead (deploy/README.md tells how to allow real time)",
                _ => "runs like any other: other processes can make scans late",
            });
        }

        parts.Loop.Run();
    }

    private static void StartJournal(GuardPlan plan, GuardParts parts, JournalWatch journalWatch)
    {
        parts.Journal.Start();
        parts.JournalPort.Post(ShellEventId.ConfigurationDigest, plan.SettingsDigest);
        foreach (string statement in plan.Statements)
        {
            parts.JournalPort.Post(ShellEventId.ProtectionStatement, statement);
        }

        foreach (KeptLine line in parts.Kept.Lines)
        {
            parts.JournalPort.Post(line.Id, line.Unit, line.Text);
        }

        foreach (string alarm in parts.HiddenBefore)
        {
            parts.JournalPort.Post(ShellEventId.HiddenAlarmReturned, alarm);
        }

        // A journal that cannot be opened must not keep the guard from guarding: it permits nothing and removes all.
        if (!parts.Journal.DrainAndWait(TimeSpan.FromMilliseconds(JournalLimitMs)))
        {
            journalWatch.Look(parts.Journal.Health, parts.Journal.Failure, Environment.TickCount64);
        }
    }

    private static GuardEnd End(GuardPlan plan, GuardOptions options, GuardParts parts, PublisherKeeper? keeper)
    {
        keeper?.BeginStop();
        parts.StopRequests();
        if (parts.Loop.Broken is { } fault)
        {
            options.Log.Fatal(fault, "the scan loop broke; removal was offered to every enforced unit");
            parts.JournalPort.Post(ShellEventId.ScanLoopBroken, fault.Message);
            WaitForFinalWrites(plan, parts);
            parts.Keeping.SaveLast();
            keeper?.Dispose();
            parts.DrainJournal();
            return GuardEnd.Broken;
        }

        bool confirmed = parts.Loop.StoppedConfirmed;
        if (!confirmed)
        {
            options.Log.Warning("not every cabinet confirmed the removal in time; its watchdog removes the power");
            parts.JournalPort.Post(ShellEventId.StopUnconfirmed, "not every cabinet confirmed the removal in time; its watchdog removes the power");
        }

        parts.Field.Stop(FinalWriteLimitMs);
        parts.Keeping.SaveLast();
        keeper?.Dispose();
        bool clean = parts.Journal.StopClean(TimeSpan.FromMilliseconds(JournalLimitMs));
        options.Log.Information(clean ? "stopped" : "stopped, but the clean stop could not be journalled");
        return confirmed ? GuardEnd.Stopped : GuardEnd.StoppedUnconfirmed;
    }

    private static void WaitForFinalWrites(GuardPlan plan, GuardParts parts)
    {
        long deadline = Environment.TickCount64 + FinalWriteLimitMs;
        for (int unit = 0; unit < plan.Site.Units.Count; unit++)
        {
            while (!parts.Field.IsQuiet(unit) && Environment.TickCount64 < deadline)
            {
                Thread.Sleep(5);
            }
        }
    }

    private static StopSignals StopOnSignal(GuardParts parts, PublisherKeeper? keeper) => StopSignals.On(signal =>
    {
        parts.JournalPort.Post(ShellEventId.StopAsked, "signal " + signal);
        parts.Loop.AskStop();
        keeper?.BeginStop();
    });
}
