using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The signals that ask for an orderly stop, registered as long as this lives. A terminal that goes away (SIGHUP) is
/// one of them: its default would end the process at once, with power on until the cabinet's watchdog.
/// </summary>
internal sealed class StopSignals : IDisposable
{
    private static readonly PosixSignal[] Signals = [PosixSignal.SIGTERM, PosixSignal.SIGINT, PosixSignal.SIGHUP];

    private readonly PosixSignalRegistration[] _registrations;

    public StopSignals(Action<PosixSignalContext> stop) =>
        _registrations = [.. Signals.Select(s => PosixSignalRegistration.Create(s, stop))];

    public void Dispose()
    {
        foreach (PosixSignalRegistration registration in _registrations)
        {
            registration.Dispose();
        }
    }
}
