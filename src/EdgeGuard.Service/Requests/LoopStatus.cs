namespace EdgeGuard.Service.Requests;

/// <summary>How well the scan thread keeps its deadlines, and what the process allocates.</summary>
/// <param name="Scans">Scans completed.</param>
/// <param name="LatenessUs">Lateness of the latest scan, µs.</param>
/// <param name="LatenessMaxUs">Greatest lateness since start, µs.</param>
/// <param name="StepMaxUs">Longest scan from begin to end of effects, µs.</param>
/// <param name="Overruns">Scans that began a period late or more.</param>
/// <param name="Skipped">Deadlines given up after a standstill.</param>
/// <param name="ClockSteps">Scans in which UTC had been stepped.</param>
/// <param name="AllocatedBytes">Bytes the process has allocated since start, before this answer was built.</param>
/// <param name="AllocatedLastMinuteBytes">Bytes allocated in the latest full minute; absent before there was one.</param>
/// <param name="Collections">Garbage collections since start.</param>
public sealed record LoopStatus(long Scans, long LatenessUs, long LatenessMaxUs, long StepMaxUs, long Overruns, long Skipped, long ClockSteps, long AllocatedBytes, long? AllocatedLastMinuteBytes, int Collections);
