using System.ComponentModel;
using System.Diagnostics;

namespace EdgeGuard.Interop.Tests;

/// <summary>Starts an independent peer. A missing peer is a failure, never a skip: otherwise a bare machine proves nothing and looks green.</summary>
internal static class PeerProcess
{
    private const int LimitMs = 120_000;

    public static Process Start(string file, params string[] arguments)
    {
        ProcessStartInfo start = new(file, arguments)
        {
            RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false,
        };
        try
        {
            return Process.Start(start) ?? throw new InvalidOperationException($"{file} did not start.");
        }
        catch (Win32Exception e)
        {
            throw new InvalidOperationException($"{file} is missing: run tests/tools/install-peers (or install-tshark).", e);
        }
    }

    /// <summary>Runs to the end; returns the exit code and everything written.</summary>
    public static (int ExitCode, string Output) Run(string file, params string[] arguments)
    {
        (int exitCode, string output, string errors) = RunApart(file, arguments);
        return (exitCode, output + errors);
    }

    /// <summary>Runs to the end; returns the exit code, what was written, and what was complained of.</summary>
    public static (int ExitCode, string Output, string Errors) RunApart(string file, params string[] arguments)
    {
        using Process process = Start(file, arguments);
        process.StandardInput.Close();
        Task<string> error = process.StandardError.ReadToEndAsync();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(LimitMs))
        {
            process.Kill();
            throw new TimeoutException($"{file} did not end within {LimitMs} ms.");
        }

        process.WaitForExit();
        return (process.ExitCode, output.GetAwaiter().GetResult(), error.GetAwaiter().GetResult());
    }
}
