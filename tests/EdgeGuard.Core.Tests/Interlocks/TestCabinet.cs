using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// The cabinet of one unit as registers: settable values in, writes of the guard taken one scan later. No physics:
/// power flows when every path is energised, flow follows the blower; the rest is what the test says.
/// </summary>
public sealed class TestCabinet(int unit, double ratedKw)
{
    private readonly double[] _registers = new double[CommandRoles.Count];
    private uint _reads;
    private int _others;

    public double Element { get; set; } = 60;
    public double Outlet { get; set; } = 40;
    public double Inlet { get; set; } = 40;

    /// <summary>Flow at full blower, kg/h.</summary>
    public double Flow { get; set; } = 140;

    /// <summary>Power while every path is energised, kW.</summary>
    public double Power { get; set; } = 10;

    /// <summary>Power while a path is de-energised, kW.</summary>
    public double Residual { get; set; }

    public bool Key { get; set; } = true;
    public bool Chain { get; set; } = true;
    public double Watchdog { get; set; } = 2000;

    /// <summary>Output of the controller; NaN = in proportion to the power.</summary>
    public double Output { get; set; } = double.NaN;

    /// <summary>Readings of the further sensors, by role; one that is not set follows the first sensor or the power.</summary>
    public Dictionary<SignalRole, double> Further { get; } = [];

    /// <summary>The reset button is pressed.</summary>
    public bool Button { get; set; }

    /// <summary>Outcome of every read; anything but good lets the words grow old.</summary>
    public ReadResult Link { get; set; } = ReadResult.Good;

    /// <summary>Writes are confirmed and have no effect.</summary>
    public bool Stuck { get; set; }

    /// <summary>What became of the latest write.</summary>
    public CommandFeedback Feedback { get; set; } = CommandFeedback.Confirmed;

    public double SlopeElement { get; set; }
    public double SlopeOutlet { get; set; }

    public double this[CommandRole role]
    {
        get => _registers[(int)role];
        set => _registers[(int)role] = value;
    }

    /// <summary>The cabinet's watchdog works; a dead one neither shows alive nor lets power through.</summary>
    public bool WatchdogWorks { get; set; } = true;

    /// <summary>Another client writes this token in each scan after the guard's own write; 0 = nobody.</summary>
    public ushort OtherToken { get; set; }

    /// <summary>The other client writes only in every this many scans.</summary>
    public int OtherEvery { get; set; } = 1;

    public bool Alive => WatchdogWorks && this[CommandRole.Heartbeat] != 0;

    public bool Energised => WatchdogWorks && Chain && this[CommandRole.Relay] == 1 && this[CommandRole.Enable] == 1 && this[CommandRole.Heartbeat] != 0;

    public double PowerNow => Energised ? Power : Residual;

    public double FlowNow => Flow * this[CommandRole.BlowerDemand] / 100;

    /// <summary>Writes the state of the cabinet into the blocks of the unit, as a poll would.</summary>
    public void Poll(RawScan scan, int scanMs)
    {
        Element += SlopeElement * scanMs / 60_000;
        Outlet += SlopeOutlet * scanMs / 60_000;
        int block = unit * TestSite.BlocksPerUnit;
        for (int i = block; i < block + TestSite.BlocksPerUnit; i++)
        {
            ref RawBlock raw = ref scan.Blocks[i];
            raw.Result = Link;
            raw.AgeMs = Link == ReadResult.Good ? 20 : raw.AgeMs > 1_000_000 ? raw.AgeMs : raw.AgeMs + scanMs;
        }

        if (Link == ReadResult.Good)
        {
            _reads = unchecked(_reads + 1);
            FillHolding(ref scan.Blocks[block]);
            FillInput(ref scan.Blocks[block + 1]);
            FillMeter(ref scan.Blocks[block + 2]);
            FillFurther(ref scan.Blocks[block + 3]);
        }

        for (int role = 0; role < CommandRoles.Count; role++)
        {
            scan.Feedback[(unit * CommandRoles.Count) + role] = Feedback;
        }
    }

    /// <summary>Takes the writes of a decision; they show in the next poll.</summary>
    public void Apply(UnitDecision decision)
    {
        for (int role = 0; role < CommandRoles.Count; role++)
        {
            if (decision.Commands[role].Write && !Stuck && Link == ReadResult.Good)
            {
                _registers[role] = decision.Commands[role].Value;
            }
        }

        _others++;
        if (OtherToken != 0 && _others % OtherEvery == 0)
        {
            OtherToken++;
            this[CommandRole.Heartbeat] = OtherToken;
        }
    }

    private static void Real(ushort[] words, int at, double value, WordOrder order)
    {
        if (!WordEncoder.TryEncode(value, WordType.Float32, order, 1, 0, words.AsSpan(at), out _))
        {
            throw new InvalidOperationException($"{value} does not fit the words of a test cabinet.");
        }
    }

    private static ushort Tenths(double percent) => unchecked((ushort)(short)Math.Round(percent * 10));

    private void FillHolding(ref RawBlock block)
    {
        block.ReadCount = _reads;
        block.Words[0] = (ushort)this[CommandRole.Heartbeat];
        block.Words[1] = (ushort)this[CommandRole.Relay];
        block.Words[2] = (ushort)this[CommandRole.Enable];
        block.Words[3] = (ushort)this[CommandRole.ManualMode];
        block.Words[4] = Tenths(this[CommandRole.ManualOutput]);
        Real(block.Words, 5, this[CommandRole.Setpoint], WordOrder.Abcd);
        block.Words[7] = Tenths(this[CommandRole.BlowerDemand]);
        block.Words[8] = (ushort)Watchdog;
    }

    private void FillInput(ref RawBlock block)
    {
        block.ReadCount = _reads;
        Real(block.Words, 0, Element, WordOrder.Abcd);
        Real(block.Words, 2, Outlet, WordOrder.Abcd);
        Real(block.Words, 4, Inlet, WordOrder.Abcd);
        Real(block.Words, 6, PowerNow, WordOrder.Abcd);
        block.Words[8] = Tenths(double.IsNaN(Output) ? Energised ? Power / ratedKw * 100 : 0 : Output);
        Real(block.Words, 9, this[CommandRole.Setpoint], WordOrder.Abcd);
        block.Words[11] = (ushort)((Key ? 1 : 0) | (Chain ? 2 : 0) | (Energised ? 4 : 0) | (Alive ? 8 : 0));
    }

    private void FillFurther(ref RawBlock block)
    {
        block.ReadCount = _reads;
        for (SignalRole role = SignalRole.ElementTemperature2; role <= SignalRole.Insulation; role++)
        {
            Real(block.Words, TestSite.FurtherWord(role), Further.TryGetValue(role, out double value) ? value : Followed(role), WordOrder.Abcd);
        }

        block.Words[22] = (ushort)(Button ? 1 : 0);
        block.Words[23] = Tenths(this[CommandRole.OutputLimit]);
    }

    private double Followed(SignalRole role) => role switch
    {
        SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3 => Element,
        SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3 => Outlet,
        SignalRole.GasFlow2 or SignalRole.GasFlow3 => FlowNow,
        SignalRole.EarthLeakage => 1,
        SignalRole.Insulation => 10_000,
        _ => PowerNow / ratedKw * 52, // 36 kW at 400 V: 52 A a line
    };

    private void FillMeter(ref RawBlock block)
    {
        block.ReadCount = _reads;
        Real(block.Words, 0, FlowNow, WordOrder.Cdab);
        Real(block.Words, 2, Inlet, WordOrder.Cdab);
        block.Words[4] = 0;
    }
}
