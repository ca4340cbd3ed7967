using System.Diagnostics;
using EdgeGuard.VirtualPlant.Physics;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>
/// Advances the plant by the monotonic clock on a thread of its own, in whole steps of 5 ms. After a pause of the
/// machine it catches up, so that plant time never runs slower than the guard's.
/// </summary>
public sealed class RealTimeLoop : IDisposable
{
    private const int CatchUpMs = 1000;

    private readonly Plant _plant;

    private readonly Thread _thread;

    private volatile bool _stopping;

    /// <summary>Starts the thread.</summary>
    public RealTimeLoop(Plant plant)
    {
        _plant = plant;
        _thread = new Thread(Run) { IsBackground = true, Name = "plant" };
        _thread.Start();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _stopping = true;
        _thread.Join();
    }

    private void Run()
    {
        long startMs = _plant.NowMs;
        var clock = Stopwatch.StartNew();
        while (!_stopping)
        {
            long behindMs = startMs + clock.ElapsedMilliseconds - _plant.NowMs;
            if (behindMs < HeaterModel.StepMaxMs)
            {
                Thread.Sleep((int)(HeaterModel.StepMaxMs - behindMs));
                continue;
            }

            behindMs -= behindMs % HeaterModel.StepMaxMs;
            _plant.Advance((int)Math.Min(behindMs, CatchUpMs));
        }
    }
}
