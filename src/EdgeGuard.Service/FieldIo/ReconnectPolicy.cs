using Polly;
using Polly.Retry;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// How a lost link is taken up again: at once the first time, then at exponentially growing distance with jitter up
/// to a cap, without end. Jitter keeps a hundred links from knocking at a restarted gateway in step. Ages need no
/// help meanwhile: the scan computes them from the time of the last good read.
/// </summary>
public sealed class ReconnectPolicy
{
    private readonly ResiliencePipeline _pipeline;

    /// <summary>Builds the pipeline of one link.</summary>
    /// <param name="table">Names first and longest wait.</param>
    /// <param name="time">Time source of the waits; a test passes its own.</param>
    /// <param name="failed">Called with the cause of each failed attempt.</param>
    public ReconnectPolicy(LinkTable table, TimeProvider time, Action<Exception> failed)
    {
        ArgumentNullException.ThrowIfNull(table);
        var builder = new ResiliencePipelineBuilder { Name = table.Name, TimeProvider = time };
        _pipeline = builder.AddRetry(new RetryStrategyOptions
        {
            ShouldHandle = static outcome => ValueTask.FromResult(outcome.Outcome.Exception is not null and not OperationCanceledException),
            MaxRetryAttempts = int.MaxValue,
            BackoffType = DelayBackoffType.Exponential,
            UseJitter = true,
            Delay = TimeSpan.FromMilliseconds(table.ReconnectMinMs),
            MaxDelay = TimeSpan.FromMilliseconds(table.ReconnectMaxMs),
            OnRetry = retry =>
            {
                if (retry.Outcome.Exception is { } cause)
                {
                    failed(cause);
                }

                return ValueTask.CompletedTask;
            },
        }).Build();
    }

    /// <summary>Runs the attempt until it succeeds; throws <see cref="OperationCanceledException"/> when stopped.</summary>
    public void UntilConnected(LinkEngine engine, CancellationToken stop) =>
        _pipeline.Execute(static (e, _) => e.ConnectAndProve(), engine, stop);
}
