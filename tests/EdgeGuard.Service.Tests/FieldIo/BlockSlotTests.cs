using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

public sealed class BlockSlotTests
{
    [Fact]
    public void A_slot_that_was_never_published_reads_never_read()
    {
        Assert.Equal(ReadResult.NeverRead, new BlockSlot(3).Take().Result);
    }

    [Fact]
    public void A_failure_keeps_words_and_count_of_the_latest_good_read()
    {
        var slot = new BlockSlot(2);
        slot.PublishGood([7, 8], sentUs: 5);
        slot.PublishFailure(ReadResult.DeviceException, exceptionCode: 4);
        BlockReading reading = slot.Take();
        Assert.Equal(ReadResult.DeviceException, reading.Result);
        Assert.Equal(4, reading.ExceptionCode);
        Assert.Equal([7, 8], reading.Words);
        Assert.Equal(1u, reading.ReadCount);
        Assert.Equal(5, reading.SentUs);
    }

    [Fact]
    public void A_reader_beside_a_writer_never_sees_a_torn_or_an_older_state()
    {
        var slot = new BlockSlot(32);
        bool stop = false;
        var writer = new Thread(() =>
        {
            var words = new ushort[32];
            for (ushort n = 1; !Volatile.Read(ref stop); n = unchecked((ushort)(n + 1)))
            {
                words.AsSpan().Fill(n);
                slot.PublishGood(words, n);
            }
        });
        writer.Start();
        uint last = 0;
        for (int i = 0; i < 200_000; i++)
        {
            BlockReading reading = slot.Take();
            Assert.True(reading.ReadCount >= last);
            last = reading.ReadCount;
            Assert.True(reading.Words.AsSpan().IndexOfAnyExcept(reading.Words[0]) < 0);
            Assert.Equal(reading.Words[0], reading.SentUs);
        }

        Volatile.Write(ref stop, true);
        writer.Join();
        Assert.True(last > 0);
    }
}
