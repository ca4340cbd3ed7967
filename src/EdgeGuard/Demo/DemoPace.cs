using System.Diagnostics;

namespace EdgeGuard.Demo;

/// <summary>Slows the rounds down to a multiple of real time; it can never change what happens in them.</summary>
internal sealed class DemoPace(double factor)
{
    private readonly Stopwatch _watch = Stopwatch.StartNew();
    private double _simulatedMs;

    public void Wait(int roundMs)
    {
        if (factor <= 0)
        {
            return;
        }

        _simulatedMs += roundMs;
        double ahead = (_simulatedMs / factor) - _watch.Elapsed.TotalMilliseconds;
        if (ahead >= 1)
        {
            Thread.Sleep((int)ahead);
        }
    }
}
