namespace EdgeGuard.Service.Configuration;

/// <summary>Finds the word that was probably meant: edit distance with transposition of neighbours.</summary>
internal static class NearMiss
{
    private const int LongestWord = 64;

    /// <summary>The closest candidate within a third of the word's length (2 at least, 1 for words of up to 3); null if none is close.</summary>
    public static string? Find(string word, IEnumerable<string> candidates)
    {
        if (word.Length is 0 or > LongestWord)
        {
            return null;
        }

        int limit = word.Length <= 3 ? 1 : Math.Max(2, word.Length / 3);
        string? best = null;
        int bestDistance = int.MaxValue;
        foreach (string candidate in candidates)
        {
            int distance = Distance(word.ToUpperInvariant(), candidate.ToUpperInvariant());
            if (distance < bestDistance && distance <= limit && distance < candidate.Length)
            {
                best = candidate;
                bestDistance = distance;
            }
        }

        return best;
    }

    /// <summary>Advice in the form of the fault messages: the near miss in quotes, or the given sentence.</summary>
    public static string Advice(string word, IEnumerable<string> candidates, string otherwise) =>
        Find(word, candidates) is { } near ? $"\"{near}\"" : otherwise;

    private static int Distance(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
        {
            d[i, 0] = i;
        }

        for (int j = 0; j <= b.Length; j++)
        {
            d[0, j] = j;
        }

        for (int i = 1; i <= a.Length; i++)
        {
            for (int j = 1; j <= b.Length; j++)
            {
                int cost = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
                }
            }
        }

        return d[a.Length, b.Length];
    }
}
