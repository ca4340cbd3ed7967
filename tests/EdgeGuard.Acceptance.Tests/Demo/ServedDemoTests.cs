using EdgeGuard.Acceptance.Tests.Guarding;

namespace EdgeGuard.Acceptance.Tests.Demo;

/// <summary>The demo that goes on, and what it leaves alone.</summary>
public sealed class ServedDemoTests
{
    private const int PatienceMs = 120_000;

    [Fact]
    public void Served_on_it_answers_in_real_time_and_SIGTERM_still_ends_in_a_verdict()
    {
        using var demo = new ServedDemo();
        demo.WaitUntilServing();

        Assert.Contains("permit no  mode Enforce", demo.Status(), StringComparison.Ordinal);

        // A busy machine may hold it up: it catches up with the clock, and never runs ahead of it.
        Assert.True(SpinWait.SpinUntil(() => IsNow(demo), PatienceMs), "it did not keep up with the clock");

        demo.Terminate();
        Assert.Equal(0, demo.WaitForExit());
        Assert.Contains("Every limit was kept.", demo.Rest(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_in_use_is_refused_and_left_alone()
    {
        string folder = Directory.CreateTempSubdirectory("edgeguard-demo-test").FullName;
        string file = Path.Combine(folder, "mine.txt");
        File.WriteAllText(file, "mine");

        using var process = System.Diagnostics.Process.Start(new System.Diagnostics.ProcessStartInfo(GuardRig.Program[0], ["demo", "--out", folder]) { RedirectStandardError = true, UseShellExecute = false })!;
        string error = process.StandardError.ReadToEnd();
        process.WaitForExit();

        Assert.Equal(64, process.ExitCode);
        Assert.Contains("is not empty", error, StringComparison.Ordinal);
        Assert.Equal([file], Directory.GetFileSystemEntries(folder));
    }

    // Its last scan lies between the moments before and after it was asked, some seconds early where the machine is busy.
    private static bool IsNow(ServedDemo demo)
    {
        DateTimeOffset before = DateTimeOffset.UtcNow;
        DateTimeOffset scan = demo.LastScan();
        Assert.True(scan <= DateTimeOffset.UtcNow.AddSeconds(1), "it runs ahead of the clock");
        return scan >= before.AddSeconds(-10);
    }
}
