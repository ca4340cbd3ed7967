using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Follows the legs of a heater while it fires: blocks of whole firing cycles with enough output and a steady element give
/// the legs, brought back to 20 °C by the factor of their alloy; the mean of a day is one point of the trend of each leg.
/// The first day is what the others are held against. Allocates nothing but a trend for each leg at its first reading.
/// </summary>
public sealed class LegWatch
{
    /// <summary>Legs of a heater.</summary>
    public const int Legs = 3;

    /// <summary>Blocks a day must have to be a reading. Engineering choice.</summary>
    public const int LeastBlocks = 10;

    private const double MsPerDay = 86_400_000;

    private readonly LegTable _table;
    private readonly double _ratedKw;
    private readonly LegTrend?[] _trends = new LegTrend?[Legs];
    private readonly double[] _baseline = new double[Legs];
    private readonly double[] _daySum = new double[Legs];
    private readonly double[] _squares = new double[Legs];
    private double _sumKw;
    private double _sumC;
    private double _firstC;
    private int _count;

    /// <summary>A watch that has seen nothing.</summary>
    /// <param name="table">Settings.</param>
    /// <param name="ratedKw">Rated power, kW.</param>
    public LegWatch(LegTable table, double ratedKw)
    {
        ArgumentNullException.ThrowIfNull(table);
        (_table, _ratedKw) = (table, ratedKw);
    }

    /// <summary>Blocks of the day under way.</summary>
    public int DayBlocks { get; private set; }

    /// <summary>Day under way, days since 1970-01-01; −1 before the first block.</summary>
    public long Day { get; private set; } = -1;

    /// <summary>Thermal cycles at the latest reading.</summary>
    public int CyclesAtReading { get; private set; }

    /// <summary>Trend of a leg; null before its first reading.</summary>
    /// <param name="leg">0 to 2.</param>
    public LegTrend? this[int leg] => _trends[leg];

    /// <summary>What is known of a leg, to be kept.</summary>
    /// <param name="leg">0 to 2.</param>
    public LegFigures Figures(int leg) => new()
    {
        BaselineOhm = _baseline[leg],
        DaySumOhm = _daySum[leg],
        Trend = _trends[leg]?.State ?? new TrendState { LatestPercent = double.NaN },
    };

    /// <summary>Goes on from what an earlier run saw.</summary>
    /// <param name="legs">Figures of the three legs.</param>
    /// <param name="day">Day under way.</param>
    /// <param name="dayBlocks">Blocks of that day.</param>
    /// <param name="cyclesAtReading">Thermal cycles at the latest reading.</param>
    public void Restore(ReadOnlySpan<LegFigures> legs, long day, int dayBlocks, int cyclesAtReading)
    {
        for (int leg = 0; leg < Legs; leg++)
        {
            (_baseline[leg], _daySum[leg], _trends[leg]) = (legs[leg].BaselineOhm, legs[leg].DaySumOhm, null);
            if (legs[leg].BaselineOhm > 0)
            {
                _trends[leg] = new LegTrend(legs[leg].BaselineOhm) { State = legs[leg].Trend };
            }
        }

        (Day, DayBlocks, CyclesAtReading) = (day, dayBlocks, cyclesAtReading);
    }

    /// <summary>Forgets everything, on a person's word: after new elements, or another transformer.</summary>
    public void LearnAnew()
    {
        Array.Clear(_trends);
        Array.Clear(_baseline);
        EndDay(-1);
        _count = 0;
    }

    /// <summary>Takes one scan. A value that is not good is NaN and spoils its block.</summary>
    /// <param name="first">Current of line 1, A.</param>
    /// <param name="second">Current of line 2, A.</param>
    /// <param name="third">Current of line 3, A.</param>
    /// <param name="powerKw">Power, kW.</param>
    /// <param name="elementC">Element, °C.</param>
    /// <param name="utcMs">UTC, ms since 1970-01-01.</param>
    /// <param name="cycles">Thermal cycles so far.</param>
    public void Add(double first, double second, double third, double powerKw, double elementC, long utcMs, int cycles)
    {
        Turn((long)(utcMs / MsPerDay), cycles);
        if (!double.IsFinite(first + second + third + powerKw + elementC))
        {
            _count = 0;
            return;
        }

        if (_count == 0)
        {
            Array.Clear(_squares);
            (_sumKw, _sumC, _firstC) = (0, 0, elementC);
        }

        _squares[0] += first * first;
        _squares[1] += second * second;
        _squares[2] += third * third;
        _sumKw += powerKw;
        _sumC += elementC;
        _count++;
        if (_count == _table.BlockScans)
        {
            EndBlock(elementC);
            _count = 0;
        }
    }

    private void EndBlock(double lastC)
    {
        double kilowatt = _sumKw / _count;
        bool steady = Math.Abs(lastC - _firstC) <= _table.SteadyK;
        if (!steady || kilowatt < _ratedKw * _table.DemandPercent / 100
            || !LegEstimate.TryFromLines(_table.Connection, Rms(0), Rms(1), Rms(2), kilowatt * 1000, out LegResistances legs))
        {
            return;
        }

        double factor = _table.Alloy.FactorAt(_sumC / _count);
        if (!(factor > 0))
        {
            return;
        }

        _daySum[0] += legs.FirstOhm / factor;
        _daySum[1] += legs.SecondOhm / factor;
        _daySum[2] += legs.ThirdOhm / factor;
        DayBlocks++;
    }

    private double Rms(int line) => Math.Sqrt(_squares[line] / _count);

    /// <summary>At the turn of a day the mean of the one before becomes a reading. A clock set back gives none twice: the trend refuses it.</summary>
    private void Turn(long day, int cycles)
    {
        if (day == Day)
        {
            return;
        }

        if (Day >= 0 && DayBlocks >= LeastBlocks)
        {
            for (int leg = 0; leg < Legs; leg++)
            {
                Read(leg, _daySum[leg] / DayBlocks, Math.Max(0, cycles - CyclesAtReading));
            }

            CyclesAtReading = cycles;
        }

        EndDay(day);
    }

    private void Read(int leg, double ohm, int cycles)
    {
        if (_trends[leg] is null)
        {
            _baseline[leg] = ohm;
            _trends[leg] = new LegTrend(ohm); // once in the life of a heater: the only thing that is made after start
        }

        _trends[leg]!.Add(Day, ohm, cycles);
    }

    private void EndDay(long day)
    {
        (Day, DayBlocks) = (day, 0);
        Array.Clear(_daySum);
    }
}
