using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The signals that ask for an orderly stop, registered as long as this lives; their default would end the process at
/// once, for a guard with power on until the cabinet's watchdog. A terminal that goes away (SIGHUP) is one of them.
/// Ctrl+C in a terminal reaches the whole group of processes: a child that its parent ends in order leaves it to that.
/// A shell that is not interactive starts its background processes with the interrupt ignored, and so it stays for them:
/// SIGTERM is the signal that always asks.
/// </summary>
public sealed class StopSignals : IDisposable
{
    private readonly PosixSignalRegistration[] _registrations;

    private StopSignals(PosixSignalRegistration[] registrations) => _registrations = registrations;

    /// <summary>Every signal that asks for a stop is taken as one.</summary>
    /// <param name="stop">Called with the name of the signal, on a thread of the runtime; must not wait.</param>
    public static StopSignals On(Action<string> stop) =>
        new([Register(PosixSignal.SIGTERM, stop), Register(PosixSignal.SIGHUP, stop), Register(PosixSignal.SIGINT, stop)]);

    /// <summary>The same for a child whose parent takes the interrupt and then ends it in order.</summary>
    /// <param name="stop">As in <see cref="On"/>; null leaves SIGTERM and SIGHUP their default, for a child that guards nothing real.</param>
    public static StopSignals LeavingInterruptToParent(Action<string>? stop)
    {
        PosixSignalRegistration interrupt = Register(PosixSignal.SIGINT, static _ => { });
        return new(stop is null ? [interrupt] : [Register(PosixSignal.SIGTERM, stop), Register(PosixSignal.SIGHUP, stop), interrupt]);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (PosixSignalRegistration registration in _registrations)
        {
            registration.Dispose();
        }
    }

    private static PosixSignalRegistration Register(PosixSignal signal, Action<string> stop) => PosixSignalRegistration.Create(signal, context =>
    {
        context.Cancel = true;
        stop(context.Signal.ToString());
    });
}
