using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Hands the state of one poll block from a link worker to the scan thread without either waiting for the other:
/// three buffers, of which the worker owns one, the scan one, and the third changes hands by a single exchange. A
/// sequence lock would be smaller, but there a worker that is pre-empted while it writes makes the scan spin.
/// </summary>
public sealed class BlockSlot
{
    private const int Fresh = 4;
    private const int IndexMask = 3;

    private readonly BlockReading[] _buffers;
    private readonly BlockReading _latest;
    private int _back;
    private int _front = 1;
    private int _middle = 2;

    /// <summary>Allocates the slot; it reads <see cref="ReadResult.NeverRead"/> until the first publication.</summary>
    public BlockSlot(int wordCount)
    {
        _latest = new BlockReading(wordCount);
        _buffers = [new BlockReading(wordCount), new BlockReading(wordCount), new BlockReading(wordCount)];
    }

    /// <summary>Worker only: publishes a good read.</summary>
    public void PublishGood(ReadOnlySpan<ushort> words, long sentUs)
    {
        words.CopyTo(_latest.Words);
        _latest.Result = ReadResult.Good;
        _latest.ExceptionCode = 0;
        _latest.SentUs = sentUs;
        _latest.ReadCount = unchecked(_latest.ReadCount + 1);
        Publish();
    }

    /// <summary>Worker only: publishes a failure; the words and their time stay those of the latest good read.</summary>
    public void PublishFailure(ReadResult result, byte exceptionCode)
    {
        _latest.Result = result;
        _latest.ExceptionCode = exceptionCode;
        Publish();
    }

    /// <summary>Scan thread only: the newest published state; valid until the next call.</summary>
    public BlockReading Take()
    {
        if ((Volatile.Read(ref _middle) & Fresh) != 0)
        {
            _front = Interlocked.Exchange(ref _middle, _front) & IndexMask;
        }

        return _buffers[_front];
    }

    private void Publish()
    {
        _buffers[_back].CopyFrom(_latest);
        _back = Interlocked.Exchange(ref _middle, _back | Fresh) & IndexMask;
    }
}
