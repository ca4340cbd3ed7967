using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>The sequence lock: no torn value under a writer at full speed, nothing allocated on either side.</summary>
public sealed class ValueSlotTests
{
    private const int MeetingsMin = 1_000;

    [Fact]
    public void A_reader_never_sees_parts_of_two_writes()
    {
        VariableNode variable = New();
        string[] texts = [.. Enumerable.Range(0, 64).Select(i => "text " + i)];
        variable.Set(Entry(0, texts));
        using var stop = new CancellationTokenSource();
        var writer = new Thread(() =>
        {
            for (long n = 1; !stop.IsCancellationRequested; n++)
            {
                variable.Set(Entry(n, texts));
            }
        });
        writer.Start();
        long last = 0;
        long reads = 0;
        string? fault = null;
        long start = Environment.TickCount64;

        // A second of meetings, and on a busy machine as much longer as both threads need to come to some.
        // Nothing but the read and the comparison in the loop, or the two threads hardly ever meet.
        for (; fault is null && GoesOn(Environment.TickCount64 - start, Math.Min(reads, last)); reads++)
        {
            long version = variable.Sample(out DataValue value);
            long n = value.SourceTimestamp.Ticks - 1;
            fault = version - 1 != n || n < last || value != Entry(n, texts) ? $"version {version} after {last}: {value}" : null;
            last = n;
        }

        stop.Cancel();
        writer.Join();
        Assert.Null(fault);
        Assert.True(reads > MeetingsMin && last > MeetingsMin, $"{reads} reads, {last} writes: nothing was tested");
    }

    private static bool GoesOn(long elapsedMs, long meetings) => elapsedMs < 1_000 || (meetings <= MeetingsMin && elapsedMs < 60_000);

    [Fact]
    public void Writing_and_sampling_a_number_allocates_nothing()
    {
        VariableNode variable = New();
        Turn(variable, 1_000);
        double sum = 0;

        // A collection that another test brings about counts the rest of this thread's piece of heap: not each time.
        long allocated = long.MaxValue;
        for (int i = 0; i < 10 && allocated != 0; i++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            sum = Turn(variable, 100_000);
            allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(0, allocated);
        Assert.Equal(100_000.0 * 99_999 / 2, sum);
    }

    [Fact]
    public void The_version_moves_with_every_write_and_only_then()
    {
        VariableNode variable = New();
        Assert.Equal(0, variable.Version);
        variable.Set(new Variant(1.0));
        Assert.Equal(1, variable.Version);
        Assert.Equal(1, variable.Sample(out _));
        Assert.Equal(1, variable.Version);
    }

    private static VariableNode New() => new(new NodeId(2, "x"), new QualifiedName(2, "x"), new LocalizedText("x")) { DataType = new NodeId(StandardIds.Double) };

    // Value, status and both times follow from one number, texts and numbers by turns.
    private static DataValue Entry(long n, string[] texts) => new(
        n % 2 == 0 ? new Variant((double)n) : new Variant(texts[n % texts.Length]),
        (StatusCode)(uint)(n % 1_000_000),
        new UaDateTime(n + 1),
        new UaDateTime(n + 2));

    private static double Turn(VariableNode variable, int times)
    {
        double sum = 0;
        for (int i = 0; i < times; i++)
        {
            variable.Set(new DataValue(new Variant((double)i), StatusCode.Good, new UaDateTime(i + 1)));
            variable.Sample(out DataValue value);
            sum += value.Value.AsDouble;
        }

        return sum;
    }
}
