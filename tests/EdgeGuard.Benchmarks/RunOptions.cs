using System.Globalization;

namespace EdgeGuard.Benchmarks;

/// <summary>How long and how often.</summary>
internal sealed record RunOptions
{
    /// <summary>Rounds; in each, every server has its turn.</summary>
    public int Rounds { get; init; } = 5;

    /// <summary>Length of one turn, seconds.</summary>
    public double Seconds { get; init; } = 2;

    /// <summary>Folder with the npm server; null leaves it out.</summary>
    public string? NodeFolder { get; init; }

    /// <summary>One part alone: engine, reads, notifications or idle; null for all.</summary>
    public string? Only { get; init; }

    public static RunOptions Parse(string[] args)
    {
        var options = new RunOptions();
        for (int i = 0; i + 1 < args.Length; i += 2)
        {
            string value = args[i + 1];
            options = args[i] switch
            {
                "--rounds" => options with { Rounds = int.Parse(value, CultureInfo.InvariantCulture) },
                "--seconds" => options with { Seconds = double.Parse(value, CultureInfo.InvariantCulture) },
                "--node" => options with { NodeFolder = value },
                "--only" => options with { Only = value },
                _ => throw new ArgumentException($"unknown option {args[i]}", nameof(args)),
            };
        }

        return options;
    }
}
