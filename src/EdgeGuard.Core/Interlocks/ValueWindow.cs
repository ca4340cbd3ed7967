namespace EdgeGuard.Core.Interlocks;

/// <summary>The values of the last scans of one signal, to compare the newest with the oldest. A value that is not good empties it.</summary>
internal sealed class ValueWindow(int scans)
{
    private readonly double[] _values = new double[Math.Max(1, scans)];
    private int _next;
    private int _count;

    /// <summary>Takes the value of this scan and returns the one of the window's beginning; NaN until the window is full.</summary>
    public double Exchange(double value)
    {
        if (double.IsNaN(value))
        {
            _count = 0;
            return double.NaN;
        }

        double oldest = _count == _values.Length ? _values[_next] : double.NaN;
        _values[_next] = value;
        _next = _next + 1 == _values.Length ? 0 : _next + 1;
        _count = Math.Min(_count + 1, _values.Length);
        return oldest;
    }
}
