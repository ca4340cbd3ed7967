namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Slope of a temperature over a fixed window, by least squares. The sum is formed anew from the stored samples,
/// oldest first, each time it is asked for: running sums would drift over months and would make the result depend
/// on history outside the window, so a replay started in the middle would not agree bit for bit.
/// </summary>
/// <remarks>
/// Equal spacing is assumed, so a gap must be answered by <see cref="Clear"/>. A value that is not finite clears
/// the window by itself. For N equally spaced samples the estimate is
/// 12 / (N (N² − 1) Δt) · Σ (i − (N − 1)/2) yᵢ, textbook least squares.
/// </remarks>
public sealed class SlopeEstimator
{
    private readonly double[] _window;
    private readonly double _periodSeconds;
    private readonly int _decimation;
    private int _next;
    private int _count;
    private double _groupSum;
    private int _groupCount;
    private double _kPerMinute;
    private bool _fresh;

    /// <summary>Allocates the window.</summary>
    /// <param name="samples">Samples in the window, at least 2.</param>
    /// <param name="samplePeriodSeconds">Time between two calls of <see cref="Add"/>, s, above 0.</param>
    /// <param name="decimation">
    /// This many consecutive samples are averaged into one stored point, at least 1. The window then holds
    /// samples ÷ decimation points (at least 2), which costs next to no accuracy and saves time in long windows.
    /// </param>
    public SlopeEstimator(int samples, double samplePeriodSeconds, int decimation = 1)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(decimation, 1);
        if (!(samplePeriodSeconds > 0) || !double.IsFinite(samplePeriodSeconds))
        {
            throw new ArgumentOutOfRangeException(nameof(samplePeriodSeconds), "The sample period must be above 0 s.");
        }

        _window = new double[Math.Max(2, samples / decimation)];
        _decimation = decimation;
        _periodSeconds = samplePeriodSeconds * decimation;
    }

    /// <summary>True when the whole window is filled; before that a slope is too noisy to judge.</summary>
    public bool IsFull => _count == _window.Length;

    /// <summary>Slope of the stored points, K/min; 0 with fewer than two of them.</summary>
    public double KPerMinute
    {
        get
        {
            if (!_fresh)
            {
                _kPerMinute = Compute();
                _fresh = true;
            }

            return _kPerMinute;
        }
    }

    /// <summary>
    /// Standard deviation of the slope for independent noise on each sample:
    /// σ_b = (σ / Δt) √(12 / (N (N² − 1))), exact for least squares.
    /// </summary>
    /// <param name="sigmaK">Standard deviation of one sample, K.</param>
    /// <param name="samples">Samples in the window, at least 2.</param>
    /// <param name="samplePeriodSeconds">Time between two samples, s.</param>
    /// <returns>Standard deviation of the slope, K/min.</returns>
    public static double NoiseKPerMinute(double sigmaK, int samples, double samplePeriodSeconds)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 2);
        return 60 * sigmaK / samplePeriodSeconds * Math.Sqrt(12 / SumOfCubes(samples));
    }

    /// <summary>Adds the sample of one scan. A value that is not finite clears the window.</summary>
    /// <param name="celsius">Temperature, °C.</param>
    public void Add(double celsius)
    {
        if (!double.IsFinite(celsius))
        {
            Clear();
            return;
        }

        _groupSum += celsius;
        _groupCount++;
        if (_groupCount == _decimation)
        {
            Store(_groupSum / _decimation);
            _groupSum = 0;
            _groupCount = 0;
        }
    }

    /// <summary>Empties the window: after a gap, a restart, a change of sensor.</summary>
    public void Clear()
    {
        _next = 0;
        _count = 0;
        _groupSum = 0;
        _groupCount = 0;
        _fresh = false;
    }

    private static double SumOfCubes(int n) => (double)n * (((double)n * n) - 1);

    private void Store(double value)
    {
        _window[_next] = value;
        _next = _next + 1 == _window.Length ? 0 : _next + 1;
        _count = Math.Min(_count + 1, _window.Length);
        _fresh = false;
    }

    private double Compute()
    {
        if (_count < 2)
        {
            return 0;
        }

        // Differences against the oldest sample keep a small slope on a high temperature free of cancellation.
        int at = _count == _window.Length ? _next : 0;
        double oldest = _window[at];
        double middle = (_count - 1) / 2.0;
        double sum = 0;
        for (int i = 0; i < _count; i++)
        {
            sum += (i - middle) * (_window[at] - oldest);
            at = at + 1 == _window.Length ? 0 : at + 1;
        }

        return 60 * 12 * sum / (SumOfCubes(_count) * _periodSeconds);
    }
}
