using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Ledger;

/// <summary>A history made by hand: fields hold until changed, each call of <see cref="Run"/> adds steps of 5 ms.</summary>
internal sealed class History
{
    private const double RatedKw = 36;

    public UnitLedger Ledger { get; } = new("X-1", RatedKw, new LedgerLimits { ElementDestructionC = 1100, ElementTripC = 850, MinimumFlowKgPerHour = 70 });

    public long NowMs { get; private set; }

    public double ElementC { get; set; } = 20;

    public double OutletC { get; set; } = 20;

    public double Flow { get; set; } = 140;

    public double Meter { get; set; } = 140;

    public double PowerKw { get; set; }

    public double Blower { get; set; } = 80;

    public PermitState Permit { get; set; } = PermitState.Permitted;

    public long TokenMs { get; set; }

    /// <summary>Adds steps; the outlet moves by the given rate.</summary>
    public void Run(int milliseconds, double outletKPerMin = 0)
    {
        for (int done = 0; done < milliseconds; done += 5)
        {
            NowMs += 5;
            OutletC += outletKPerMin / 12_000.0;
            Ledger.Observe(new LedgerSample
            {
                TimeMs = NowMs,
                StepMs = 5,
                ElementC = ElementC,
                OutletC = OutletC,
                FlowKgPerHour = Flow,
                MeterKgPerHour = Meter,
                PowerKw = PowerKw,
                BlowerPercent = Blower,
                Permit = Permit,
                TokenChangeMs = TokenMs,
            });
        }
    }
}
