namespace EdgeGuard.Benchmarks;

/// <summary>All turns of one server under one load.</summary>
/// <param name="server">Process that is measured.</param>
/// <param name="load">Its load.</param>
/// <param name="own">Whether it is our server, which tells what it allocates.</param>
internal sealed class ReadTurns(ServerProcess server, ReadLoad load, bool own) : IDisposable
{
    private readonly List<double> _rates = [];
    private readonly List<double> _cpuMicroseconds = [];
    private readonly List<double> _allocatedBytes = [];

    public IReadOnlyList<double> Rates => _rates;

    /// <summary>Processor time of the server for one read, microseconds.</summary>
    public double CpuMicroseconds => Median.Of(_cpuMicroseconds);

    public IReadOnlyList<double> Cpu => _cpuMicroseconds;

    /// <summary>Bytes allocated by the server for one read.</summary>
    public double AllocatedBytes => _allocatedBytes.Count == 0 ? double.NaN : _allocatedBytes.Min();

    public double Rate => Median.Of(_rates);

    public void WarmUp(double seconds, int onTheirWay) => load.Run(seconds, onTheirWay);

    public void Turn(double seconds, int onTheirWay)
    {
        TimeSpan cpuBefore = server.Cpu;
        long allocatedBefore = own ? server.AllocatedBytes() : 0;
        (long reads, double took) = load.Run(seconds, onTheirWay);
        _rates.Add(reads / took);
        _cpuMicroseconds.Add((server.Cpu - cpuBefore).TotalMicroseconds / reads);
        if (own)
        {
            _allocatedBytes.Add((server.AllocatedBytes() - allocatedBefore) / (double)reads);
        }
    }

    public void Dispose() => load.Dispose();
}
