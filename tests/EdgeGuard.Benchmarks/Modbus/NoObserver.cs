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

    public void SettingsCompared(string link, bool differ, string what)
    {
    }

    public void FunctionReplaced(string link, string what)
    {
    }

    public void PollFails(string link, string what)
    {
    }
}
