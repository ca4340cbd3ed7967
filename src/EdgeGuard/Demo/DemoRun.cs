using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Reports.Html;
using EdgeGuard.Reports.Text;
using EdgeGuard.Service.Configuration;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Demo;

/// <summary>One demo from the first picture to the exit code.</summary>
internal sealed class DemoRun(DemoOptions options, TextWriter output, bool isTerminal, CancellationToken cancelled)
{
    private static readonly TimeSpan CatchUpMost = TimeSpan.FromMinutes(5);

    private readonly DemoStory _story = new(output, isTerminal);
    private readonly DemoHistory _history = new();
    private readonly DemoPace _pace = new(options.Pace);
    private DemoRig? _rig;
    private SiteTable? _site;
    private IReadOnlyList<DemoFault> _faults = [];

    public int Run()
    {
        Directory.CreateDirectory(options.Folder);
        bool observe = options.Mode == UnitMode.Observe;
        DateTimeOffset start = DateTimeOffset.UtcNow - (observe ? ObserveScript.Planned : EnforceScript.Planned);
        using DemoRig rig = DemoRig.Start(options, start);
        _rig = rig;
        _site = SiteLoader.Load(rig.SiteFolder, new SiteLoadOptions { Mode = options.Mode }).Site?.Table ?? throw new DemoException("the demo's own site does not load");
        rig.AfterRound = AfterRound;
        rig.Round();
        ShowPicture();
        string? stopped = Play(observe);
        CatchUp(stopped);
        if (options.Serve && stopped is null)
        {
            Serve();
        }

        return Finish(start, stopped);
    }

    private void AfterRound(GuardRound round)
    {
        cancelled.ThrowIfCancellationRequested();
        _history.Add(_rig!.Seconds, round);
        foreach (GuardEventView e in round.Events)
        {
            _story.Hear(_rig.Seconds, e);
        }

        _story.Live(_rig.Seconds, round);
        _pace.Wait(DemoRig.RoundMs);
    }

    private string? Play(bool observe)
    {
        try
        {
            if (observe)
            {
                new ObserveScript(_rig!, _story).Play();
            }
            else
            {
                var script = new EnforceScript(_rig!, _story);
                _faults = script.Faults;
                script.Play();
            }

            return null;
        }
        catch (Exception e) when (e is DemoException or ChildProcessException or AggregateException)
        {
            return e.Message;
        }
    }

    // The story ends a little before now; the rest is stood by, so that simulated time ends now.
    private void CatchUp(string? stopped)
    {
        for (DateTimeOffset most = _rig!.Now + CatchUpMost; stopped is null && _rig.Now < DateTimeOffset.UtcNow && _rig.Now < most;)
        {
            _rig.Round();
        }
    }

    // Catches up with the clock, then goes on at the clock's pace until the person stops it.
    private void Serve()
    {
        try
        {
            bool told = false;
            while (true)
            {
                _rig!.Round();
                double ahead = (_rig.Now - DateTimeOffset.UtcNow).TotalMilliseconds;
                if (ahead <= 0)
                {
                    continue;
                }

                if (!told)
                {
                    // Only now: a status that is asked for at this word shows the time of the clock.
                    _story.Say("Going on in real time; Ctrl+C (or SIGTERM) ends. In another terminal: edgeguard status --site " + _rig.SiteFolder);
                    told = true;
                }

                Thread.Sleep((int)ahead);
            }
        }
        catch (OperationCanceledException)
        {
            _rig!.AfterRound = null;
        }
    }

    private int Finish(DateTimeOffset start, string? stopped)
    {
        LedgerReport ledger = _rig!.Ledger();
        bool clean = _rig.StopGuard();
        JournalReport journal = JournalVerifier.Verify(new FileJournalStorage(Path.Combine(_rig.SiteFolder, "data", "journal")));
        var tables = new List<(string, IReadOnlyList<KeyFigure>)>();
        tables.AddRange(ledger.Units.Select(u => ($"{u.Unit}: the plant's ledger beside the limits", (IReadOnlyList<KeyFigure>)DemoJudge.Unit(u))));
        if (_faults.Count > 0)
        {
            tables.Add(("faults of the story", DemoJudge.Faults(ledger, _faults)));
        }

        tables.Add(("site", DemoJudge.Site(ledger.Site, journal, clean)));
        if (stopped is not null)
        {
            tables.Add(("story", [new KeyFigure("the story went to its end", "yes", stopped, Verdict.Broken)]));
        }

        var findings = new DemoFindings(tables);
        string report = Path.Combine(options.Folder, "report.html");
        DemoReport.Save(report, _site!, findings, _story, _history, start);
        _story.Say("");
        _story.Say(findings.ToText());
        _story.Say("");
        _story.Say(findings.AllKept ? "Every limit was kept." : "A LIMIT WAS BROKEN.");
        _story.Say($"Report: {report}");
        _story.Say("This software supplements hardwired safety and never replaces it.");
        _story.Say("Next:");
        _story.Say($"  edgeguard journal show {_rig.SiteFolder}");
        _story.Say(options.Mode == UnitMode.Observe
            ? "  edgeguard demo                       (the same fault with the guard in force)"
            : "  edgeguard demo --mode observe        (the same fault with nobody intervening)");
        _story.Say("  edgeguard init my-site               (a site of your own)");
        return findings.AllKept ? ExitCode.Good : ExitCode.Found;
    }

    private void ShowPicture()
    {
        bool colour = isTerminal && Environment.GetEnvironmentVariable("NO_COLOR") is not { Length: > 0 };
        GuardUnitView unit = _rig!.Last.Units[0];
        UnitTable table = _site!.Units[0];
        _story.Say(TextPicture.Draw(
            new PlantView
            {
                Unit = unit.Name,
                Purpose = "nitrogen, 36 kW",
                State = unit.State,
                Tripped = unit.State == "Tripped",
                Permit = unit.Permit,
                KeySupervised = unit.Key,
                Relay = unit.Relay,
                Enable = unit.Enable,
                PowerKw = unit.PowerKw,
                RatedKw = table.RatedPowerKw,
                OutputPercent = unit.OutputPercent,
                SetpointC = table.SetpointC,
                BlowerPercent = unit.BlowerPercent,
                FlowKgPerHour = unit.FlowKgPerHour,
                FlowLimitKgPerHour = table.Flow.LimitKgPerHour,
                InletC = unit.InletC,
                ElementC = unit.ElementC,
                ElementTripC = table.Elem.TripC,
                OutletC = unit.OutletC,
                OutletTripC = table.Outl.TripC,
            },
            colour));
    }
}
