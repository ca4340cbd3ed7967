using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>The two signals that ask for an orderly stop, registered as long as this lives.</summary>
internal sealed class SignalPair : IDisposable
{
    private readonly PosixSignalRegistration _terminate;
    private readonly PosixSignalRegistration _interrupt;

    public SignalPair(PosixSignalRegistration terminate, PosixSignalRegistration interrupt)
    {
        _terminate = terminate;
        _interrupt = interrupt;
    }

    public void Dispose()
    {
        _terminate.Dispose();
        _interrupt.Dispose();
    }
}
