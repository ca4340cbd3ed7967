using EdgeGuard.Records.Journal;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>Hears nothing.</summary>
internal sealed class NoObserver : ILinkObserver
{
    public void LinkUp(string link)
    {
    }

    public void LinkDown(string link, string cause)
    {
    }

    public void LinkFault(string link, Exception fault)
    {
    }

    public void DeviceTold(string link, ShellEventId id, string what)
    {
    }
}
