namespace EdgeGuard.Service.Tests.Probing;

/// <summary>A clock whose readings are given: each round trip takes the next of some times, ms.</summary>
internal sealed class TickingTime(params double[] roundTripsMs) : TimeProvider
{
    private int _readings;
    private long _now;

    public override long TimestampFrequency => 1_000_000;

    public override long GetTimestamp()
    {
        _now += _readings % 2 == 1 ? (long)(roundTripsMs[_readings / 2 % roundTripsMs.Length] * 1_000) : 0;
        _readings++;
        return _now;
    }
}
