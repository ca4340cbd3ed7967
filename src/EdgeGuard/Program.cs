namespace EdgeGuard;

internal static class Program
{
    private static int Main() => 64;
}
