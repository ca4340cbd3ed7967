namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Where tests/tools/install-peers puts what it builds and installs, seen from the folder of the test binary.</summary>
internal static class PeerPaths
{
    public const string Python = "/usr/bin/python3";

    private static readonly string Installed = Path.GetFullPath(Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "interop-modbus"));

    public static string LibModbus => Path.Combine(Installed, "libmodbus-peer");

    public static string NodeModules => Path.Combine(Installed, "node_modules");

    public static string Script(string name) => Path.Combine(AppContext.BaseDirectory, "peers", name);
}
